// What every cause does to a note, kept between questions: a look that is answered costs some
// milliseconds then, instead of a quarter of a second.
#pragma once

#include "app/plan_memory.hpp"
#include "core/regulation/complaint/complaint.hpp"

namespace batten {

// A table is about 400 kB. Safe from every thread.
struct ComplaintMemory {
  Lately<ComplaintTable> tables{12};
};

}  // namespace batten
