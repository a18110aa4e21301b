// The mechanism in Simbody, a general multibody library: its joints, its kinematics, its mass
// matrix, its integrator. The contact law is written here anew, in world axes, from positions and
// velocities of material points that Simbody reports, and applied as forces at points.
#pragma once

#include "tests/mechanism/plain_mechanism.hpp"

#include <memory>
#include <vector>

namespace batten::tests {

class SimbodyMechanism {
 public:
  explicit SimbodyMechanism(const PlainMechanism& plain);
  ~SimbodyMechanism();
  SimbodyMechanism(const SimbodyMechanism&) = delete;
  SimbodyMechanism& operator=(const SimbodyMechanism&) = delete;

  // Coordinates as the module counts them: pins absolute.
  void set(const std::vector<double>& q, const std::vector<double>& v);
  std::vector<double> accelerations();
  std::vector<double> q() const;
  std::vector<double> v() const;
  // Runge–Kutta–Merson, error-controlled; from now on for `seconds`.
  void integrate(double seconds, double accuracy);

 private:
  struct Inside;
  std::unique_ptr<Inside> in;
};

}  // namespace batten::tests
