// Readings entered by hand or by a gauge, one or a series.
#pragma once

#include "app/desk.hpp"
#include "core/journal/entry.hpp"
#include "core/keyboard/compass.hpp"
#include "core/regulation/line/line.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

struct ReadingRequest {
  std::string reading;      // catalogue code
  std::string note;         // empty for readings of the piano or the room
  std::string value;        // as typed
  std::string uncertainty;  // as typed; empty: the reading's usual one
  std::string gauge;
};

// What the reading would be, checked but not kept. Errors: unknown reading or note, a value that
// cannot be read or that no piano has, a wrong unit.
Result<ReadingTaken> check_reading(const Piano& piano, const ReadingRequest& request);

// Whether this piano has what was read: a damper there, a note in service. Without settings that
// can be read there is nothing to check against.
Result<void> check_against_piano(const std::optional<LineSettings>& settings,
                                 const ReadingTaken& reading);
std::optional<LineSettings> settings_on_record(Desk& desk, const Piano& piano);

// Checks and keeps it; durable when this returns. Error also: a damper reading where there is none,
// a note out of service.
Result<Entry> take_reading(Desk& desk, const Piano& piano, const ReadingRequest& request);

// The notes of a series: from one note to another (either may be the higher), all of them, or
// naturals or sharps only, or the samples on record.
enum class SeriesOf { all, naturals, sharps, samples };
Result<std::vector<Key>> plan_series(Desk& desk, const Piano& piano, std::string_view from,
                                     std::string_view to, SeriesOf which);

// "45.20 mm", "48 gf", "0.50", "2": a value in its reading's unit, as shown everywhere.
std::string print_reading(Reading reading, double value);

}  // namespace batten
