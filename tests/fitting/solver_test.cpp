// Ceres against another solver on the same residuals: Levenberg-Marquardt as MINPACK has it, in
// core/numerics, which is itself held to the certified values of NIST.
#include "core/numerics/nonlinear_least_squares.hpp"
#include "fitting/fit.hpp"
#include "tests/fitting/invented_piano.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten::trial {
namespace {

// Few enough unknowns for the sanitizers.
InventedPiano small_piano() {
  Plan plan;
  plan.seed = 11;
  plan.keys = {20, 47};
  plan.spread = 0.5;
  InventedPiano piano = invent(plan);
  std::erase_if(piano.task.parameters, [](const fit::Parameter& p) {
    return p.code != "capstan-place" && p.code != "knuckle-arm" && p.code != "hammer-friction";
  });
  return piano;
}

TEST(Solver, FindsTheSameMinimumAndCovarianceAsAnother) {
  const InventedPiano piano = small_piano();
  const auto ceres = solve_fit(piano.task, {.robust = false});
  ASSERT_TRUE(ceres) << ceres.error().sentence();
  EXPECT_TRUE(ceres->converged) << ceres->ending;

  const fit::Model& model = ceres->model;
  const auto unknowns = static_cast<int>(model.unknown_count());
  const auto parameters = static_cast<int>(model.parameter_count());
  std::vector<std::size_t> counted;
  std::vector<int> note_of_row;
  for (std::size_t n = 0; n < model.notes.size(); ++n)
    for (std::size_t i = 0; i < model.notes[n].counted; ++i) {
      counted.push_back(model.notes[n].first + i);
      note_of_row.push_back(static_cast<int>(n));
    }
  const auto rows = static_cast<int>(counted.size());
  const auto prior = [&](int k) { return k < parameters ? 1.0 : fit::setting_prior_sd; };
  NonlinearModel other;
  other.residual_count = rows + unknowns;
  other.calc_residuals = [&](const Eigen::VectorXd& x, Eigen::VectorXd& out) {
    std::vector<double> all(model.reading_count);
    fit::calc_residuals(model, {x.data(), model.unknown_count()}, all);
    for (int k = 0; k < rows; ++k) out[k] = all[counted[static_cast<std::size_t>(k)]];
    for (int k = 0; k < unknowns; ++k) out[rows + k] = x[k] / prior(k);
  };
  other.calc_jacobian = [&](const Eigen::VectorXd& x, Eigen::MatrixXd& out) {
    std::vector<double> all(model.reading_count), j(model.reading_count * model.column_count());
    fit::calc_jacobian(model, {x.data(), model.unknown_count()}, all, j);
    out.setZero();
    for (int k = 0; k < rows; ++k)
      for (int c = 0; c < static_cast<int>(model.column_count()); ++c) {
        const int own = fit::setting_count * note_of_row[static_cast<std::size_t>(k)];
        out(k, c < parameters ? c : c + own) =
            j[counted[static_cast<std::size_t>(k)] * model.column_count() +
              static_cast<std::size_t>(c)];
      }
    for (int k = 0; k < unknowns; ++k) out(rows + k, k) = 1 / prior(k);
  };
  NonlinearOptions options;
  options.sum_of_squares_tolerance = 1e-8;
  options.parameter_tolerance = 1e-7;
  options.max_evaluations = 200;
  const auto plain = solve_nonlinear(other, Eigen::VectorXd::Zero(unknowns), options);
  ASSERT_TRUE(plain) << plain.error().sentence();
  // Measured: 2e-5.
  EXPECT_NEAR(ceres->sum_of_squares, plain->sum_of_squares, 1e-3 * plain->sum_of_squares);
  // That solver scales its covariance by the residuals; ours states what the uncertainties say.
  const Eigen::MatrixXd covariance = plain->covariance / std::pow(plain->residual_sd, 2);
  for (int k = 0; k < unknowns; ++k) {
    const double sd = std::sqrt(covariance(k, k));
    EXPECT_NEAR(ceres->unknowns[static_cast<std::size_t>(k)], plain->parameters[k], 0.05 * sd) << k;
    EXPECT_NEAR(std::sqrt(ceres->covariance(k, k)), sd, 0.02 * sd) << k;
    for (int i = 0; i < k; ++i)
      EXPECT_NEAR(ceres->covariance(k, i), covariance(k, i),
                  0.04 * sd * std::sqrt(covariance(i, i)));
  }
}

// R1 (trade list archives): (blow - let-off)/(dip - aftertouch) is the mean ratio. Fitted ratios,
// on the mean over the notes, are those of the readings within what the readings' errors allow.
TEST(Solver, TheFittedRatioIsThatOfTheReadings) {
  const InventedPiano piano = small_piano();
  const auto fit = solve_fit(piano.task);
  ASSERT_TRUE(fit) << fit.error().sentence();
  for (const FittedFigure& figure : fit->figures) {
    if (figure.what != fit::What::ratio) continue;
    const auto read = [&](fit::What what) {
      for (const fit::Reading& r : piano.task.readings)
        if (r.note == figure.note && r.what == what) return r;
      return fit::Reading{};
    };
    const fit::Reading blow = read(fit::What::blow), let_off = read(fit::What::let_off),
                       dip = read(fit::What::dip), after = read(fit::What::aftertouch);
    const double travel = dip.value - after.value;
    const double ratio = (blow.value - let_off.value) / travel;
    const double sd = std::sqrt(blow.sd * blow.sd + let_off.sd * let_off.sd +
                                ratio * ratio * (dip.sd * dip.sd + after.sd * after.sd)) /
                      travel;
    EXPECT_NEAR(figure.value, ratio, 2.6 * sd);  // 99 % of the normal distribution
    EXPECT_EQ(figure.told, Told::told);
    EXPECT_LT(figure.sd, sd);  // all notes together say more than one
  }
}

}  // namespace
}  // namespace batten::trial
