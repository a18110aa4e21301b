// The readings as a function of the unknowns: exact at the truth, sloped as differences say, and
// nonsense refused.
#include "fitting/fit.hpp"
#include "tests/fitting/invented_piano.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <gmock/gmock.h>
#include <limits>

namespace batten::trial {
namespace {

using fit::What;

Plan small_plan(std::uint64_t seed) {
  Plan plan;
  plan.seed = seed;
  plan.keys = {13, 40, 63};
  plan.spread = 0.5;
  return plan;
}

std::string refused(const fit::Task& task) {
  const auto model = fit::make_model(task);
  return model ? "" : model.error().sentence();
}

// Closed form: a change in its own unit is what the docstring says.
TEST(Model, ChangesAreAddedOrScaled) {
  const InventedPiano piano = invent(small_plan(1));
  const fit::Task& task = piano.task;
  std::vector<double> x(task.parameters.size(), 0.0);
  for (std::size_t p = 0; p < x.size(); ++p) {
    x[p] = 0.5;
    const action::Profile changed = fit::profile_at(task, x);
    x[p] = 0;
    const fit::Parameter& parameter = task.parameters[p];
    for (const bool treble : {false, true}) {
      const auto& before = (treble ? task.base.anchors.back() : task.base.anchors.front());
      const auto& after = (treble ? changed.anchors.back() : changed.anchors.front());
      const bool spared = parameter.course == (treble ? fit::Course::bass : fit::Course::treble);
      const double change = spared ? 0 : 0.5 * parameter.prior_sd;
      for (double action::Dimensions::*member : parameter.members) {
        const double was = before.dimensions.*member;
        const double expected =
            parameter.change == fit::Change::scaled ? was * std::exp(change) : was + change;
        EXPECT_NEAR(after.dimensions.*member, expected, 1e-12 * std::abs(was)) << parameter.code;
      }
    }
  }
}

// With the truth put in, settings alone explain readings without errors: what is left is what slow
// presses jitter (measured: sum of squares 0.004).
TEST(Model, ExplainsReadingsOfItsOwnTruth) {
  Plan plan = small_plan(2);
  plan.with_noise = false;
  const InventedPiano piano = invent(plan);
  fit::Task task = piano.task;
  task.base = fit::profile_at(task, piano.truth);
  task.parameters.resize(1);  // one left free, that has nothing to do
  const auto fit = solve_fit(task, {.robust = false});
  ASSERT_TRUE(fit) << fit.error().sentence();
  EXPECT_LT(fit->sum_of_squares, 0.1);
  EXPECT_LT(std::abs(fit->unknowns[0]), 0.1);
}

// Against plain differences of calc_residuals over another span, one row at a time: blow, dip,
// aftertouch, weights and rises bend little over it (measured 2.5 % of the row's largest slope).
TEST(Model, SlopesAreThoseOfTheReadings) {
  const InventedPiano piano = invent(small_plan(3));
  const auto model = fit::make_model(piano.task);
  ASSERT_TRUE(model) << model.error().sentence();
  std::vector<double> x(model->unknown_count(), 0.0), residuals(model->reading_count);
  std::vector<double> jacobian(model->reading_count * model->column_count());
  fit::calc_jacobian(*model, x, residuals, jacobian);
  std::vector<double> plain(model->reading_count);
  fit::calc_residuals(*model, x, plain);
  EXPECT_THAT(residuals, testing::Pointwise(testing::NanSensitiveDoubleNear(1e-12), plain));
  std::vector<double> high(model->reading_count), low(model->reading_count);
  const fit::SampleNote& note = model->notes[1];
  const double* rows = &jacobian[note.first * model->column_count()];
  for (std::size_t c = 0; c < model->column_count(); ++c) {
    const std::size_t place =
        c < model->parameter_count() ? c : c + fit::setting_count;  // the second note's own
    const double step = c < model->parameter_count() ? 0.7 * model->task.parameters[c].step : 0.3;
    x[place] = step;
    fit::calc_residuals(*model, x, high);
    x[place] = -step;
    fit::calc_residuals(*model, x, low);
    x[place] = 0;
    for (std::size_t i = 0; i < note.taken; ++i) {
      if (note.readings[i].what == What::drop || note.readings[i].what == What::let_off) continue;
      double largest = 0;
      for (std::size_t k = 0; k < model->column_count(); ++k)
        largest = std::max(largest, std::abs(rows[i * model->column_count() + k]));
      const double slope = (high[note.first + i] - low[note.first + i]) / (2 * step);
      EXPECT_NEAR(rows[i * model->column_count() + c], slope, 0.06 * largest)
          << "column " << c << " reading " << static_cast<int>(note.readings[i].what);
    }
  }
}

TEST(Model, RefusesNonsense) {
  const InventedPiano piano = invent(small_plan(4));
  using testing::HasSubstr;
  fit::Task task = piano.task;
  task.readings.clear();
  EXPECT_THAT(refused(task), HasSubstr("fewer than two notes"));
  const auto with = [&](auto change) {
    fit::Task other = piano.task;
    change(other.readings.front());
    return refused(other);
  };
  EXPECT_THAT(with([](fit::Reading& r) { r.value = std::nan(""); }), HasSubstr("not a number"));
  EXPECT_THAT(with([](fit::Reading& r) { r.sd = 0; }), HasSubstr("no uncertainty"));
  EXPECT_THAT(with([](fit::Reading& r) { r.sd = std::numeric_limits<double>::infinity(); }),
              HasSubstr("no uncertainty"));
  EXPECT_THAT(with([](fit::Reading& r) { r.what = What::ratio; }), HasSubstr("no reading"));
  EXPECT_THAT(with([](fit::Reading& r) { r.what = What::dimension; }), HasSubstr("which"));
  EXPECT_THAT(with([](fit::Reading& r) {
                r = {r.note, What::rise, 0.02, 1e-4, 0};
              }),
              HasSubstr("no key depth"));
  EXPECT_THAT(with([](fit::Reading& r) {
                r = {r.note, What::rise, 0.05, 1e-4, 0.014};
              }),
              HasSubstr("depth of 14.00 mm"));
  // A key that bottoms before the hammer is let off: 3 mm of dip cannot be.
  task = piano.task;
  for (fit::Reading& r : task.readings)
    if (r.what == What::dip && r.note == Key{40}) r.value = 0.003;
  EXPECT_THAT(refused(task), HasSubstr("At C4"));
  task = piano.task;
  task.parameters.front().prior_sd = 0;
  EXPECT_THAT(refused(task), HasSubstr("no prior"));
}

}  // namespace
}  // namespace batten::trial
