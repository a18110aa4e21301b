// One piano regulated from the first look to the last, and judged.
#pragma once

#include "workshop/judge.hpp"

#include <string_view>

namespace batten::workshop {

struct Outcome {
  Tally tally;
  Verdict before, after;
};

// `piano` is changed. The same seed gives the hands the same errors in the same order.
Outcome run(HiddenPiano& piano, Technician& technician, std::uint64_t seed,
            const HandsLaw& law = {});

}  // namespace batten::workshop
