// What a piano's settings say of how it ages. Days since 1970-01-01 by Python's datetime.
#include "core/regulation/drift/settings.hpp"

#include <gtest/gtest.h>

namespace batten {
namespace {

constexpr std::int64_t day_ms = 86400000;

DriftSettings read(const std::string& name, const std::string& value) {
  const auto settings = drift_settings({{name, value}});
  EXPECT_TRUE(settings) << name << " " << value;
  return settings ? *settings : DriftSettings{};
}

TEST(DriftSettings, AreReadAsHandsWriteThem) {
  EXPECT_EQ(read("playing-hours", "12,5").playing_hours, 12.5);
  EXPECT_TRUE(read("playing-hours", "1.5").playing_hours_known);
  EXPECT_FALSE(DriftSettings{}.playing_hours_known);
  EXPECT_EQ(read("climate", "45 to 60").climate, (RoomYear{45, 60, std::nullopt}));
  EXPECT_EQ(read("climate", "45 % to 60 %, driest Feb").climate, (RoomYear{45, 60, 2}));
  EXPECT_EQ(read("climate", "38,5 to 61; driest 12").climate, (RoomYear{38.5, 61, 12}));
  EXPECT_EQ(read("return-limit", "20 %").return_limit, 0.2);
  EXPECT_EQ(read("return-limit", "7.5").return_limit, 0.075);
  // date(2025, 3, 1), date(2024, 2, 29), date(2023, 12, 1): 20148, 19782, 19692 days.
  EXPECT_EQ(read("new-felt", "2025-03-01 hammers").new_felt,
            (std::vector<NewFelt>{{20148 * day_ms, "hammers"}}));
  EXPECT_EQ(read("new-felt", "2024-02-29 key-cloth; 2023-12").new_felt,
            (std::vector<NewFelt>{{19782 * day_ms, "key-cloth"}, {19692 * day_ms, "all"}}));
  EXPECT_TRUE(read("new-felt", "").new_felt.empty());
}

TEST(DriftSettings, WhatCannotBeMeantIsRefusedByName) {
  const std::pair<const char*, const char*> wrong[] = {
      {"playing-hours", "0"},
      {"playing-hours", "200"},
      {"playing-hours", "often"},
      {"climate", "45"},
      {"climate", "60 to 45"},
      {"climate", "45 to 160"},
      {"climate", "45 to 60; driest monday"},
      {"return-limit", "0"},
      {"return-limit", "95"},
      {"return-limit", "many"},
      {"new-felt", "last spring"},
      {"new-felt", "2025-02-30"},
      {"new-felt", "2025-13 all"},
      {"new-felt", "2025-03-01 rope"},
  };
  for (const auto& [name, value] : wrong) {
    const auto checked = check_drift_setting(name, value);
    ASSERT_FALSE(checked) << name << " " << value;
    EXPECT_NE(checked.error().happened.find(name), std::string::npos);
    EXPECT_FALSE(checked.error().todo.empty());
  }
  EXPECT_FALSE(check_drift_setting("samples", "plain"));
  EXPECT_FALSE(is_drift_setting("samples"));
}

}  // namespace
}  // namespace batten
