// The gate, the order and the cautions of a line. Internal to core/regulation/line.
#pragma once

#include "core/regulation/line/line.hpp"

namespace batten::line {

PreparationGate make_gate(const Standing& standing);

// Notes with Verdict::move: samples first, then by halves; none while the gate is shut or the bench
// is not tied to the strings.
std::vector<Key> make_order(const Line& line);

std::vector<Caution> make_cautions(const Line& line);

}  // namespace batten::line
