// What the hidden truth says of the work in the end.
#pragma once

#include "workshop/technician.hpp"

#include <array>
#include <vector>

namespace batten::workshop {

// What is judged, in this order.
inline constexpr std::array judged_aims{Aim::blow,          Aim::dip,        Aim::let_off,
                                        Aim::drop,          Aim::aftertouch, Aim::check_distance,
                                        Aim::jack_clearance};
inline constexpr std::size_t judged_count = judged_aims.size();

struct Verdict {
  int notes = 0;
  // Notes inside both tolerances (catalogue): around the technician's own target, and against the
  // neighbours.
  std::array<int, judged_count> inside{};
  std::array<int, judged_count> inside_absolute{}, inside_neighbours{};
  int inside_all = 0;  // in every one
  // Root mean square against the section's fair curve, in tolerances against neighbours; a note
  // without reading counts as ten.
  std::array<double, judged_count> unevenness{};
  double unevenness_all = 0;  // over all of them
  // Mean aftertouch and dip, mm: what the piano was made into.
  double aftertouch = 0, dip = 0;
};

// The neighbours' line at each place: a straight line through up to four on either side and the
// note itself, in the same section and, of key readings, the same colour; by Tukey's biweight
// (Beaton & Tukey, Technometrics 16 (1974) 147), so that one bad neighbour does not spoil it.
std::vector<double> neighbours_line(const std::vector<double>& x, const std::vector<double>& y);
// The fair curve of a section: a parabola by the same weights.
std::vector<double> fair_parabola(const std::vector<double>& x, const std::vector<double>& y);

Verdict judge(HiddenPiano& piano, const std::vector<NoteTargets>& targets);

}  // namespace batten::workshop
