// Axes by closed form; charts by what they must say.
#include "drawings/charts.hpp"

#include "drawings/axes.hpp"
#include "tests/drawings/svg_reading.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>
#include <limits>

namespace batten {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

TEST(Axes, StepsAreOneTwoOrFive) {
  EXPECT_DOUBLE_EQ(svg::even_step(10, 10), 1);
  EXPECT_DOUBLE_EQ(svg::even_step(10, 9), 2);
  EXPECT_DOUBLE_EQ(svg::even_step(240, 5), 50);
  EXPECT_DOUBLE_EQ(svg::even_step(0.03, 3), 0.01);
  EXPECT_DOUBLE_EQ(svg::even_step(55, 6), 10);
}

TEST(Axes, ValuesLieWhereTheyShould) {
  const svg::Panel p = svg::make_panel(100, 50, 200, 80, 0, 10, 0, 40);
  EXPECT_EQ(p(0, 0), (svg::Point{100, 130}));
  EXPECT_EQ(p(10, 40), (svg::Point{300, 50}));
  EXPECT_EQ(p(5, 10), (svg::Point{200, 110}));
  const svg::Panel turned = svg::make_panel(0, 0, 10, 10, 0, 1, 8, 0);
  EXPECT_EQ(turned(0, 0).y, 0) << "nought at the top";
  EXPECT_EQ(turned(0, 8).y, 10);
}

action::SweepPoint at(double depth, double below, double force, double front_gap) {
  action::SweepPoint s;
  s.depth = depth;
  s.below = below;
  s.force = force;
  s.front_gap = front_gap;
  s.damper_gap = depth < 0.004 ? 1e-3 : -1e-4;
  s.toe_force = depth > 0.008 ? 0.5 : 0;
  return s;
}

TEST(Charts, ASlowPressShowsItsMarks) {
  action::Readings r;
  r.let_off = 0.0016;
  r.drop = 0.0015;
  r.dip = 0.010;
  for (int k = 0; k <= 100; ++k) {
    const double depth = 1e-4 * k;
    const double below = depth < 0.009 ? 0.0456 - 4.89 * depth : 0.0031;
    r.down.push_back(at(depth, below, 0.5, 0.0099 - depth));
    r.up.push_back(at(0.010 - depth, below, 0.3, depth));
  }
  const std::string svg = draw_press(r, "a note");
  std::string root;
  EXPECT_EQ(testing::broken(svg, root), "");
  const auto words = testing::texts(svg);
  for (const char* said : {"damper", "let-off button", "let-off", "bottom", "pressed", "let up",
                           "key depth, mm", "force at the key front, gf", "crown to string, mm"})
    EXPECT_THAT(words, Contains(said));
  EXPECT_THAT(svg, HasSubstr("Let-off 1.60\u202fmm, drop 1.50\u202fmm"));
  EXPECT_EQ(svg.find("nan"), std::string::npos);
}

TEST(Charts, APressWithoutLetOffIsDrawnToo) {
  action::Readings r;
  r.let_off = r.drop = r.let_off_bump = nan;
  r.down = {at(0, 0.045, 0, 0.01), at(0.01, 0, 3, 0)};
  const std::string svg = draw_press(r, "blocked");
  std::string root;
  EXPECT_EQ(testing::broken(svg, root), "");
  EXPECT_EQ(svg.find("nan"), std::string::npos);
  EXPECT_EQ(draw_press({}, "empty").find("nan"), std::string::npos);
}

action::Stroke stroke(double scale) {
  action::Stroke s;
  s.key_start = 0.010;
  s.let_off = 0.010 + scale * 0.040;
  s.string = 0.010 + scale * 0.042;
  s.key_bottom = 0.010 + scale * 0.0415;
  s.check = 0.010 + scale * 0.060;
  s.jack_return = nan;
  s.hammer_speed = 2 / scale;
  s.string_force = 400;
  for (int k = 0; k < 200; ++k) {
    action::TracePoint t;
    t.time = 1e-3 * k;
    t.key_depth = 0.01 * k / 200;
    t.crown_below = 0.045 - 0.045 * k / 200;
    t.finger_force = 5;
    s.trace.push_back(t);
  }
  return s;
}

TEST(Charts, StrokesShowEventsFromTheKeysStart) {
  const StrokeColumn columns[] = {{"soft", stroke(2)}, {"loud", stroke(0.5)}};
  const std::string svg = draw_strokes(columns, "strokes");
  std::string root;
  EXPECT_EQ(testing::broken(svg, root), "");
  const auto words = testing::texts(svg);
  for (const char* said :
       {"soft, hammer 1.00\u202fm/s", "loud, hammer 4.00\u202fm/s", "let-off 80.0", "string 84.0",
        "string 21.0", "key bottom 83.0", "caught 120.0", "jack back: not in this time", "time, ms",
        "force, N", "crown to string, mm", "key's depth, mm", "400\u202fN ↑"})
    EXPECT_THAT(words, Contains(said));
  EXPECT_EQ(svg.find("nan"), std::string::npos);
}

TEST(Charts, InfluenceHasAFigureInEveryField) {
  action::Influence influence;
  for (auto& row : influence.value) row.fill(0);
  // Blow by capstan: -10.5 mm a mm; let-off by the let-off button unknown; the spring, a tenth of
  // its strength per share: +0.3 m/s a share is +30 mm/s a tenth.
  influence.value[0][0] = -10.5;
  influence.value[1][6] = nan;
  influence.value[14][5] = 0.3;
  const std::string svg = draw_influence(influence, "influence");
  std::string root;
  EXPECT_EQ(testing::broken(svg, root), "");
  const auto words = testing::texts(svg);
  EXPECT_THAT(words, Contains("−10.50"));
  EXPECT_THAT(words, Contains("+30"));
  EXPECT_EQ(std::count(words.begin(), words.end(), "–"), 16 * 10 - 2);
  EXPECT_EQ(svg.find("nan"), std::string::npos);
}

}  // namespace
}  // namespace batten
