// The models of the NIST nonlinear datasets, as their files state them, with exact derivatives.
#pragma once

#include "core/numerics/nonlinear_least_squares.hpp"
#include "tests/numerics/nist_dataset.hpp"

#include <string>
#include <vector>

namespace batten::tests {

enum class Jacobian { exact, differences };

// Names of the sets known here.
std::vector<std::string> nist_nonlinear_names();

// Residuals y − f(x; b); `set` must outlive the model.
NonlinearModel nist_model(const std::string& name, const NistDataset& set, Jacobian jacobian);

}  // namespace batten::tests
