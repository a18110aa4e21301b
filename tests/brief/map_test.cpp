// The map against direct solutions.
#include "core/regulation/brief/map.hpp"

#include "core/action/prepare.hpp"
#include "core/action/strokes.hpp"
#include "tasks.hpp"
#include "tests/action/random_actions.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace batten {
namespace {

using action::checks::Chance;
using checks::stored;
using checks::task_of;

#ifdef BATTEN_SLOW_BUILD
constexpr int points = 4;  // a note costs ten times as much under the sanitizers
const std::vector<std::string> keys{"C4"};
#else
constexpr int points = 60;
const std::vector<std::string> keys{"C4", "A1", "C7"};
#endif

const std::vector<BriefMap>& maps() {
  static const std::vector<BriefMap> list = [] {
    auto made = calc_brief_maps(task_of(stored("medium"), {}, keys), {});
    EXPECT_TRUE(made.has_value());
    return made ? *made : std::vector<BriefMap>{};
  }();
  return list;
}

// Bilinear between the map's points, as a reader's eye would.
double between(const BriefMap& map, double blow, double dip, double MapPoint::*value) {
  const double x = (blow - map.axes.blow_low) / (map.axes.blow_high - map.axes.blow_low) *
                   (map.axes.blows - 1),
               y = (dip - map.axes.dip_low) / (map.axes.dip_high - map.axes.dip_low) *
                   (map.axes.dips - 1);
  const int i = std::min(static_cast<int>(x), map.axes.blows - 2),
            j = std::min(static_cast<int>(y), map.axes.dips - 2);
  const double u = x - i, v = y - j;
  return (1 - u) * (1 - v) * map.at(i, j).*value + u * (1 - v) * map.at(i + 1, j).*value +
         (1 - u) * v * map.at(i, j + 1).*value + u * v * map.at(i + 1, j + 1).*value;
}

// Notes regulated from nothing at random points, pressed and struck, without the map's curves. What
// was found at the worst is a third of what is allowed, and what the map states.
TEST(Map, AgreesWithDirectSolutions) {
  for (const BriefMap& map : maps()) {
    const auto task = task_of(stored("medium"), {}, {map.where.name});
    Chance chance(7);
    std::vector<action::Dimensions> dimensions;
    std::vector<action::Wanted> wanted;
    const auto prepared = action::prepare_note(stored("medium"), map.where.key);
    ASSERT_TRUE(prepared.has_value());
    for (int k = 0; k < points; ++k) {
      action::Wanted w = wanted_at(stored("medium"), task.targets, map.where.key);
      w.blow = chance.between(0.042, 0.050);
      w.dip = chance.between(0.0085, 0.0115);
      dimensions.push_back(prepared->note.dimensions);
      wanted.push_back(w);
    }
    const auto direct = solve_regulation(dimensions, wanted);
    double margin_off = 0;
    const double cell = (map.axes.dip_high - map.axes.dip_low) / (map.axes.dips - 1);
    for (std::size_t k = 0; k < direct.size(); ++k) {
      const double blow = wanted[k].blow * 1e3, dip = wanted[k].dip * 1e3;
      const double margin = between(map, blow, dip, &MapPoint::escape_margin);
      if (!direct[k]) {
        EXPECT_NE(direct[k].error().happened.find("before the hammer lets go"), std::string::npos);
        EXPECT_LT(margin, cell) << blow << ' ' << dip;
        continue;
      }
      if (!(direct[k]->readings.aftertouch > 0)) continue;
      EXPECT_GT(margin, -cell) << blow << ' ' << dip;
      margin_off = std::max(margin_off, std::abs(direct[k]->readings.aftertouch * 1e3 - margin));
      const action::Note note{dimensions[k], direct[k]->adjustments};
      const auto stroke =
          calc_stroke(note, standard_finger(action::Effort::middling, action::Touch::pressed));
      ASSERT_TRUE(stroke.has_value());
      EXPECT_NEAR(between(map, blow, dip, &MapPoint::travel), stroke->travel_time * 1e3, 0.02);
    }
    EXPECT_LT(margin_off, 0.04) << map.where.name;
    EXPECT_LT(map.margin_error, 0.03) << map.where.name;
    EXPECT_LT(map.timing_error, 0.15);
    EXPECT_LT(map.power_error, 0.2);
  }
}

// Timing and power at the map's own points, struck directly.
TEST(Map, StrokesAgree) {
  const BriefMap& map = maps()[0];
  Chance chance(8);
  for (int k = 0; k < points / 4; ++k) {
    const int i = static_cast<int>(chance.between(0, map.axes.blows)),
              j = static_cast<int>(chance.between(0, map.axes.dips));
    auto task = task_of(stored("medium"), {}, {"C4"});
    task.today = {BriefPoint{map.blow(i), map.dip(j), map.let_off, map.drop}};
    const auto r = checks::only(task);
    ASSERT_TRUE(r.today && r.today->read);
    EXPECT_NEAR(map.at(i, j).escape_margin, r.today->escape_margin, 0.03);
    for (std::size_t e = 0; e < 3; ++e)
      EXPECT_NEAR(map.at(i, j).bottom_less_string[e], r.today->strokes[e].bottom_less_string, 0.2)
          << i << ' ' << j;
    EXPECT_NEAR(map.at(i, j).power,
                100 * (r.today->strokes[2].hammer_speed / r.sheet.strokes[2].hammer_speed - 1),
                0.3);
  }
}

// C7 (Askenfelt & Jansson 1990): with a shorter blow the string comes earlier and the key's bottom
// relatively later; C1: the bottom falls behind from loud to soft. R2: a millimetre of dip is one
// of aftertouch, a millimetre of blow minus one over the ratio (18 %, as the action's own).
TEST(Map, Signs) {
  for (const BriefMap& map : maps()) {
    const double dip_cell = map.dip(1) - map.dip(0), blow_cell = map.blow(1) - map.blow(0);
    for (int j = 10; j < map.axes.dips; j += 3)
      for (int i = 1; i < map.axes.blows; i += 3) {
        const MapPoint &a = map.at(i - 1, j), &b = map.at(i, j);
        if (a.has(MapFault::no_escapement) || b.has(MapFault::no_escapement)) continue;
        EXPECT_LT(a.travel, b.travel);
        EXPECT_GT(a.bottom_less_string[1], b.bottom_less_string[1]);
        EXPECT_GT(b.bottom_less_string[0], b.bottom_less_string[1]);
        EXPECT_GT(b.bottom_less_string[1], b.bottom_less_string[2]);
        EXPECT_NEAR((b.escape_margin - map.at(i, j - 1).escape_margin) / dip_cell, 1, 1e-9);
        const double ratio = (map.blow(i) - map.let_off) / (map.dip(j) - b.escape_margin);
        EXPECT_NEAR((b.escape_margin - a.escape_margin) / blow_cell * ratio, -1, 0.18);
      }
  }
}

TEST(Map, FaultsFollowTheFigures) {
  for (const BriefMap& map : maps())
    for (const MapPoint& p : map.points) {
      EXPECT_EQ(p.has(MapFault::no_escapement), p.escape_margin <= 0);
      EXPECT_EQ(p.has(MapFault::thin), p.escape_margin > 0 && p.escape_margin < 0.8);
      EXPECT_EQ(p.has(MapFault::fat), p.escape_margin > 1.6);
      EXPECT_FALSE(p.has(MapFault::other));
    }
}

TEST(Map, AxesThatMakeNoSense) {
  const auto task = task_of(stored("medium"), {}, {"C4"});
  for (const MapAxes& axes :
       {MapAxes{50, 42, 8.5, 11.5, 40, 40}, MapAxes{42, 50, 8.5, 8.6, 40, 40},
        MapAxes{42, 50, 8.5, 11.5, 1, 40}, MapAxes{42, 50, 8.5, 11.5, 40, 401},
        MapAxes{42, std::nan(""), 8.5, 11.5, 40, 40}})
    EXPECT_FALSE(calc_brief_maps(task, axes).has_value());
}

}  // namespace
}  // namespace batten
