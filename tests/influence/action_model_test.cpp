// The influence of the moves, against the identities of checks R2 and R5 and the mechanism itself.
#include "core/regulation/influence/action_model.hpp"

#include "profiles/profile_file.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten {
namespace {

constexpr auto at(Aim a) { return static_cast<Eigen::Index>(a); }
constexpr auto at(Adjuster a) { return static_cast<Eigen::Index>(a); }

const action::Profile& medium() {
  static const action::Profile profile = [] {
    for (const StoredProfile& stored : stored_profiles())
      if (stored.name == "medium") return parse_profile(stored.text, "medium")->profile;
    return action::Profile{};
  }();
  return profile;
}

ActionModel model_of(const Compass& compass) {
  const std::vector<Section> sections{{compass.lowest, compass.highest}};
  return *calc_action_model(medium(), compass, *targets_on_record(compass, sections, {}));
}

// R2: aftertouch = dip - blow/R + let-off/R, trade lists; R the local ratio, 4.5 to 6.8 there.
TEST(ActionModel, AftertouchFollowsDipBlowAndLetOff) {
  const Compass compass;
  const ActionModel model = model_of(compass);
  for (int i = 0; i < compass.count(); ++i) {
    const NoteModel& n = model.notes[static_cast<std::size_t>(i)];
    const InfluenceMatrix& m = n.influence;
    const double by_blow =
        -m(at(Aim::blow), at(Adjuster::capstan)) / m(at(Aim::aftertouch), at(Adjuster::capstan));
    const double by_let_off = m(at(Aim::let_off), at(Adjuster::let_off_button)) /
                              m(at(Aim::aftertouch), at(Adjuster::let_off_button));
    EXPECT_GT(by_blow, 4.5) << i;
    EXPECT_LT(by_blow, 6.8) << i;
    EXPECT_GT(by_let_off, 4.2) << i;
    EXPECT_LT(by_let_off, 6.8) << i;
    EXPECT_NEAR(m(at(Aim::aftertouch), at(Adjuster::front_punchings)),
                m(at(Aim::dip), at(Adjuster::front_punchings)), 0.1)
        << i;
  }
}

// R5, trade articles: what raises and lowers what.
TEST(ActionModel, SignsAreTheTrades) {
  const Compass compass;
  for (const NoteModel& n : model_of(compass).notes) {
    const InfluenceMatrix& m = n.influence;
    EXPECT_LT(m(at(Aim::blow), at(Adjuster::capstan)), 0);
    EXPECT_GT(m(at(Aim::aftertouch), at(Adjuster::capstan)), 0);
    EXPECT_NEAR(m(at(Aim::let_off), at(Adjuster::capstan)), 0, 0.3);
    EXPECT_NEAR(m(at(Aim::check_distance), at(Adjuster::capstan)), 0, 0.5);
    EXPECT_LT(m(at(Aim::dip), at(Adjuster::front_punchings)), 0);
    EXPECT_GT(m(at(Aim::check_distance), at(Adjuster::front_punchings)), 0);
    EXPECT_GT(m(at(Aim::let_off), at(Adjuster::let_off_button)), 0);
    EXPECT_GT(m(at(Aim::drop), at(Adjuster::drop_screw)), 0);
    EXPECT_NEAR(m(at(Aim::let_off), at(Adjuster::drop_screw)), 0, 0.3);
    EXPECT_LT(m(at(Aim::check_distance), at(Adjuster::back_check)), 0);
    EXPECT_GT(m(at(Aim::jack_clearance), at(Adjuster::lever_height_button)), 0);
    EXPECT_GT(m(at(Aim::key_height), at(Adjuster::balance_punchings)), 0);
  }
}

// Between calculated notes the matrix is drawn straight; the mechanism itself is the judge.
TEST(ActionModel, NotesBetweenAreNearTheMechanism) {
  const Compass compass;
  const ActionModel model = model_of(compass);
  for (const int k : {6, 21, 35, 47, 60, 73, 84}) {
    const action::Anchor anchor = action::note_of(medium(), Key{k});
    const auto regulated = action::solve_regulation(anchor.dimensions, anchor.wanted);
    ASSERT_TRUE(regulated);
    const auto influence = action::calc_influence({anchor.dimensions, regulated->adjustments});
    ASSERT_TRUE(influence);
    const auto entry = [&](action::Row r, Adjuster a) {
      return influence->value[static_cast<std::size_t>(r)][static_cast<std::size_t>(a)];
    };
    const InfluenceMatrix& m = model.at(Key{k}).influence;
    EXPECT_NEAR(m(at(Aim::blow), at(Adjuster::capstan)),
                entry(action::Row::blow, Adjuster::capstan), 0.35)
        << k;
    EXPECT_NEAR(m(at(Aim::aftertouch), at(Adjuster::capstan)),
                entry(action::Row::aftertouch, Adjuster::capstan), 0.25)
        << k;
    EXPECT_NEAR(m(at(Aim::check_distance), at(Adjuster::back_check)),
                entry(action::Row::check_distance, Adjuster::back_check), 0.6)
        << k;
  }
}

}  // namespace
}  // namespace batten
