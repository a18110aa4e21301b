// Advice held against a hidden truth.
#pragma once

#include "core/regulation/line/line.hpp"
#include "workshop/chance.hpp"

#include <vector>

namespace batten::line_test {

// Farther off than this a wrong direction is no longer noise: the tolerance against neighbours.
inline constexpr double beyond_noise = 0.25;  // mm

struct AdviceCount {
  int moves = 0, right = 0, wrong = 0;
  int wrong_beyond = 0;  // wrong where the true deviation exceeds beyond_noise
};
// Heights one per key, over the strings' datum.
AdviceCount count_advice(const Line& line, const std::vector<Length>& targets,
                         const std::vector<Length>& hammers);

struct Followed {
  double before = 0, after = 0;  // RMS of the true deviation over the notes moved, mm
};
// Every advised turn made once; the hand errs by 0.1 mm of crown (standard deviation).
Followed follow_by_turns(const Line& line, const std::vector<Length>& targets,
                         std::vector<Length> hammers, LengthPerTurn rise, workshop::Chance& hand);

}  // namespace batten::line_test
