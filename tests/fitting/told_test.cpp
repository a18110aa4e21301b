// What the readings can and cannot tell. Sources: the algebra of levers and weights. A mean ratio
// is R1; down and up weight are a balance and a friction (T1), and a lead in the key balances any
// hammer.
#include "fitting/fit.hpp"
#include "tests/fitting/invented_piano.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string_view>

namespace batten::trial {
namespace {

struct Shares {
  Fit fit;
  // Standard deviation after over before.
  double of(std::string_view code) const {
    for (const FittedParameter& p : fit.parameters)
      if (p.parameter.code == code) return p.sd / p.parameter.prior_sd;
    ADD_FAILURE() << "no parameter " << code;
    return 0;
  }
  double of(fit::What what) const {
    double worst = 0;
    for (const FittedFigure& f : fit.figures)
      if (f.what == what) worst = std::max(worst, f.sd / f.prior_sd);
    return worst;
  }
};

Plan plan_of(std::uint64_t seed) {
  Plan plan;
  plan.seed = seed;
  plan.spread = 0.5;
  return plan;
}
Shares fitted(const fit::Task& task) {
  auto fit = solve_fit(task);
  if (fit) return {std::move(*fit)};
  ADD_FAILURE() << fit.error().sentence();
  return {};
}

TEST(Told, AllReadingsTellTheRatioAndItsCourse) {
  const Shares s = fitted(invent(plan_of(1)).task);
  EXPECT_LT(s.of(fit::What::ratio), 0.15);
  EXPECT_LT(s.of(fit::What::course), 0.5);
  // Arms are told together, none by itself.
  for (const char* arm : {"key-front-arm", "capstan-place", "wippen-place", "knuckle-arm"})
    EXPECT_GT(s.of(arm), 0.5) << arm;
  ASSERT_FALSE(s.fit.told_together.empty());
  EXPECT_LT(s.fit.told_together.front().sd, 0.1);
  EXPECT_GE(s.fit.told_together.front().parts.size(), 2U);
  // Leads balance any hammer, and any wippen.
  for (const char* mass : {"head-mass-bass", "head-mass-treble", "wippen-mass"})
    EXPECT_GT(s.of(mass), 0.8) << mass;
}

TEST(Told, WithoutRisesTheCourseOfTheRatioIsNotTold) {
  Plan plan = plan_of(1);
  plan.with_rises = plan.with_weights = false;
  const Shares s = fitted(invent(plan).task);
  EXPECT_GT(s.of(fit::What::course), 0.85);
  EXPECT_LT(s.of(fit::What::ratio), 0.2);
  // Nor anything about friction and mass.
  for (const char* code : {"key-friction", "wippen-friction", "hammer-friction", "head-mass-bass",
                           "head-mass-treble", "wippen-mass"})
    EXPECT_GT(s.of(code), 0.97) << code;
}

TEST(Told, WeightsAloneTellNeitherRatioNorHeadMass) {
  Plan plan = plan_of(1);
  plan.with_rises = plan.with_screws = false;
  const Shares s = fitted(invent(plan).task);
  EXPECT_GT(s.of(fit::What::ratio), 0.8);
  for (const char* mass : {"head-mass-bass", "head-mass-treble", "wippen-mass"})
    EXPECT_GT(s.of(mass), 0.9) << mass;
  // Their half difference is a friction; which of the centres rubs they do not tell.
  ASSERT_FALSE(s.fit.told_together.empty());
  for (const char* pin : {"key-friction", "wippen-friction", "hammer-friction"})
    EXPECT_GT(s.of(pin), 0.5) << pin;
}

TEST(Told, HeadsWeighedAreTold) {
  InventedPiano piano = invent(plan_of(1));
  const action::Profile truth = fit::profile_at(piano.task, piano.truth);
  for (const int key : {3, 75})
    piano.task.readings.push_back({Key{key}, fit::What::dimension,
                                   action::note_of(truth, Key{key}).dimensions.head_mass, 0.0001, 0,
                                   &action::Dimensions::head_mass});
  const Shares s = fitted(piano.task);
  EXPECT_LT(s.of("head-mass-bass"), 0.3);
  EXPECT_LT(s.of("head-mass-treble"), 0.3);
}

TEST(Told, FrictionOfAFreedHammerIsTold) {
  InventedPiano piano = invent(plan_of(1));
  const action::Profile truth = fit::profile_at(piano.task, piano.truth);
  for (const int key : {13, 63})
    piano.task.readings.push_back({Key{key}, fit::What::dimension,
                                   action::note_of(truth, Key{key}).dimensions.hammer_friction,
                                   1.1e-4, 0, &action::Dimensions::hammer_friction});
  EXPECT_LT(fitted(piano.task).of("hammer-friction"), 0.4);
}

}  // namespace
}  // namespace batten::trial
