// The writer of SVG: SVG 1.1 (W3C 2011) and XML 1.0 for form, WCAG 2.2 for contrast.
#include "drawings/svg.hpp"

#include "tests/drawings/svg_reading.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <gmock/gmock.h>
#include <map>
#include <vector>

namespace batten::svg {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

TEST(Svg, IsWellFormedWhateverTheWords) {
  Drawing out(800, 400, "a < b & \"c\" > d\x01\x7f", "é ′ – <script>");
  out.open("g & h");
  out.text({1, 2}, "<&>\"", "small");
  out.open_clipped("clip", {0, 0}, 10, 10);
  const Point line[] = {{0, 0}, {1.005, -2}};
  out.polyline(line, "ink");
  out.polygon(line, "ink");
  out.close();
  out.arrow({0, 0}, {10, 0}, "ink");
  out.upright_text({3, 4}, "upright", "m");
  out.circle({1, 1}, 2, "dot");
  out.close();
  const std::string svg = out.finish();
  std::string root;
  EXPECT_EQ(batten::testing::broken(svg, root), "");
  EXPECT_EQ(root, "svg");
  EXPECT_THAT(svg, Not(HasSubstr("<script>")));
  EXPECT_THAT(svg, HasSubstr("a &lt; b &amp; &quot;c&quot; &gt; d<"));
}

TEST(Svg, HasATitleADescriptionAndANaturalSize) {
  const std::string svg = Drawing(800, 400.5, "the title", "the description").finish();
  EXPECT_THAT(svg, HasSubstr("<title id=\"title\">the title</title>"));
  EXPECT_THAT(svg, HasSubstr("<desc id=\"desc\">the description</desc>"));
  EXPECT_THAT(svg, HasSubstr("role=\"img\" aria-labelledby=\"title desc\""));
  EXPECT_THAT(svg, HasSubstr("viewBox=\"0 0 800 400.5\" width=\"800\" height=\"400.5\""));
}

TEST(Svg, NumbersAreShortAndNeverNegativeZero) {
  EXPECT_EQ(number(1), "1");
  EXPECT_EQ(number(1.5), "1.5");
  EXPECT_EQ(number(-0.001), "0");
  EXPECT_EQ(number(1234.567), "1234.57");
}

// Relative luminance and contrast by WCAG 2.2.
double luminance(const std::string& hex) {
  const auto part = [&](std::size_t at) {
    const double c = std::stoi(hex.substr(at, 2), nullptr, 16) / 255.0;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
}
double contrast(const std::string& a, const std::string& b) {
  const double x = luminance(a), y = luminance(b);
  return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}

// Colour of a rule such as ".paper{fill:#FAF8F3}" in the light (first) or dark sheet.
std::string colour(const std::string& svg, const std::string& selector, bool dark) {
  const std::size_t from = dark ? svg.find("@media (prefers-color-scheme:dark)") : 0;
  const std::size_t fill = svg.find(selector + "{fill:#", from);
  const std::size_t at = fill != std::string::npos ? fill : svg.find(selector + "{stroke:#", from);
  const std::size_t hash = svg.find('#', at);
  return svg.substr(hash, 7);
}

// 4.5 for words (SC 1.4.3), 3 for lines (SC 1.4.11).
TEST(Svg, WordsAndLinesStandOutInLightAndDark) {
  const std::string svg = Drawing(10, 10, "t", "d").finish();
  for (const bool dark : {false, true}) {
    const std::string paper = colour(svg, ".paper", dark);
    for (const char* words :
         {"text", "text.quiet", "text.blue", "text.brown", "text.violet", "text.green", "text.red"})
      EXPECT_GE(contrast(colour(svg, words, dark), paper), 4.5) << words << dark;
    for (const char* line : {".ink", ".rule", ".blue", ".brown", ".violet", ".green", ".red"})
      EXPECT_GE(contrast(colour(svg, line, dark), paper), 2.9) << line << dark;
    for (const char* shade : {".plus3", ".minus3", ".plus1", ".minus1", ".birch", ".beech"})
      EXPECT_GE(contrast(colour(svg, "text", dark), colour(svg, shade, dark)), 4.5)
          << shade << dark;
  }
}

}  // namespace
}  // namespace batten::svg
