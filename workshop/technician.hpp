// Who regulates: works with the hands there are toward targets of his own.
#pragma once

#include "workshop/hands.hpp"

#include <array>
#include <string_view>
#include <vector>

namespace batten::workshop {

// What each note is to read, catalogue units, order of Aim; NaN: nothing is asked.
using NoteTargets = std::array<double, aim_count>;

class Technician {
 public:
  virtual ~Technician() = default;
  virtual std::string_view name() const = 0;
  // The whole job, until he would hand the piano back.
  virtual void work(Hands& hands) = 0;
  // What he worked toward, one per key; filled by work.
  const std::vector<NoteTargets>& targets() const { return targets_; }

 protected:
  std::vector<NoteTargets> targets_;
};

// The usual figures: blow 46 to 45 mm, let-off 2.0 to 1.4, dip 10.0 (sharps 9.7), drop 1.5, check
// 14, aftertouch 1.2, jack clearance 0.15, jack position 0, grade 2, damper at half blow, keys as
// built. Common practice, no source.
NoteTargets makers_sheet(const HiddenPiano& piano, Key key);

}  // namespace batten::workshop
