// Invented pianos whose truth is drawn from the priors, read with the catalogue's errors: bands
// hold the truth as often as they say. 1.96 is the 97.5th percentile of the normal distribution
// (Abramowitz & Stegun, table 26.5). Seeds are fixed; the standard error counts pianos, since the
// numbers of one piano go together.
#include "fitting/fit.hpp"
#include "tests/fitting/invented_piano.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

namespace batten::trial {
namespace {

struct Share {
  double sum = 0, squares = 0;
  int count = 0;
  void add(double held) { sum += held, squares += held * held, ++count; }
  double mean() const { return sum / count; }
  double error() const {
    return std::sqrt(std::max(0.0, squares / count - mean() * mean()) / count);
  }
};

TEST(Statistics, BandsHoldTheTruth) {
  constexpr int pianos = 24;
  Share all, told, ratio, course;
  int doubtful = 0, readings = 0, settled = 0;
  for (int k = 0; k < pianos; ++k) {
    Plan plan;
    plan.seed = 500 + static_cast<std::uint64_t>(k);
    const InventedPiano piano = invent(plan);
    const auto fit = solve_fit(piano.task);
    ASSERT_TRUE(fit) << fit.error().sentence();
    settled += fit->converged && fit->explained ? 1 : 0;
    double held = 0, held_told = 0, some = 0;
    for (std::size_t p = 0; p < fit->parameters.size(); ++p) {
      const FittedParameter& f = fit->parameters[p];
      const double off = f.change - piano.truth[p] * f.parameter.prior_sd;
      const bool holds = std::abs(off) < 1.96 * f.sd;
      held += holds ? 1 : 0;
      if (f.told == Told::not_told) continue;
      some += 1;
      held_told += holds ? 1 : 0;
    }
    all.add(held / static_cast<double>(fit->parameters.size()));
    told.add(held_told / some);
    double ratios = 0, courses = 0, notes = 0;
    for (const FittedFigure& f : fit->figures) {
      const auto& truth = f.what == fit::What::ratio ? piano.ratio : piano.course;
      const bool holds = std::abs(f.value - truth.at(f.note)) < 1.96 * f.sd;
      (f.what == fit::What::ratio ? ratios : courses) += holds ? 1 : 0;
      notes += f.what == fit::What::ratio ? 1 : 0;
    }
    ratio.add(ratios / notes);
    course.add(courses / notes);
    for (const FittedReading& r : fit->readings) doubtful += r.doubtful ? 1 : 0;
    readings += static_cast<int>(fit->readings.size());
  }
  const auto show = [](const char* what, const Share& s) {
    std::printf("%s: %.3f (standard error %.3f)\n", what, s.mean(), s.error());
  };
  show("held by 95 % bands, all numbers", all);
  show("those told or partly told", told);
  show("mean ratio", ratio);
  show("its course", course);
  std::printf("doubtful, of honest readings: %d of %d\n", doubtful, readings);
  for (const Share* s : {&all, &told, &ratio, &course}) {
    EXPECT_GE(s->mean(), 0.95 - 3 * std::max(s->error(), 0.01));
    EXPECT_LE(s->mean(), 0.95 + 3 * std::max(s->error(), 0.02));
  }
  EXPECT_GE(settled, pianos - 1);
  // Baarda's bound: one honest reading in a thousand, and some for what is not normal here.
  EXPECT_LE(doubtful, readings / 200);
}

}  // namespace
}  // namespace batten::trial
