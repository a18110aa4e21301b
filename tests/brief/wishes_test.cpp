// Needs and wants as they are typed.
#include "core/regulation/brief/wishes.hpp"

#include <gtest/gtest.h>

namespace batten {
namespace {

Band need(const std::string& name, const std::string& value, Need which) {
  const auto wishes = brief_wishes({{name, value}});
  EXPECT_TRUE(wishes.has_value()) << wishes.error().sentence();
  return wishes ? wishes->at(which) : Band{};
}

// Handbook spans of three makers' sheets and workshop articles (R7): blow 44-48, dip 9.5-10.8,
// let-off 1-3, check 12-16, aftertouch 0.8-1.6; jack 0.1-0.25 below (trade texts).
TEST(Wishes, UsualNeedsAreTheHandbooks) {
  const auto w = brief_wishes({});
  ASSERT_TRUE(w.has_value());
  EXPECT_EQ(w->at(Need::blow), (Band{44, 48, false}));
  EXPECT_EQ(w->at(Need::dip), (Band{9.5, 10.8, false}));
  EXPECT_EQ(w->at(Need::let_off), (Band{1, 3, false}));
  EXPECT_EQ(w->at(Need::check_distance), (Band{12, 16, false}));
  EXPECT_EQ(w->at(Need::aftertouch), (Band{0.8, 1.6, false}));
  EXPECT_EQ(w->at(Need::jack_clearance), (Band{0.1, 0.25, false}));
}

TEST(Wishes, BandsAsTheyAreTyped) {
  EXPECT_EQ(need("need-aftertouch", "0.9 to 1.4", Need::aftertouch), (Band{0.9, 1.4, true}));
  EXPECT_EQ(need("need-aftertouch", "0,9 mm to 1,4 mm", Need::aftertouch), (Band{0.9, 1.4, true}));
  EXPECT_EQ(need("need-let-off", "at least 1.2 mm", Need::let_off), (Band{1.2, 6, true}));
  EXPECT_EQ(need("need-dip", "at most 10.2", Need::dip), (Band{6, 10.2, true}));
  EXPECT_EQ(need("need-sharp-dip", "9.5 to 9.5", Need::sharp_dip), (Band{9.5, 9.5, true}));
  const auto w = brief_wishes({{"want-power", "2"}, {"want-speed", "0"}, {"blow-target", "46"}});
  ASSERT_TRUE(w.has_value());
  EXPECT_EQ(w->at(Want::power), 2);
  EXPECT_EQ(w->at(Want::speed), 0);
  EXPECT_EQ(w->at(Want::blow), 1);
}

TEST(Wishes, WhatCannotBeMeantIsRefusedByName) {
  const std::pair<const char*, const char*> bad[] = {
      {"need-aftertouch", "1.6 to 0.8"},
      {"need-aftertouch", "enough"},
      {"need-aftertouch", "0.8 g to 1"},
      {"need-aftertouch", "0.8"},
      {"need-blow", "4.4 to 4.8"},
      {"need-let-off", "at least"},
      {"want-power", "-1"},
      {"want-power", "101"},
      {"want-power", "much"},
      {"want-power", ""},
      {"need-dip", "9 to 10 to 11"},
  };
  for (const auto& [name, value] : bad) {
    const auto w = brief_wishes({{name, value}});
    ASSERT_FALSE(w.has_value()) << name << ' ' << value;
    EXPECT_NE(w.error().happened.find(name), std::string::npos);
    EXPECT_FALSE(check_brief_setting(name, value).has_value());
  }
  EXPECT_FALSE(check_brief_setting("need-beauty", "1 to 2").has_value());
  EXPECT_TRUE(check_brief_setting("need-blow", "45 to 47").has_value());
  EXPECT_TRUE(is_brief_setting("want-repetition"));
  EXPECT_FALSE(is_brief_setting("want-"));
  EXPECT_FALSE(is_brief_setting("blow-target"));
}

// Every kind is in its place, and its usual figure can be had.
TEST(Wishes, TablesAreWhole) {
  ASSERT_EQ(need_kinds().size(), need_count);
  for (std::size_t i = 0; i < need_count; ++i) {
    const NeedKind& k = need_kinds()[i];
    EXPECT_EQ(index_of(k.id), i);
    EXPECT_LT(k.low, k.high);
    EXPECT_GE(k.low, k.possible_low);
    EXPECT_LE(k.high, k.possible_high);
  }
  ASSERT_EQ(want_kinds().size(), want_count);
  for (std::size_t i = 0; i < want_count; ++i) {
    EXPECT_EQ(index_of(want_kinds()[i].id), i);
    EXPECT_GT(want_kinds()[i].unit_size, 0);
  }
}

}  // namespace
}  // namespace batten
