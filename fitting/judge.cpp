#include "fitting/judge.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

#include <algorithm>
#include <cmath>

namespace batten::fitting {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

Index at(std::size_t i) { return static_cast<Index>(i); }

// A reading is doubtful from here: the 0.1 % point of the normal distribution, customary in
// geodesy (W. Baarda, A testing procedure for use in geodetic networks, Delft 1968).
constexpr double doubtful_from = 3.29;
// Share of a reading's own error that must show in what is left for others to check it at all.
constexpr double least_share = 0.01;
// Two tests so alike that the data cannot tell which reading is wrong (estimate).
constexpr double alike = 0.8;
// Of the weights of a direction, those worth naming.
constexpr double worth_naming = 0.3;

// Data snooping: every reading against all others, the worst set aside, and again.
void find_doubtful(Fit& fit, const MatrixXd& all, const VectorXd& prior,
                   const std::vector<double>& residuals) {
  const fit::Model& model = fit.model;
  const Index unknowns = all.cols();
  std::vector<Index> rows;         // counted readings
  std::vector<std::size_t> place;  // of those in fit.readings; beyond: assumed
  std::size_t taken = 0;
  for (const fit::SampleNote& note : model.notes)
    for (std::size_t i = 0; i < note.counted; ++i) {
      rows.push_back(at(note.first + i));
      place.push_back(i < note.taken ? taken++ : fit.readings.size());
    }
  MatrixXd a(at(rows.size()), unknowns);
  VectorXd r(at(rows.size()));
  for (std::size_t k = 0; k < rows.size(); ++k) {
    a.row(at(k)) = all.row(rows[k]);
    r[at(k)] = residuals[static_cast<std::size_t>(rows[k])];
  }
  const VectorXd held = prior.cwiseAbs2().cwiseInverse();
  const VectorXd x = Eigen::Map<const VectorXd>(fit.unknowns.data(), unknowns);
  VectorXd weight = VectorXd::Ones(at(rows.size()));
  constexpr int most_doubtful = 8;
  for (int round = 0; round <= most_doubtful; ++round) {
    MatrixXd information = a.transpose() * weight.asDiagonal() * a;
    information.diagonal() += held;
    const MatrixXd c = information.ldlt().solve(MatrixXd::Identity(unknowns, unknowns));
    // To the plain least-squares point, straight from here.
    const VectorXd gradient = a.transpose() * weight.cwiseProduct(r) + held.cwiseProduct(x);
    const VectorXd left = r - a * (c * gradient);
    const MatrixXd q = -(a * c * a.transpose());  // off the diagonal, that of what is left
    std::size_t worst = rows.size();
    for (std::size_t k = 0; k < rows.size(); ++k) {
      if (place[k] >= fit.readings.size()) continue;
      const bool aside = weight[at(k)] == 0;
      const double share = aside ? 1 - q(at(k), at(k)) : 1 + q(at(k), at(k));
      FittedReading& reading = fit.readings[place[k]];
      if (aside) {  // against what the others say of it
        reading.misfit = left[at(k)] / std::sqrt(share);
        continue;
      }
      reading.checked = share > least_share;
      reading.misfit = reading.checked ? left[at(k)] / std::sqrt(share) : 0;
      if (worst == rows.size() ||
          std::abs(reading.misfit) > std::abs(fit.readings[place[worst]].misfit))
        worst = k;
    }
    if (worst == rows.size() || round == most_doubtful) return;
    FittedReading& reading = fit.readings[place[worst]];
    if (std::abs(reading.misfit) < doubtful_from) return;
    reading.doubtful = true;
    const double own = 1 + q(at(worst), at(worst));
    for (std::size_t k = 0; k < rows.size(); ++k) {
      if (k == worst || place[k] >= fit.readings.size() || weight[at(k)] == 0) continue;
      const double other = 1 + q(at(k), at(k));
      if (other > least_share && std::abs(q(at(k), at(worst))) > alike * std::sqrt(own * other))
        reading.or_else.push_back(place[k]);
    }
    weight[at(worst)] = 0;
  }
}

void find_told_together(Fit& fit) {
  const Index parameters = at(fit.model.parameter_count());
  const Eigen::SelfAdjointEigenSolver<MatrixXd> axes(
      fit.covariance.topLeftCorner(parameters, parameters));
  for (Index k = 0; k < parameters; ++k) {
    Direction direction;
    direction.sd = std::sqrt(std::max(0.0, axes.eigenvalues()[k]));
    if (told_of(direction.sd, 1) != Told::told) continue;
    for (Index p = 0; p < parameters; ++p)
      if (std::abs(axes.eigenvectors()(p, k)) >= worth_naming)
        direction.parts.emplace_back(static_cast<std::size_t>(p), axes.eigenvectors()(p, k));
    std::ranges::sort(direction.parts, [](const auto& a, const auto& b) {
      return std::abs(a.second) > std::abs(b.second);
    });
    fit.told_together.push_back(direction);
  }
}

}  // namespace

MatrixXd spread(const fit::Model& model, const Slopes& slopes) {
  const std::size_t columns = model.column_count(), parameters = model.parameter_count();
  MatrixXd out = MatrixXd::Zero(at(model.reading_count), at(model.unknown_count()));
  for (std::size_t n = 0; n < model.notes.size(); ++n)
    for (std::size_t i = 0; i < model.notes[n].readings.size(); ++i) {
      const std::size_t row = model.notes[n].first + i;
      for (std::size_t c = 0; c < columns; ++c)
        out(at(row), at(c < parameters ? c : c + fit::setting_count * n)) =
            slopes.jacobian[row * columns + c];
    }
  return out;
}

VectorXd prior_sds(const fit::Model& model) {
  VectorXd out = VectorXd::Constant(at(model.unknown_count()), fit::setting_prior_sd);
  out.head(at(model.parameter_count())).setOnes();
  return out;
}

void judge(Fit& fit, const Slopes& slopes) {
  const fit::Model& model = fit.model;
  const MatrixXd rows = spread(model, slopes);
  const VectorXd prior = prior_sds(model);
  for (std::size_t p = 0; p < model.parameter_count(); ++p) {
    const double sd = std::sqrt(fit.covariance(at(p), at(p)));
    const fit::Parameter& parameter = model.task.parameters[p];
    fit.parameters.push_back(
        {parameter, fit.unknowns[p] * parameter.prior_sd, sd * parameter.prior_sd, told_of(sd, 1)});
  }
  for (const fit::SampleNote& note : model.notes) {
    for (std::size_t i = 0; i < note.taken; ++i) {
      const fit::Reading& reading = note.readings[i];
      fit.readings.push_back({reading,
                              reading.value + slopes.residuals[note.first + i] * reading.sd,
                              0,
                              true,
                              false,
                              {}});
    }
    for (std::size_t i = note.counted; i < note.readings.size(); ++i) {
      const VectorXd row = rows.row(at(note.first + i));
      FittedFigure figure{note.key, note.readings[i].what, slopes.residuals[note.first + i]};
      figure.sd = std::sqrt(row.dot(fit.covariance * row));
      // Before looking, the settings were as surely known as the profile's figures are.
      figure.prior_sd = row.head(at(model.parameter_count())).norm();
      figure.told = told_of(figure.sd, figure.prior_sd);
      fit.figures.push_back(figure);
    }
  }
  find_doubtful(fit, rows, prior, slopes.residuals);
  find_told_together(fit);
}

}  // namespace batten::fitting
