#include "fitting/fit.hpp"

#include "fitting/judge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ceres/ceres.h>
#include <ceres/normal_prior.h>
#include <cmath>
#include <memory>

namespace batten {

namespace {

using fit::Model;
using fit::SampleNote;
using fit::setting_count;

// Where Cauchy's loss turns: a reading three standard deviations off counts half (estimate).
constexpr double loss_turns_at = 3;

// All readings at the point the search has come to, computed together: eight notes go side by side.
class Readings : public ceres::EvaluationCallback {
 public:
  Readings(const Model& model, const std::vector<double>& x) : model_(model), x_(x) {
    slopes.residuals.resize(model.reading_count);
    slopes.jacobian.resize(model.reading_count * model.column_count());
  }
  void PrepareForEvaluation(bool with_jacobians, bool new_point) override {
    if (!new_point && (!with_jacobians || have_jacobian_)) return;
    if (with_jacobians)
      fit::calc_jacobian(model_, x_, slopes.residuals, slopes.jacobian);
    else
      fit::calc_residuals(model_, x_, slopes.residuals);
    have_jacobian_ = with_jacobians;
  }

  fitting::Slopes slopes;

 private:
  const Model& model_;
  const std::vector<double>& x_;
  bool have_jacobian_ = false;
};

// One reading, fetched from there.
class ReadingCost : public ceres::CostFunction {
 public:
  ReadingCost(const fitting::Slopes& slopes, std::size_t row, std::size_t parameters)
      : slopes_(slopes), row_(row), parameters_(parameters) {
    set_num_residuals(1);
    mutable_parameter_block_sizes()->push_back(static_cast<int>(parameters));
    mutable_parameter_block_sizes()->push_back(setting_count);
  }
  bool Evaluate(const double* const*, double* residual, double** jacobians) const override {
    *residual = slopes_.residuals[row_];
    if (jacobians != nullptr) {
      const double* row = &slopes_.jacobian[row_ * (parameters_ + setting_count)];
      if (jacobians[0] != nullptr) std::copy_n(row, parameters_, jacobians[0]);
      if (jacobians[1] != nullptr) std::copy_n(row + parameters_, setting_count, jacobians[1]);
    }
    return std::isfinite(*residual);  // where the action does not work the search steps back
  }

