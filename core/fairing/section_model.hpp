// The Gaussian process of one section, for one choice of its hyperparameters. Plain doubles in
// millimetres and keys. Internal to core/fairing.
#pragma once

#include <Eigen/Core>

#include <vector>

namespace batten::fairing {

// One point of the hyperparameter grid and the logarithm of its prior weight.
struct Hyperparameters {
  double amplitude;     // mm
  double reach;         // keys
  double noise_factor;  // times the stated uncertainty
  double log_weight;
};

// Prior standard deviations of the mean's coefficients, mm: constant, t and t^2 - 1/3.
struct MeanPrior {
  double offset;
  double slope;
  double bow;
};

// What one section's readings are, centred so that a zero-mean offset prior is fair.
struct SectionData {
  double first, last;           // key numbers
  Eigen::VectorXd keys;         // n
  Eigen::VectorXd heights;      // n, mm, centre removed
  Eigen::VectorXd sd;           // n, mm
  Eigen::VectorXd target_keys;  // m: every key of the section
};

// Matern 5/2 with the distance in units of the reach: (1 + a + a^2/3) e^-a, a = sqrt(5) |r| /
// reach. Source: Rasmussen & Williams, Gaussian Processes for Machine Learning, 2006, eq. 4.17.
double matern52(double distance, double reach);

// Prior covariance between two sets of keys of one section, mm^2.
Eigen::MatrixXd prior_covariance(const Eigen::VectorXd& a, const Eigen::VectorXd& b, double first,
                                 double last, const Hyperparameters& h, const MeanPrior& mean);

// What a section is before any reading, at its readings' keys and its targets, mm^2.
struct Prior {
  Eigen::MatrixXd readings;         // n x n
  Eigen::MatrixXd cross;            // n x m, readings - targets
  Eigen::VectorXd target_variance;  // m
};

Prior calc_prior(const SectionData& data, const Hyperparameters& h, const MeanPrior& mean);

// The readings' covariance factored, with what leave-one-out formulas and updates need.
// Source: Rasmussen & Williams 2006, algorithm 2.1 and eqs 5.10-5.12 (leave-one-out).
struct Posterior {
  Eigen::MatrixXd inverse;         // n x n, of K + noise
  Eigen::VectorXd alpha;           // inverse * heights
  double log_evidence;             // log N(heights; 0, K + noise), 2 pi left out
  Eigen::MatrixXd gain;            // n x m, inverse * prior covariance readings - targets
  Eigen::VectorXd mean, variance;  // m, of the curve at the targets; mm, mm^2
};

Posterior calc_posterior(const SectionData& data, const Prior& prior, double noise_factor);
Posterior calc_posterior(const SectionData& data, const Hyperparameters& h, const MeanPrior& mean);

}  // namespace batten::fairing
