// Invented visits to hand over: much or nothing read, long names, small and large keyboards.
#pragma once

#include "core/regulation/handover/handover.hpp"

#include <string>

namespace batten {

struct HandoverCase {
  std::string name;
  Compass compass = {};
  int read = 88;     // notes of each reading, from the bass
  bool done = true;  // moved and read again; else nothing was
  bool long_names = false;
  std::size_t own_words = 0;  // letters
  PageStyle style = {};
  bool letter = false;
};

HandoverFacts invented_facts(const HandoverCase& c);

}  // namespace batten
