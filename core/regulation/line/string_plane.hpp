// The strings as a plan needs them: their line at every note, the bench tied to it, the gate.
#pragma once

#include "core/journal/fold.hpp"
#include "core/regulation/line/line.hpp"

#include <vector>

namespace batten {

struct StringPlane {
  // One per key: fair curve of the strings and its standard deviation (infinite where unknown);
  // what is added to a hammer height as read, and its standard deviation.
  std::vector<Length> height, sd, offset, offset_sd;
  TransferEstimate transfer;
  PreparationGate gate;
};

// From what stands in the journal, as calc_line.
Result<StringPlane> calc_string_plane(Compass compass, const LineSettings& settings,
                                      const Standing& standing);

}  // namespace batten
