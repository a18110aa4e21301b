// The map's picture, from a map in closed form: margin = dip − (blow − 2)/5.
#include "drawings/brief_map.hpp"
#include "tests/drawings/svg_reading.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>
#include <limits>

namespace batten {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

BriefMap plane(double dip_low) {
  BriefMap map;
  map.where = {Key{40}, "middle"};
  map.axes = {42, 50, dip_low, 11.5, 9, 7};
  map.sheet = {46, 10, 2, 1.5};
  map.aftertouch = {0.8, 1.6, false};
  for (int j = 0; j < map.axes.dips; ++j)
    for (int i = 0; i < map.axes.blows; ++i) {
      MapPoint p;
      p.escape_margin = map.dip(j) - (map.blow(i) - 2) / 5;
      p.bottom_less_string = {3, p.escape_margin - 1, -2};
      p.power = 2 * (map.blow(i) - 46);
      map.points.push_back(p);
    }
  return map;
}

int count(const std::string& text, const std::string& what) {
  int n = 0;
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

TEST(BriefMapDrawing, SaysWhatItShowsInWords) {
  const BriefMap map = plane(8.5);
  const std::string svg = draw_brief_map(std::span(&map, 1), "a piano & its map", false);
  for (const char* words :
       {"middle (C4)", "blow, mm", "dip, mm", "works", "thin", "fat", "sheet",
        "no let-off: the key bottoms first", "+4 %", "together", "a piano &amp; its map"})
    EXPECT_THAT(svg, HasSubstr(words));
  EXPECT_THAT(svg, Not(HasSubstr("nan")));
  std::string root;
  EXPECT_EQ(batten::testing::broken(svg, root), "");
  EXPECT_EQ(root, "svg");
  EXPECT_GT(count(svg, "class=\"brown thin\""), 5) << "hatched";
  const std::string inches = draw_brief_map(std::span(&map, 1), "a map", true);
  EXPECT_THAT(inches, HasSubstr("blow, in"));
  EXPECT_THAT(inches, HasSubstr(">0.031<")) << "0.8 mm";
}

// The panel is 634 wide from 74 and 250 high from 104: blow 46 lies in its middle, dip 10 at half
// of 8.5 to 11.5; the band's lower edge passes through blow 42, dip 8.8.
TEST(BriefMapDrawing, FiguresLieWhereTheyShould) {
  const BriefMap map = plane(8.5);
  const std::string svg = draw_brief_map(std::span(&map, 1), "a map", false);
  EXPECT_THAT(svg, HasSubstr("x1=\"383\" y1=\"229\" x2=\"399\" y2=\"229\""));
  EXPECT_THAT(svg, HasSubstr("<polyline points=\"74,329 "));
}

TEST(BriefMapDrawing, NothingHatchedWhereAllLetsGo) {
  BriefMap map = plane(10);
  map.today = BriefPoint{60, 10, 2, 1.5};  // off the map: not drawn
  const std::string svg = draw_brief_map(std::span(&map, 1), "a map", false);
  EXPECT_EQ(count(svg, "class=\"brown thin\""), 1) << "the legend's";
  EXPECT_THAT(svg, Not(HasSubstr("the key bottoms first")));
  EXPECT_THAT(svg, Not(HasSubstr(">today<")));
}

TEST(BriefMapDrawing, NothingKnownIsDots) {
  BriefMap map = plane(8.5);
  for (MapPoint& p : map.points) {
    p.escape_margin = p.power = std::numeric_limits<double>::quiet_NaN();
    p.faults = static_cast<std::uint8_t>(MapFault::other);
  }
  const std::string svg = draw_brief_map(std::span(&map, 1), "a map", false);
  EXPECT_THAT(svg, Not(HasSubstr("nan")));
  EXPECT_GT(count(svg, "class=\"dot\""), 10);
}

}  // namespace
}  // namespace batten
