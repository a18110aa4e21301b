// What a regulation changes under the fingers: the same strokes played by the model on a note as it
// was read before and as it stands now.
//
// Units of the catalogue in, m/s, ms and repetitions a second out. Nothing is claimed of a note the
// model cannot play.
#pragma once

#include "core/action/profile.hpp"
#include "core/regulation/aims/aim.hpp"

#include <array>
#include <limits>
#include <string>
#include <vector>

namespace batten {

// What is known of one aim around a note, before and after, as differences from the target; both 0
// where it was not read before and known after.
struct TouchAim {
  double before = 0, after = 0;
  double before_sd = 0, after_sd = 0;
  // Root mean square from note to note.
  double before_beside = 0, after_beside = 0;
  int beside = 0;  // notes it is drawn from
};

struct TouchTask {
  Key key;
  action::Wanted target;
  std::array<TouchAim, aim_count> aims;
};

// NaN: not known. `sd`: one standard deviation of the difference, from the readings alone.
struct TouchFigure {
  double before = std::numeric_limits<double>::quiet_NaN();
  double after = std::numeric_limits<double>::quiet_NaN();
  double sd = 0;
  bool known() const { return before == before && after == after; }
};

struct Touch {
  Key key;
  TouchFigure power;       // m/s: hammer speed at the string, pressed hard
  TouchFigure time;        // ms: from the key's start to the string, pressed at a middling effort
  TouchFigure repetition;  // a second: most repetitions of a middling stroke, key let up to 3 mm
  TouchFigure unevenness;  // share of the speed by which neighbours differ, same hard touch
};

// One per task, same order. Pure; all notes go side by side. Error: a profile out of range.
Result<std::vector<Touch>> calc_touch(const action::Profile& profile,
                                      const std::vector<TouchTask>& tasks);

}  // namespace batten
