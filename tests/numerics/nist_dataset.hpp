// Reads the data files of the NIST Statistical Reference Datasets in the form they are published
// in.
#pragma once

#include <Eigen/Core>

#include <string>

namespace batten::tests {

struct NistDataset {
  Eigen::VectorXd certified;     // parameters, B0 (or b1) first
  Eigen::VectorXd certified_sd;  // of the parameters
  double certified_residual_sd = 0;
  Eigen::MatrixXd starts;  // nonlinear sets: a row per parameter, a column per published start
  Eigen::VectorXd y;
  Eigen::MatrixXd x;  // a column per predictor
};

// data/reference/nist/<kind>/<name>.dat. A file that is not as expected fails the test that asked.
NistDataset read_nist(const std::string& kind, const std::string& name);

// Correct significant digits: −log10 |value − certified| / |certified|, the measure of
// B. D. McCullough, "Assessing the reliability of statistical software: part I", The American
// Statistician 52 (1998) 358. At most 15; the plain difference where the certified value is 0.
double correct_digits(double value, double certified);
double fewest_correct_digits(const Eigen::VectorXd& values, const Eigen::VectorXd& certified);

}  // namespace batten::tests