 private:
  const fitting::Slopes& slopes_;
  std::size_t row_, parameters_;
};

std::string ending_of(const ceres::Solver::Summary& summary, int steps) {
  switch (summary.termination_type) {
    case ceres::CONVERGENCE:
      return fmt::format("settled after {} steps", steps);
    case ceres::NO_CONVERGENCE:
      return fmt::format("stopped after {} steps without settling", steps);
    default:
      return "found no step that works";
  }
}

// What is read now is what the fitted profile wants: so that a regulation begins from there.
void keep_as_read(Fit& out) {
  const Model& model = out.model;
  std::vector<double> values(model.reading_count);
  fit::calc_read(model, out.unknowns, values);
  struct AsRead {
    Key key;
    action::Wanted wanted;
    double balance = 0;
  };
  std::vector<AsRead> notes;
  for (const SampleNote& note : model.notes) {
    const action::Anchor anchor = action::note_of(model.task.base, note.key);
    AsRead here{note.key, anchor.wanted, anchor.balance_weight};
    double down = std::nan(""), up = std::nan("");
    for (std::size_t i = 0; i < note.taken; ++i) {
      const double value = values[note.first + i];
      switch (note.readings[i].what) {
        case fit::What::blow:
          here.wanted.blow = value;
          break;
        case fit::What::let_off:
          here.wanted.let_off = value;
          break;
        case fit::What::drop:
          here.wanted.drop = value;
          break;
        case fit::What::dip:
          here.wanted.dip = value - (is_sharp(note.key) ? model.task.base.sharp_dip : 0);
          break;
        case fit::What::down_weight:
          down = value;
          break;
        case fit::What::up_weight:
          up = value;
          break;
        default:
          break;
      }
    }
    if (std::isfinite(down + up)) here.balance = 0.5 * (down + up);
    notes.push_back(here);
  }
  for (action::Anchor& anchor : out.profile.anchors) {
    const auto above = std::find_if(notes.begin(), notes.end(),
                                    [&](const AsRead& n) { return n.key >= anchor.key; });
    const AsRead& high = above == notes.end() ? notes.back() : *above;
    const AsRead& low = above == notes.begin() ? notes.front() : *(above - 1);
    const int span = high.key.number - low.key.number;
    const double share =
        span > 0
            ? std::clamp(static_cast<double>(anchor.key.number - low.key.number) / span, 0., 1.)
            : 0.0;
    const auto mix = [&](double a, double b) { return a + share * (b - a); };
    anchor.wanted.blow = mix(low.wanted.blow, high.wanted.blow);
    anchor.wanted.let_off = mix(low.wanted.let_off, high.wanted.let_off);
    anchor.wanted.drop = mix(low.wanted.drop, high.wanted.drop);
    anchor.wanted.dip = mix(low.wanted.dip, high.wanted.dip);
    anchor.balance_weight = mix(low.balance, high.balance);
  }
}

}  // namespace

namespace {

Result<Fit> solve_from(const fit::Task& task, const FitOptions& options,
                       std::span<const double> start) {
  auto model = fit::make_model(task, start);
  if (!model) return tl::unexpected(model.error());
  Fit out;
  out.model = std::move(*model);
  const Model& m = out.model;
  const std::size_t parameters = m.parameter_count();
  std::vector<double> x = m.start;
  x.resize(m.unknown_count(), 0.0);
  Readings readings(m, x);

  ceres::Problem::Options ownership;
  ownership.evaluation_callback = &readings;
  ownership.cost_function_ownership = ceres::DO_NOT_TAKE_OWNERSHIP;
  ownership.loss_function_ownership = ceres::DO_NOT_TAKE_OWNERSHIP;
  ceres::LossFunctionWrapper loss(new ceres::TrivialLoss, ceres::TAKE_OWNERSHIP);
  std::vector<std::unique_ptr<ceres::CostFunction>> costs;
  ceres::Problem problem(ownership);
  std::vector<const double*> blocks{x.data()};
  const Eigen::VectorXd prior = fitting::prior_sds(m);
  const auto add_prior = [&](std::size_t from, std::size_t count) {
    const auto n = static_cast<Eigen::Index>(count);
    ceres::Matrix weights =
        prior.segment(static_cast<Eigen::Index>(from), n).cwiseInverse().asDiagonal();
    costs.push_back(std::make_unique<ceres::NormalPrior>(weights, ceres::Vector::Zero(n)));
    problem.AddResidualBlock(costs.back().get(), nullptr, &x[from]);
  };
  add_prior(0, parameters);
  for (std::size_t n = 0; n < m.notes.size(); ++n) {
    const SampleNote& note = m.notes[n];
    double* own = &x[parameters + setting_count * n];
    blocks.push_back(own);
    add_prior(parameters + setting_count * n, setting_count);
    for (std::size_t i = 0; i < note.counted; ++i) {
      costs.push_back(std::make_unique<ReadingCost>(readings.slopes, note.first + i, parameters));
      problem.AddResidualBlock(costs.back().get(),
                               options.robust && i < note.taken ? &loss : nullptr, x.data(), own);
    }
  }

  ceres::Solver::Options search;
  search.linear_solver_type = ceres::DENSE_QR;
  search.logging_type = ceres::SILENT;
  // The profile as it was may lie far off, and then nearly every reading looks wrong: so plainly
  // first, to near the end. Readings are smooth to about a micrometre: more digits mean nothing.
  search.max_num_iterations = options.max_iterations;
  search.function_tolerance = options.robust ? 1e-3 : 1e-6;
  search.parameter_tolerance = 1e-5;
  ceres::Solver::Summary summary;
  ceres::Solve(search, &problem, &summary);
  out.start_sum_of_squares = 2 * summary.initial_cost;
  int steps = summary.num_successful_steps;
  if (options.robust) {
    loss.Reset(new ceres::CauchyLoss(loss_turns_at), ceres::TAKE_OWNERSHIP);
    search.function_tolerance = 1e-6;
    ceres::Solve(search, &problem, &summary);
    steps += summary.num_successful_steps;
  }
  if (!summary.IsSolutionUsable())
    return batten::problem("The fit did not find a step that works.",
                           "Check the readings for slips, or begin from another profile.");
  out.converged = summary.termination_type == ceres::CONVERGENCE;
  out.iterations = steps;
  out.ending = ending_of(summary, steps);
  out.sum_of_squares = 2 * summary.final_cost;
  out.unknowns = x;
  // Honest errors leave less than one a reading.
  std::size_t taken = 0;
  for (const SampleNote& note : m.notes) taken += note.taken;
  out.explained = out.sum_of_squares < 2 * static_cast<double>(taken);
  if (!out.explained) out.ending += ", but explains the readings badly";

  ceres::Covariance::Options how;
  how.algorithm_type = ceres::DENSE_SVD;
  ceres::Covariance covariance(how);
  const auto size = static_cast<Eigen::Index>(x.size());
  Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> dense(size, size);
  if (!covariance.Compute(blocks, &problem) ||
      !covariance.GetCovarianceMatrix(blocks, dense.data()))
    return batten::problem("The fit has no uncertainty to give: its last point does not work.");
  out.covariance = dense;

  fit::calc_jacobian(m, x, readings.slopes.residuals, readings.slopes.jacobian);
  fitting::judge(out, readings.slopes);
  out.profile = fit::profile_at(m.task, x);
  keep_as_read(out);
  return out;
}

}  // namespace

Result<Fit> solve_fit(const fit::Task& task, const FitOptions& options) {
  auto best = solve_from(task, options, {});
  // Stuck where a reading jumps: again from there with settings found anew, then from a knuckle
  // higher and lower, on which it depends most whether a note works.
  for (int attempt = 0; attempt < 3 && best && !best->explained; ++attempt) {
    std::vector<double> start(task.parameters.size(), 0.0);
    if (attempt == 0) std::copy_n(best->unknowns.begin(), start.size(), start.begin());
    for (std::size_t p = 0; p < start.size(); ++p)
      if (attempt > 0 && task.parameters[p].code == "knuckle-height")
        start[p] = attempt == 1 ? 1 : -1;
    auto other = solve_from(task, options, start);
    if (other && other->sum_of_squares < best->sum_of_squares) best = std::move(other);
  }
  return best;
}

}  // namespace batten
