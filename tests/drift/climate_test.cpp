// Air, wood and what it does, against published figures and closed forms.
#include "core/regulation/drift/climate.hpp"

#include "core/regulation/drift/civil.hpp"
#include "core/regulation/drift/priors.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace batten::drift {
namespace {

// USDA Wood Handbook (FPL-GTR-282), equation 4-5 (Hailwood and Horrobin) at 20 °C.
double hailwood_horrobin(double humidity) {
  const double t = 20, h = humidity / 100;
  const double w = 349 + 1.29 * t + 0.0135 * t * t;
  const double k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const double k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const double k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  return 1800 / w *
         (k * h / (1 - k * h) +
          (k1 * k * h + 2 * k1 * k2 * k * k * h * h) / (1 + k1 * k * h + k1 * k2 * k * k * h * h));
}

TEST(Climate, MoistureFollowsTheHandbook) {
  for (const double rh : {30.0, 40.0, 50.0, 60.0, 65.0, 72.0, 80.0})
    EXPECT_NEAR(moisture_at(rh), hailwood_horrobin(rh), 0.45) << rh;
  EXPECT_DOUBLE_EQ(moisture_at(30), 6);
  EXPECT_DOUBLE_EQ(moisture_at(80), 16);
  EXPECT_GT(moisture_at(90), 16);
  EXPECT_GE(moisture_at(0), 0);
}

// 25 mm of spruce moves 0.12 to 0.26 mm for four percent (Wood Handbook, table 13-5, radial and
// tangential); a key front stands on 25 mm of maple and 23 mm of spruce.
TEST(Climate, AKeyFrontRisesAsItsWoodDoes) {
  const Effect front = prior_of(Reading::key_height)->season;
  EXPECT_NEAR(front.mean - front.sd, 25 * 0.00165 + 23 * 0.0012, 1e-9);
  EXPECT_NEAR(front.mean + front.sd, 25 * 0.00353 + 23 * 0.0026, 1e-9);
  EXPECT_NEAR(4 * 25 * 0.0012, 0.12, 1e-9);
  EXPECT_NEAR(4 * 25 * 0.0026, 0.26, 1e-9);
  EXPECT_LT(prior_of(Reading::blow)->season.mean, 0);  // damp wood lifts the crown
}

// A first-order lag of 21 days, integrated day by day, is the closed form's turn and shrinking.
TEST(Climate, WoodLagsBehindTheAir) {
  const Climate climate(RoomYear{40, 60, 2}, {});
  const double omega = 2 * std::numbers::pi / days_per_year;
  const auto air = [&](double day) {
    return 50 - 10 * std::cos(omega * (day - 1.5 * days_per_month));
  };
  double wood = 50;
  for (double day = 0; day < 3 * 365; day += 0.05) {
    wood += 0.05 / 21 * (air(day) - wood);
    if (day < 2 * 365 || std::fmod(day, 30) > 0.05) continue;
    EXPECT_NEAR(climate.moisture(day), moisture_at(wood), 0.03) << day;
  }
}

TEST(Climate, ReadingsTeachTheYear) {
  std::vector<HumidityRead> read;
  const double omega = 2 * std::numbers::pi / days_per_year;
  for (int i = 0; i < 40; ++i)  // driest in August, as in the south
    read.push_back({i * 41.0, 55 + 12 * std::cos(omega * i * 41.0)});
  const Climate none(std::nullopt, {}), learned(std::nullopt, read);
  EXPECT_NEAR(learned.mean()(0), 55, 1);
  EXPECT_NEAR(learned.mean()(1), 12, 1.5);
  EXPECT_LT(none.mean()(1), 0);  // the north's, before
  EXPECT_LT(learned.covariance()(1, 1), 0.2 * none.covariance()(1, 1));
  EXPECT_GT(learned.swing(), none.swing());
}

TEST(Climate, AReadingTellsOfTheSpell) {
  const Climate climate(RoomYear{45, 55, 2}, {});
  EXPECT_EQ(climate.departure(std::nullopt, 100), 0);
  EXPECT_GT(climate.departure(65, 100), 0);
  EXPECT_LT(climate.departure(35, 100), 0);
  EXPECT_LT(climate.spell_sd(true), climate.spell_sd(false));
  EXPECT_DOUBLE_EQ(Climate::left_of_departure(0), 1);
  EXPECT_LT(Climate::left_of_departure(100), 0.1);
  EXPECT_GT(climate.year_var(0, 180), climate.year_var(0, 10));
}

}  // namespace
}  // namespace batten::drift
