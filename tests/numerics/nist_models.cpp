#include "tests/numerics/nist_models.hpp"

#include <Eigen/Core>

#include <cmath>
#include <map>
#include <numbers>
#include <unsupported/Eigen/AutoDiff>

namespace batten::tests {
namespace {

// Derivatives are carried along by a number that knows its own gradient, so each model is written
// once. Nine parameters at most (ENSO).
using Gradient = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, 9, 1>;
using Dual = Eigen::AutoDiffScalar<Gradient>;
using Parameters = std::vector<Dual>;
using Row = Eigen::Matrix<double, 1, Eigen::Dynamic>;
using Formula = Dual (*)(const Parameters& b, const Row& x);

constexpr double pi = std::numbers::pi;

Dual power(const Dual& base, const Dual& exponent) { return exp(exponent * log(base)); }
Dual square(const Dual& value) { return value * value; }

Dual decay(const Parameters& b, const Row& x) { return exp(-b[0] * x[0]) / (b[1] + b[2] * x[0]); }
Dual saturation(const Parameters& b, const Row& x) { return b[0] * (1.0 - exp(-b[1] * x[0])); }
Dual three_decays(const Parameters& b, const Row& x) {
  return b[0] * exp(-b[1] * x[0]) + b[2] * exp(-b[3] * x[0]) + b[4] * exp(-b[5] * x[0]);
}
Dual two_peaks(const Parameters& b, const Row& x) {
  return b[0] * exp(-b[1] * x[0]) + b[2] * exp(-square((x[0] - b[3]) / b[4])) +
         b[5] * exp(-square((x[0] - b[6]) / b[7]));
}
Dual cubic_over_cubic(const Parameters& b, const Row& x) {
  const double t = x[0];
  return (b[0] + t * (b[1] + t * (b[2] + t * b[3]))) / (1.0 + t * (b[4] + t * (b[5] + t * b[6])));
}
Dual wave(const Parameters& b, std::size_t period, const Row& x) {
  const Dual angle = 2.0 * pi * x[0] / b[period];
  return b[period + 1] * cos(angle) + b[period + 2] * sin(angle);
}

const std::map<std::string, Formula>& formulas() {
  static const std::map<std::string, Formula> all{
      {"Bennett5",
       [](const Parameters& b, const Row& x) -> Dual {
         return b[0] * power(b[1] + x[0], -1.0 / b[2]);
       }},
      {"BoxBOD", saturation},
      {"Chwirut1", decay},
      {"Chwirut2", decay},
      {"DanWood",
       [](const Parameters& b, const Row& x) -> Dual { return b[0] * exp(b[1] * std::log(x[0])); }},
      {"ENSO",
       [](const Parameters& b, const Row& x) -> Dual {
         const double year = 2 * pi * x[0] / 12;
         return b[0] + b[1] * std::cos(year) + b[2] * std::sin(year) + wave(b, 3, x) +
                wave(b, 6, x);
       }},
      {"Eckerle4",
       [](const Parameters& b, const Row& x) -> Dual {
         return b[0] / b[1] * exp(-0.5 * square((x[0] - b[2]) / b[1]));
       }},
      {"Gauss1", two_peaks},
      {"Gauss2", two_peaks},
      {"Gauss3", two_peaks},
      {"Hahn1", cubic_over_cubic},
      {"Kirby2",
       [](const Parameters& b, const Row& x) -> Dual {
         return (b[0] + x[0] * (b[1] + x[0] * b[2])) / (1.0 + x[0] * (b[3] + x[0] * b[4]));
       }},
      {"Lanczos1", three_decays},
      {"Lanczos2", three_decays},
      {"Lanczos3", three_decays},
      {"MGH09",
       [](const Parameters& b, const Row& x) -> Dual {
         return b[0] * (x[0] * x[0] + x[0] * b[1]) / (x[0] * x[0] + x[0] * b[2] + b[3]);
       }},
      {"MGH10",
       [](const Parameters& b, const Row& x) -> Dual { return b[0] * exp(b[1] / (x[0] + b[2])); }},
      {"MGH17",
       [](const Parameters& b, const Row& x) -> Dual {
         return b[0] + b[1] * exp(-x[0] * b[3]) + b[2] * exp(-x[0] * b[4]);
       }},
      {"Misra1a", saturation},
      {"Misra1b",
       [](const Parameters& b, const Row& x) -> Dual {
         return b[0] * (1.0 - 1.0 / square(1.0 + b[1] * x[0] / 2.0));
       }},
      {"Misra1c",
       [](const Parameters& b, const Row& x) -> Dual {
         return b[0] * (1.0 - 1.0 / sqrt(1.0 + 2.0 * b[1] * x[0]));
       }},
      {"Misra1d",
       [](const Parameters& b, const Row& x) -> Dual {
         return b[0] * b[1] * x[0] / (1.0 + b[1] * x[0]);
       }},
      {"Nelson",
       [](const Parameters& b, const Row& x) -> Dual {
         return b[0] - b[1] * x[0] * exp(-b[2] * x[1]);
       }},
      {"Rat42",
       [](const Parameters& b, const Row& x) -> Dual {
         return b[0] / (1.0 + exp(b[1] - b[2] * x[0]));
       }},
      {"Rat43",
       [](const Parameters& b, const Row& x) -> Dual {
         return b[0] / power(1.0 + exp(b[1] - b[2] * x[0]), 1.0 / b[3]);
       }},
      {"Roszman1",
       [](const Parameters& b, const Row& x) -> Dual {
         // arctan has no derivative in the library's number: atan(u)' = u'/(1 + u²).
         const Dual u = b[2] / (x[0] - b[3]);
         const Dual arc(std::atan(u.value()), u.derivatives() / (1 + u.value() * u.value()));
         return b[0] - b[1] * x[0] - arc / pi;
       }},
      {"Thurber", cubic_over_cubic},
  };
  return all;
}

Parameters dual(const Eigen::VectorXd& values) {
  Parameters parameters;
  for (Eigen::Index i = 0; i < values.size(); ++i)
    parameters.emplace_back(values[i], Gradient::Unit(values.size(), i));
  return parameters;
}

}  // namespace

std::vector<std::string> nist_nonlinear_names() {
  std::vector<std::string> names;
  for (const auto& [name, formula] : formulas()) names.push_back(name);
  return names;
}

NonlinearModel nist_model(const std::string& name, const NistDataset& set, Jacobian jacobian) {
  const Formula formula = formulas().at(name);
  // Nelson's model is stated for log[y].
  const Eigen::VectorXd observed = name == "Nelson" ? set.y.array().log().matrix().eval() : set.y;
  NonlinearModel model;
  model.residual_count = static_cast<int>(set.y.size());
  model.calc_residuals = [=, &set](const Eigen::VectorXd& b, Eigen::VectorXd& residuals) {
    const Parameters parameters = dual(b);
    for (Eigen::Index i = 0; i < observed.size(); ++i)
      residuals[i] = observed[i] - formula(parameters, set.x.row(i)).value();
  };
  if (jacobian == Jacobian::exact)
    model.calc_jacobian = [=, &set](const Eigen::VectorXd& b, Eigen::MatrixXd& derivatives) {
      const Parameters parameters = dual(b);
      for (Eigen::Index i = 0; i < observed.size(); ++i)
        derivatives.row(i) = -formula(parameters, set.x.row(i)).derivatives().transpose();
    };
  return model;
}

}  // namespace batten::tests
