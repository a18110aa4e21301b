// What to do in the minutes there are: for each note one of several bundles of moves, so that the
// least unevenness is left.
#pragma once

#include "core/outcome/outcome.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace batten {

// One way to treat a note. Prerequisites within a note are kept by which bundles there are.
struct Bundle {
  std::uint32_t passes = 0;  // bit p: has work in pass p
  double minutes = 0;        // at the note, passes' setting up left out; ≥ 0
  double cost = 0;  // what is left: weighted sum of squared deviations in tolerances; ≥ 0
};

struct TimeBoxTask {
  // Bundle 0 of every note is "nothing done": no passes, no minutes.
  std::vector<std::vector<Bundle>> notes;
  // Minutes to set each pass up, paid once if any chosen bundle has work in it; ≥ 0.
  std::vector<double> set_up;
  double minutes = 0;  // there are

  // Either may be left empty.
  // Per pass: passes to be set up with it (bit set), their minutes paid, though no note need have
  // work in them.
  std::vector<std::uint32_t> needs = {};
  // Per note: passes this note must have work in as soon as any note has (samples before fill).
  std::vector<std::uint32_t> leads = {};
};

struct TimeBoxChoice {
  std::vector<std::size_t> bundle;  // one per note
  std::uint32_t passes = 0;         // set up
  double minutes = 0;               // setting up included
  double cost = 0;                  // sum over the notes
  // No choice whatever within the minutes costs less (Lagrange bound). The choice is the best there
  // is where it equals the cost.
  double bound = 0;
};

// Errors: no note; a note without bundles or whose first is not "nothing done"; a number negative,
// not finite; a pass beyond set_up; needs or leads of the wrong length; more than 32 passes (16
// that take time to set up), 128 notes or 256 bundles at a note. docs/theory/time-box.md derives
// the method and says how close it comes. About 4 ms for 88 notes × 12 bundles × 11 passes.
Result<TimeBoxChoice> choose_in_time(const TimeBoxTask& task);

// What each span of minutes buys, task.minutes left aside: one point per entry of `minutes`
// (rising), each a choice that fits; cost never rises. Errors as above, also a span that is
// negative, not finite or not rising.
struct TimeBoxPoint {
  double minutes = 0;  // there are
  TimeBoxChoice choice;
};
Result<std::vector<TimeBoxPoint>> time_box_curve(const TimeBoxTask& task,
                                                 const std::vector<double>& minutes);

}  // namespace batten
