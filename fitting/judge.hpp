// What a finished search says: uncertainties, what is told, which readings are doubtful. Internal
// to fitting/.
#pragma once

#include "fitting/fit.hpp"

#include <Eigen/Core>

namespace batten::fitting {

// Whitened rows at the solution: every residual of fit::Model, as calc_jacobian gives them.
struct Slopes {
  std::vector<double> residuals, jacobian;
};

// Rows of the Jacobian over all unknowns.
Eigen::MatrixXd spread(const fit::Model& model, const Slopes& slopes);
// Prior standard deviation of every unknown.
Eigen::VectorXd prior_sds(const fit::Model& model);

// Fills parameters, figures, readings, told_together of a Fit that has model, unknowns and
// covariance.
void judge(Fit& fit, const Slopes& slopes);

}  // namespace batten::fitting
