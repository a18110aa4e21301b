// Energy book-keeping: where the work put in has gone.
#pragma once

#include "core/mechanism/evaluate.hpp"

namespace batten::mechanism {

struct Energy {
  double kinetic = 0, gravity = 0;   // J; gravity from the described posture
  double springs = 0, contacts = 0;  // stored in couplings and ties; in pressed contacts and stops
  double total() const { return kinetic + gravity + springs + contacts; }
};
Energy calc_energy(const Model<double>& model, const Motion<double>& at,
                   const EvaluateOptions& options = {});

// Power turned into heat at the state, W, each >= 0. A contact's damping is the power of what its
// force differs from that of the stored energy: more while it is pressed, less while it parts.
struct Loss {
  double contact_friction = 0, contact_damping = 0, pins = 0;
  double total() const { return contact_friction + contact_damping + pins; }
};
Loss calc_loss(const Model<double>& model, const Motion<double>& at,
               const EvaluateOptions& options = {});

}  // namespace batten::mechanism
