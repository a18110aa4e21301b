// The demo: an invented 2.1 m grand in an invented arts centre, mid-job, built from a hidden truth.
#pragma once

#include "app/desk.hpp"
#include "core/journal/entry.hpp"
#include "workshop/string_line.hpp"

#include <vector>

namespace batten::workshop {

// A capstan turned, and where its crown stands since.
struct DemoMove {
  Key key;
  Turns turns;
  Length after;
};

// What nobody at the piano knows. Hammer heights over the strings' datum, one per key.
struct DemoTruth {
  StringLine strings;                           // with all unisons level
  std::vector<Length> targets;                  // heights that give the wanted blow
  std::vector<Length> hammers_before, hammers;  // as found, and as they stand now
  std::vector<DemoMove> moves;                  // made so far
  LengthPerTurn crown_per_turn;                 // of this piano
  std::vector<Key> wrong;                       // string readings 1 mm and more off
  std::vector<Key> low_unisons;                 // one string 0.3 mm under the others
};

DemoTruth demo_truth();

// What build_demo writes down, request after request.
std::vector<std::vector<EntryContent>> demo_journal();

// Puts the demo piano into the store through the app's own functions, as a technician would have
// entered it over a day, and returns it. A store that has it already is left as it is.
Result<Piano> build_demo(Desk& desk);

}  // namespace batten::workshop
