// What data/api-examples/quantities.json says is what the library says: the front end's tests read
// the same file, so that a screen and a sheet write and read a quantity alike.
#include "core/quantities/quantity.hpp"
#include "core/quantities/text.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>

namespace batten {
namespace {

std::string exactly(double value) {
  std::array<char, 40> text{};
  std::snprintf(text.data(), text.size(), "%.17g", value);
  return text.data();
}
std::string quote(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + "\"";
}

// One array of the file, one line each.
class Rows {
 public:
  explicit Rows(std::string_view name) : text_("  " + quote(name) + ": [") {}
  void add(const std::string& row) {
    text_ += (first_ ? "\n    {" : ",\n    {") + row + "}";
    first_ = false;
  }
  std::string text() const { return text_ + "\n  ]"; }

 private:
  std::string text_;
  bool first_ = true;
};

std::string inch_fractions() {
  Rows rows("inch_fractions");
  for (const double mm : {0.0, 0.1, 0.2, 1.0, 3.175, 9.525, 12.7, 25.4, 44.0, 44.45, 45.2, 46.0,
                          48.0, -3.175, 193.1, 0.396875 / 2})
    rows.add("\"mm\": " + exactly(mm) +
             ", \"shown\": " + quote(print_inch_fraction(mm * millimetre)));
  return rows.text();
}

std::string turns() {
  Rows rows("turns");
  for (const double t : {0.0, 1.0 / 64, 3.0 / 64, 0.0468, 0.0625, -0.125, 0.25, 1.0 / 3, 0.5, 0.99,
                         1.0, 1.25, 2.0, 67.0 / 64})
    rows.add("\"turns\": " + exactly(t) + ", \"shown\": " + quote(print_turns(t * turn)));
  return rows.text();
}

std::string numbers() {
  Rows rows("numbers");
  for (const double value : {0.0, 45.2, 45.25, -0.5, -0.004, 0.005, 10.0, 193.149, 1234.5}) {
    for (const NumberStyle style : {NumberStyle{.decimals = 2}, NumberStyle{.decimals = 1},
                                    NumberStyle{.decimals = 0, .plus = true},
                                    NumberStyle{.decimals = 2, .decimal_comma = true}})
      rows.add("\"value\": " + exactly(value) +
               ", \"decimals\": " + std::to_string(style.decimals) +
               ", \"comma\": " + (style.decimal_comma ? "true" : "false") +
               ", \"plus\": " + (style.plus ? "true" : "false") +
               ", \"shown\": " + quote(print_number(value, style)));
  }
  return rows.text();
}

// null: not a length.
std::string lengths() {
  Rows rows("lengths");
  for (const std::string_view text :
       {"45",     "45.2",     "45,2",     " 45.2 mm ", "45.2mm",     "45.2 Mm",   "-0.5",
        "−0.5",   "+0.12",    ".4",       "4.52 cm",   "0,400",      "1,234",     "1,234.5",
        "45.",    "1e-3",     "1 3/4\"",  "1-3/4 in",  "1¾″",        "1¾ in",     "3/64 in",
        "3⁄64\"", "1 5/4 in", "3/0 in",   "3/ in",     "1.5 3/4 in", "48 g",      "",
        "mm",     "45 46",    "45 mm 46", "12 inches", "0.0394”",    "3 / 64 in", "1/1001 in"}) {
    const auto length = parse_length(text);
    rows.add("\"text\": " + quote(text) +
             ", \"mm\": " + (length ? exactly(length->in(millimetre)) : std::string("null")));
  }
  return rows.text();
}

TEST(Quantities, TheExamplesAreWhatTheLibrarySays) {
  const std::string expected =
      "{\n" + inch_fractions() + ",\n" + turns() + ",\n" + numbers() + ",\n" + lengths() + "\n}\n";
  std::ifstream file(std::string(BATTEN_SOURCE_DIR) + "/data/api-examples/quantities.json");
  std::stringstream held;
  held << file.rdbuf();
  const std::string written = std::string(BATTEN_BINARY_DIR) + "/quantities.json";
  std::ofstream(written) << expected;
  EXPECT_EQ(held.str(), expected) << "as it should be: " << written;
}

}  // namespace
}  // namespace batten
