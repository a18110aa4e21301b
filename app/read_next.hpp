// Which readings would tell most, and how far each is.
#pragma once

#include "app/plan_job.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace batten {

struct ReadingWanted {
  enum class Why : std::uint8_t {
    settles_doubt,  // the reading there does not fit the others, or what was read before
    surer_target,   // makes the string line surest
    plan,           // the plan asks for it
    sample,         // a note gauged first, not read yet
    by_halves,      // the rest, filled in between the samples
  } why = Why::plan;
  Reading reading = Reading::string_height;
  Key key;
  // What the gauge is expected to show, catalogue unit, and its standard deviation; nothing where
  // nothing is known.
  std::optional<double> expected, expected_sd;
  std::optional<double> chance_wrong;  // of the reading that is there, 0…1
  std::optional<double> drop_mm;       // fall of the string line's standard deviation, RMS
};

// Best first, at most `most`. Of one reading, or of all.
std::vector<ReadingWanted> read_next(const PianoPlan& plan, std::optional<Reading> reading,
                                     std::size_t most = 12);

// Of one reading of the notes.
struct ReadingProgress {
  Reading reading = Reading::string_height;
  int asked = 0, read = 0;  // notes it is worth taking at; of them read
  int samples_asked = 0, samples_read = 0;
};
// Those asked for at any note, catalogue order. Naturals and sharps apart where they are filed so.
std::vector<ReadingProgress> reading_progress(const PianoPlan& plan);

}  // namespace batten
