// The demo: an invented 2.1 m grand in an invented arts centre, mid-job, built from a hidden truth.
#pragma once

#include "app/desk.hpp"
#include "core/journal/entry.hpp"
#include "core/regulation/aims/aim.hpp"
#include "workshop/string_line.hpp"

#include <array>
#include <vector>

namespace batten::workshop {

// A capstan turned, and where its crown stands since.
struct DemoMove {
  Key key;
  Turns turns;
  Length after;
};

// A part of an earlier pass set right, its reading before and since (catalogue units).
struct DemoSetting {
  Key key;
  Adjuster adjuster = Adjuster::balance_punchings;
  double amount = 0, before = 0, after = 0;
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
  // Everything else as it stands now, one per key, catalogue units; the aftertouch follows from
  // dip, blow and let-off by `ratio` (R1 of docs/theory/action.md), the blow from string and
  // hammer. Key height, jack, lever and springs have been set; the rest is as found.
  std::vector<std::array<double, aim_count>> aims;
  std::vector<double> ratio;          // hammer travel to key travel, to let-off
  std::vector<DemoSetting> settings;  // made before the hammers were read, in working order
};

DemoTruth demo_truth();

// What build_demo writes down of the visit in progress, request after request.
std::vector<std::vector<EntryContent>> demo_journal();

// Puts the demo piano into the store through the app's own functions, as technicians would have
// entered it: four visits over three years, and a day of a fifth. Returns it. A store that has it
// already is left as it is.
Result<Piano> build_demo(Desk& desk);

}  // namespace batten::workshop
