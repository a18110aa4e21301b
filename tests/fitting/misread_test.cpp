// A slip of the hand, 1 mm, in one reading of one note: found, and the fit not dragged.
#include "fitting/fit.hpp"
#include "tests/fitting/invented_piano.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace batten::trial {
namespace {

using fit::What;

InventedPiano piano_of(std::uint64_t seed) {
  Plan plan;
  plan.seed = seed;
  plan.spread = 0.5;
  return invent(plan);
}

// Reading of C4.
fit::Reading& reading_of(fit::Task& task, What what) {
  return *std::find_if(task.readings.begin(), task.readings.end(),
                       [&](const fit::Reading& r) { return r.note == Key{40} && r.what == what; });
}

double ratio_of(const Fit& fit, Key key) {
  for (const FittedFigure& f : fit.figures)
    if (f.note == key && f.what == What::ratio) return f.value;
  return 0;
}
double sd_of_ratio(const Fit& fit, Key key) {
  for (const FittedFigure& f : fit.figures)
    if (f.note == key && f.what == What::ratio) return f.sd;
  return 0;
}

bool names(const Fit& fit, Key key, What what) {
  const auto is = [&](const FittedReading& r) {
    return r.reading.note == key && r.reading.what == what;
  };
  return std::ranges::any_of(fit.readings, [&](const FittedReading& r) {
    return r.doubtful && (is(r) || std::ranges::any_of(r.or_else, [&](std::size_t k) {
                            return is(fit.readings[k]);
                          }));
  });
}

class Misread : public testing::TestWithParam<What> {};

TEST_P(Misread, IsNamedAndDoesNotDragTheFit) {
  InventedPiano piano = piano_of(21);
  const auto before = solve_fit(piano.task);
  ASSERT_TRUE(before);
  EXPECT_TRUE(before->explained);
  for (const FittedReading& r : before->readings) EXPECT_FALSE(r.doubtful);
  reading_of(piano.task, GetParam()).value += 1e-3;
  const auto after = solve_fit(piano.task);
  ASSERT_TRUE(after) << after.error().sentence();
  EXPECT_TRUE(names(*after, Key{40}, GetParam()));
  // No number by a standard deviation, no note's mean ratio by 1 % (measured: 0.8, where R1 asks
  // for 2).
  for (const fit::SampleNote& note : before->model.notes) {
    const double ratio = ratio_of(*before, note.key);
    EXPECT_NEAR(ratio_of(*after, note.key), ratio, 0.01 * ratio);
  }
  for (std::size_t p = 0; p < before->parameters.size(); ++p)
    EXPECT_NEAR(after->parameters[p].change, before->parameters[p].change, before->parameters[p].sd)
        << before->parameters[p].parameter.code;
}

// A blow or a let-off is not here: the capstan or the button explains either, and 1 mm there is 0.2
// mm of key travel, no more than honest errors.
INSTANTIATE_TEST_SUITE_P(Each, Misread, testing::Values(What::dip, What::aftertouch, What::rise));

TEST(Misread, OfTheBlowPassesButHarmsLittle) {
  InventedPiano piano = piano_of(21);
  const auto before = solve_fit(piano.task);
  reading_of(piano.task, What::blow).value += 1e-3;
  const auto after = solve_fit(piano.task);
  ASSERT_TRUE(before && after);
  for (const fit::SampleNote& note : before->model.notes)
    EXPECT_NEAR(ratio_of(*after, note.key), ratio_of(*before, note.key),
                sd_of_ratio(*before, note.key));
}

// Readings that fit no action of this kind: ratios by turns 30 % apart.
TEST(Misread, EverywhereIsSaid) {
  InventedPiano piano = piano_of(21);
  double way = 1.5e-3;
  for (fit::Reading& r : piano.task.readings)
    if (r.what == What::aftertouch) r.value += way, way = -way;
  const auto fit = solve_fit(piano.task, {.robust = false});
  ASSERT_TRUE(fit) << fit.error().sentence();
  EXPECT_FALSE(fit->explained);
  EXPECT_NE(fit->ending.find("badly"), std::string::npos) << fit->ending;
}

// Without the loss the same slip drags.
TEST(Misread, DragsPlainLeastSquares) {
  InventedPiano piano = piano_of(21);
  const auto before = solve_fit(piano.task, {.robust = false});
  reading_of(piano.task, What::dip).value += 1e-3;
  const auto robust = solve_fit(piano.task), plain = solve_fit(piano.task, {.robust = false});
  ASSERT_TRUE(before && robust && plain);
  const Key c4{40};
  EXPECT_GT(std::abs(ratio_of(*plain, c4) - ratio_of(*before, c4)),
            2 * std::abs(ratio_of(*robust, c4) - ratio_of(*before, c4)));
}

}  // namespace
}  // namespace batten::trial
