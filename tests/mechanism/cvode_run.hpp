// The module's forces, integrated by SUNDIALS CVODE: variable order and step, error-controlled.
#pragma once

#include "tests/mechanism/runs.hpp"

namespace batten::tests {

struct CvodeCounts {
  long steps = 0, evaluations = 0;
};
// Moves `trial` on by `seconds`. Backward differentiation formulas with a difference-quotient
// Jacobian; `relative` tolerance, absolute ones a hundredth of it. False if CVODE gives up.
bool integrate_by_cvode(Trial& trial, double seconds, double relative,
                        CvodeCounts* counts = nullptr);

}  // namespace batten::tests
