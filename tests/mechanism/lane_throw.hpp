// One throw of the train as eight lanes or as one, for comparison; each instruction set is compiled
// in a source of its own.
#pragma once

#include "core/mechanism/model.hpp"

namespace batten::tests {

inline constexpr int throw_steps = 500;
// What is written down every tenth step and lane: q and v, height and speed of the head, the next
// step, and gap, closing, force and slip of every contact.
inline constexpr int throw_records = throw_steps / 10;
inline constexpr int figures_of(int coordinates, int contacts) {
  return 2 * coordinates + 3 + 4 * contacts;
}

// `out` takes record after record, in each lane after lane, in each figure after figure. Lanes with
// hold 0 stand still.
void throw_one(const mechanism::Model<double>& model, double hold, double* out);
void throw_base(const mechanism::Model<double>* eight, const double* hold, double* out);
void throw_avx2(const mechanism::Model<double>* eight, const double* hold, double* out);
void throw_avx512(const mechanism::Model<double>* eight, const double* hold, double* out);

}  // namespace batten::tests
