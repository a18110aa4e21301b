// Mechanisms that tests and benchmarks share.
#pragma once

#include "core/mechanism/mechanism.hpp"

namespace batten::tests {

// A train of levers with nine coordinates, eleven contacts of every kind, two stops: a beam with an
// elastic end lifts a lever that carries two others, which throw a fourth with an elastic head
// against a sprung slide. `variation` changes its numbers by up to a few percent, not its shape.
// Probe 0 is the beam's end, pushed down to set it going; probe 1 the head.
mechanism::Description train(double variation = 0);

// Every pair of partners, carried pins, slides, couplings, stops and ties, with dimensions and
// postures drawn from `seed`; most contacts are pressed.
mechanism::Description tangle(unsigned seed);

// The train's push, N, downward at probe 0.
inline constexpr double train_push = 12;

}  // namespace batten::tests
