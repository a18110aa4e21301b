// The demo piano's earlier visits: what they tell hangs together with where it stands now.
#include "workshop/demo_past.hpp"

#include "core/regulation/catalogue/readings.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace batten::workshop {
namespace {

class DemoPastTest : public testing::Test {
 protected:
  std::size_t at(Key k) const {
    return static_cast<std::size_t>(truth_.strings.compass.position(k));
  }
  double blow_wanted(std::size_t i) const {
    return (truth_.strings.heights[i] - truth_.targets[i]).in(millimetre);
  }
  // Share of hammers farther than their tolerance from the wanted blow.
  template <class Blow>
  double outside(Blow blow) const {
    const double tolerance = *kind_of(Reading::blow).tolerance_absolute;
    int count = 0;
    for (std::size_t i = 0; i < 88; ++i) count += std::abs(blow(i) - blow_wanted(i)) > tolerance;
    return count / 88.0;
  }

  const DemoTruth truth_ = demo_truth();
  const std::array<DemoPastVisit, demo_past_visits> past_ = demo_past(truth_);
};

TEST_F(DemoPastTest, IsFourVisitsOverThreeYears) {
  EXPECT_NEAR(past_[0].days_before, 3 * 365.25, 10);
  for (std::size_t v = 1; v < past_.size(); ++v) {
    EXPECT_LT(past_[v].days_before, past_[v - 1].days_before - 90);
    EXPECT_GT(past_[v].days_before, 90);
  }
  for (const DemoPastVisit& v : past_) {
    EXPECT_GT(v.humidity, 30);
    EXPECT_LT(v.humidity, 65);
    EXPECT_EQ(v.found.size(), 88U);
    EXPECT_EQ(v.left.size(), 88U);
  }
}

TEST_F(DemoPastTest, IsTheSameEachTime) {
  const auto again = demo_past(truth_);
  for (std::size_t v = 0; v < past_.size(); ++v) {
    EXPECT_EQ(past_[v].found, again[v].found);
    EXPECT_EQ(past_[v].left, again[v].left);
  }
}

// R1 of checks: (blow − let-off)/(dip − aftertouch) = R, trade list archives.
TEST_F(DemoPastTest, HangsTogetherAtEveryNote) {
  for (const DemoPastVisit& v : past_)
    for (const auto* all : {&v.found, &v.left})
      for (std::size_t i = 0; i < 88; ++i) {
        const auto& a = (*all)[i];
        const double ratio = (a[index_of(Aim::blow)] - a[index_of(Aim::let_off)]) /
                             (a[index_of(Aim::dip)] - a[index_of(Aim::aftertouch)]);
        EXPECT_NEAR(ratio, truth_.ratio[i], 1e-9);
      }
}

// What was not turned was left as it was found; what was turned did what this piano's screws do.
TEST_F(DemoPastTest, OnlyMovesMoveWithinAVisit) {
  std::size_t moves = 0;
  for (const DemoPastVisit& v : past_) {
    moves += v.moves.size();
    for (std::size_t i = 0; i < 88; ++i) {
      const Key key = truth_.strings.compass.at(static_cast<int>(i));
      for (const Aim aim : {Aim::key_height, Aim::blow, Aim::let_off, Aim::dip}) {
        const auto move = std::ranges::find_if(v.moves, [&](const DemoSetting& m) {
          return m.key == key && aim_for(m.adjuster) == aim;
        });
        const double by = v.left[i][index_of(aim)] - v.found[i][index_of(aim)];
        if (move == v.moves.end()) {
          EXPECT_DOUBLE_EQ(by, 0) << note_name(key);
          continue;
        }
        EXPECT_DOUBLE_EQ(move->before, v.found[i][index_of(aim)]);
        EXPECT_DOUBLE_EQ(move->after, v.left[i][index_of(aim)]);
        // The demo's own rise per turn; each screw within 8 % of it (four standard deviations).
        if (aim == Aim::blow) {
          EXPECT_NEAR(by / move->amount / -truth_.crown_per_turn.in(millimetre / turn), 1, 0.08);
        }
      }
    }
  }
  EXPECT_GT(moves, 200U);
}

TEST_F(DemoPastTest, BeginsRegulatedAndWanders) {
  const auto blow = index_of(Aim::blow);
  EXPECT_GT(outside([&](std::size_t i) { return past_[0].found[i][blow]; }), 0.5);
  EXPECT_EQ(outside([&](std::size_t i) { return past_[0].left[i][blow]; }), 0);
  double before = 0;
  for (std::size_t v = 1; v < past_.size(); ++v) {
    const double found = outside([&](std::size_t i) { return past_[v].found[i][blow]; });
    EXPECT_GE(found + 0.2, before) << v;  // a dry winter may help a little
    before = found;
  }
  const double now = outside([&](std::size_t i) {
    return demo_as_found(truth_, truth_.strings.compass.at(static_cast<int>(i)), Aim::blow);
  });
  EXPECT_GT(now, 0.35);
  // Later touches mostly leave their notes better than they found them; a hand stops a little off.
  int touched = 0, better = 0;
  for (std::size_t v = 1; v < past_.size(); ++v)
    for (const DemoSetting& m : past_[v].moves) {
      if (m.adjuster != Adjuster::capstan) continue;
      ++touched;
      const double wanted = blow_wanted(at(m.key));
      better += std::abs(m.after - wanted) < std::abs(m.before - wanted);
    }
  EXPECT_GT(touched, 10);
  EXPECT_GT(better, 0.9 * touched);
}

// What new felt gives way comes early: more of a year's drift lies before the second visit than a
// steady law would put there.
TEST_F(DemoPastTest, MovesFastestWhileTheFeltIsNew) {
  double early = 0, all = 0;
  int notes = 0;
  for (std::size_t i = 0; i < 88; ++i) {
    const Key key = truth_.strings.compass.at(static_cast<int>(i));
    if (std::ranges::any_of(past_, [&](const DemoPastVisit& v) {
          return &v != past_.data() && std::ranges::any_of(v.moves, [&](const DemoSetting& m) {
            return m.key == key && m.adjuster == Adjuster::capstan;
          });
        }))
      continue;
    const auto b = index_of(Aim::blow);
    const double now = demo_as_found(truth_, key, Aim::blow);
    if (now - past_[0].left[i][b] < 0.3) continue;
    ++notes;
    early += past_[1].found[i][b] - past_[0].left[i][b];
    all += now - past_[0].left[i][b];
  }
  ASSERT_GT(notes, 20);
  const double steady =
      static_cast<double>(past_[0].days_before - past_[1].days_before) / past_[0].days_before;
  EXPECT_GT(early / all, steady + 0.1);
}

}  // namespace
}  // namespace batten::workshop
