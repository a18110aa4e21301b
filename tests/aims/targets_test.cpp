#include "core/regulation/aims/targets.hpp"

#include <gtest/gtest.h>

namespace batten {
namespace {

const std::vector<Section> two{{Key{1}, Key{40}}, {Key{41}, Key{88}}};

Targets targets(const std::map<std::string, std::string>& on_record) {
  const auto t = targets_on_record({}, two, on_record);
  EXPECT_TRUE(t) << (t ? "" : t.error().sentence());
  return *t;
}

// The spans of handbooks (checks R7, trade): blow 44–48, dip 9.5–10.8, let-off 1–3, drop to about
// 1.6, check 12–16, jack 0.1–0.25 below.
TEST(Targets, UsualOnesLieInTheHandbooksSpans) {
  const Targets t = targets({});
  for (int k = 1; k <= 88; ++k) {
    const auto inside = [&](Aim aim, double low, double high) {
      const auto v = t.at(aim, Key{k});
      return v && *v >= low && *v <= high;
    };
    EXPECT_TRUE(inside(Aim::blow, 44, 48));
    EXPECT_TRUE(inside(Aim::dip, 9.5, 10.8));
    EXPECT_TRUE(inside(Aim::let_off, 1, 3));
    EXPECT_TRUE(inside(Aim::drop, 1, 1.6));
    EXPECT_TRUE(inside(Aim::check_distance, 12, 16));
    EXPECT_TRUE(inside(Aim::jack_clearance, 0.1, 0.25));
    EXPECT_FALSE(t.at(Aim::key_height, Key{k}));
    EXPECT_FALSE(t.at(Aim::aftertouch, Key{k}));
  }
}

TEST(Targets, OneTaperGoesOverTheCompassAndIsCutAtTheSections) {
  const Targets t = targets({{"let-off-target", "2.5 to 1.5 mm"}});
  EXPECT_DOUBLE_EQ(*t.at(Aim::let_off, Key{1}), 2.5);
  EXPECT_DOUBLE_EQ(*t.at(Aim::let_off, Key{88}), 1.5);
  EXPECT_NEAR(*t.at(Aim::let_off, Key{40}), 2.5 - 39.0 / 87, 1e-12);
  EXPECT_NEAR(*t.at(Aim::let_off, Key{41}), 2.5 - 40.0 / 87, 1e-12);
}

TEST(Targets, ATaperForEachSection) {
  const Targets t = targets({{"blow-target", "47 to 46; 45"}});
  EXPECT_DOUBLE_EQ(*t.at(Aim::blow, Key{1}), 47);
  EXPECT_DOUBLE_EQ(*t.at(Aim::blow, Key{40}), 46);
  EXPECT_DOUBLE_EQ(*t.at(Aim::blow, Key{41}), 45);
  EXPECT_DOUBLE_EQ(*t.at(Aim::blow, Key{88}), 45);
}

TEST(Targets, SharpsHaveADipAndAHeightOfTheirOwn) {
  const Targets t = targets({{"dip-target", "10.2"}, {"sharps-height-target", "12 mm"}});
  EXPECT_DOUBLE_EQ(*t.at(Aim::dip, Key{40}), 10.2);
  EXPECT_DOUBLE_EQ(*t.at(Aim::dip, Key{41}), 9.7) << "as usual";
  EXPECT_DOUBLE_EQ(*t.at(Aim::key_height, Key{41}), 12);
  EXPECT_FALSE(t.at(Aim::key_height, Key{40}));
}

// 1 13/16 in = 46.0375 mm exactly (25.4 mm to the inch, 1959).
TEST(Targets, InchesAreRead) {
  EXPECT_DOUBLE_EQ(*targets({{"blow-target", "1 13/16\""}}).at(Aim::blow, Key{1}), 46.0375);
}

TEST(Targets, WhatCannotBeAimedAtIsRefused) {
  const auto refused = [](const char* name, const char* value) {
    return !check_target_setting({}, two, name, value).has_value();
  };
  EXPECT_TRUE(refused("dip-target", "30"));
  EXPECT_TRUE(refused("dip-target", "10; 10; 10")) << "three for two sections";
  EXPECT_TRUE(refused("dip-target", "deep"));
  EXPECT_TRUE(refused("dip-target", ""));
  EXPECT_TRUE(refused("humidity-target", "50"));
  EXPECT_FALSE(refused("spring-rise-target", "2"));
  EXPECT_FALSE(targets_on_record({}, two, {{"drop-target", "a lot"}}));
  EXPECT_FALSE(is_target_setting("target"));
  EXPECT_TRUE(is_target_setting("aftertouch-target"));
}

TEST(Targets, WhatIsPrintedIsReadBack) {
  const std::vector<Taper> tapers{{2.5, 1.75}, {1.5, 1.5}};
  const std::string text = print_tapers(Reading::let_off, tapers);
  EXPECT_EQ(targets({{"let-off-target", text}}).naturals[index_of(Aim::let_off)], tapers) << text;
}

}  // namespace
}  // namespace batten
