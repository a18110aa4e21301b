// From the journal to what drift is learned from. Internal to core/regulation/drift.
#pragma once

#include "core/journal/fold.hpp"
#include "core/keyboard/compass.hpp"
#include "core/outcome/outcome.hpp"
#include "core/regulation/aims/targets.hpp"
#include "core/regulation/catalogue/equipment.hpp"
#include "core/regulation/catalogue/working.hpp"
#include "core/regulation/drift/climate.hpp"
#include "core/regulation/drift/priors.hpp"
#include "core/regulation/drift/settings.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace batten::drift {

struct VisitFacts {
  Uuid id;
  double day = 0;                  // since 1970-01-01, of its last reading or move
  std::optional<double> humidity;  // mean of what was read, %
};

// One note of one reading.
struct Note {
  Key key;
  std::size_t section = 0;
  double target = 0, tolerance = 0;  // reading's unit
};

struct Event {
  enum class Kind : std::uint8_t {
    read,
    set,        // its own adjuster was turned: what was before tells nothing any more
    disturbed,  // another adjuster that shifts it was turned
  } kind = Kind::read;
  std::uint32_t note = 0;   // in `notes`
  std::uint32_t visit = 0;  // in the history's visits
  double value = 0, var = 0;
};

// One reading at all notes that are asked for it and have a target; events by visit, in journal
// order within one.
struct Series {
  Reading reading = Reading::blow;
  Prior prior;
  std::vector<Note> notes;
  std::vector<Event> events;
  // Where a hand has been leaving the notes about their targets, standard deviation.
  double left_sd = 0;
};

struct History {
  Compass compass;
  std::vector<Section> sections;
  DriftSettings settings;
  WorkingCatalogue catalogue;
  Equipment equipment;
  std::vector<VisitFacts> visits;  // by day; those with readings or moves of notes
  std::vector<Series> series;      // catalogue order; every reading that is asked of some note
  std::vector<HumidityRead> humidities;
  std::optional<std::int64_t> last_work_ms;
};

// Entries after `until_ms` are left out. Without sections on record the keyboard is one.
Result<History> gather_history(Compass compass, const Standing& standing, std::int64_t until_ms);

}  // namespace batten::drift
