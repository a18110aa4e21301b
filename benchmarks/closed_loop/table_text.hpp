// The closed loop's outcomes as one page.
#pragma once

#include "workshop/closed_loop.hpp"

#include <array>
#include <string>
#include <vector>

namespace batten::workshop {

inline constexpr std::size_t technician_count = 3;  // Batten first
inline constexpr std::array<const char*, technician_count> technician_names{"Batten", "by the book",
                                                                            "skilled"};

// One piano, one outcome for each technician.
struct PianoOutcome {
  std::array<Outcome, technician_count> by;
};

// Batten on fewer mechanisms, looking and turning from another chance on (PlanOptions).
struct Threshold {
  double act_from = 0, reread_from = 0;
  std::vector<Outcome> pianos;
};

struct LoopResult {
  std::vector<PianoOutcome> mechanism, table;
  std::vector<Threshold> thresholds;
};

// 95 % upper bound of a rate of which `seen` were seen in `tried` (Poisson; 3/tried for none).
double upper_bound(int seen, double tried);

std::string table_text(const LoopResult& result);

}  // namespace batten::workshop
