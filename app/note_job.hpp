// One note of a piano on the model: as it is believed to stand, as it would be with adjusters
// moved, and where its parts go. Nothing here is written down.
#pragma once

#include "app/action_job.hpp"
#include "app/plan_memory.hpp"
#include "drawings/shapes.hpp"

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace batten {

// Where a what-if starts from.
enum class NoteStart : std::uint8_t {
  believed,  // what readings and moves on record say of the note; the rest at its targets
  targets,   // regulated to its targets
};
// Error: no such start; "believed" and "targets" are.
Result<NoteStart> parse_note_start(const std::string& text);

// A note made ready. What it reads is the model's, with blow and curves.
struct NoteBench {
  std::shared_ptr<const PianoPlan> plan;
  action::PreparedNote prepared;         // regulated to the targets
  action::Readings at_targets;           // of it
  std::optional<action::Note> believed;  // nothing: nothing is on record, or the model cannot do it
  action::Readings at_believed;          // of it; those at the targets where there is none
  std::optional<Problem> cannot;         // why the model cannot stand as the record says

  const action::Note& note(NoteStart start) const {
    return start == NoteStart::believed && believed ? *believed : prepared.note;
  }
  const action::Readings& readings(NoteStart start) const {
    return start == NoteStart::believed && believed ? at_believed : at_targets;
  }
};

// A bench is about 150 kB. Safe from every thread.
using NoteMemory = Lately<NoteBench>;

// Made once for each state of the journal: about 30 ms on the plan's memory, then at once. Errors:
// as PlanMemory::plan and prepare_note.
Result<std::shared_ptr<const NoteBench>> note_bench(NoteMemory& memory, PlanMemory& plans,
                                                    Desk& desk, const Piano& piano, Key key);

// How an adjuster is moved on a screen: millimetres at the part; the spring in per cent of its
// strength.
struct Slider {
  Adjuster adjuster = Adjuster::capstan;
  bool percent = false;
  double unit_si = 1e-3;  // SI value (m, share) of one of its unit
  double most = 1;        // either way, its unit: as far as it may go in one visit
  double step = 0.01;     // its unit: what the smallest move of a hand does
  double per_move = 1;    // its unit for one of the catalogue's (turn, mm, bend step) on this piano
  std::optional<double> pending;  // catalogue unit: what the plan asks for at this note
};
// Of the adjusters of a note, in the catalogue's order; without those it lacks.
std::vector<Slider> sliders_of(const NoteBench& bench);

// Offsets of sliders by code, each in its slider's unit.
struct SliderMove {
  std::string adjuster;
  double amount = 0;
};
// Errors: no such slider, an amount that is no number or beyond the slider, one moved twice.
Result<action::Adjustments> slider_moves(const NoteBench& bench,
                                         const std::vector<SliderMove>& moves);

struct NoteWhatIf {
  action::Note note;
  action::Readings readings;             // with curves; blow and trials only where asked for
  action::Posture posture;               // at the depth asked for
  std::vector<action::SweepPoint> rows;  // of the slow press down, thinned; see thinned_rows
};
struct WhatIfRequest {
  NoteStart start = NoteStart::believed;
  std::vector<SliderMove> moves;
  double depth = 0;  // m, of the key, for the posture
  std::size_t frames =
      0;  // at most so many rows; 0: none, and no blow: it takes five times as long
};
// About 2 ms without frames, 10 with. Errors: as slider_moves; a note that cannot be put together.
Result<NoteWhatIf> what_if(const NoteBench& bench, const WhatIfRequest& request);

// Rows of a press down: first and last, where the crown stands highest and where it has fallen, and
// others evenly between; at most `most` (4 at least), or all if they are fewer.
std::vector<action::SweepPoint> thinned_rows(std::span<const action::SweepPoint> rows,
                                             std::size_t most);

// Where a press down lets the hammer go: depths of the key, m. NaN where it does not.
struct PressMarks {
  double let_off = 0;  // crown highest
  double drop = 0;     // it has fallen and rests
  double bottom = 0;
};
PressMarks press_marks(const action::Readings& readings);

// A row between two of a press, every part carried in proportion; beyond an end that end's.
action::SweepPoint row_at(std::span<const action::SweepPoint> rows, double depth);

// Strokes of the note so moved. Errors: as what_if and play.
Result<std::vector<NamedStroke>> play_note(const NoteBench& bench, const WhatIfRequest& request,
                                           const StrokeRequest& strokes);

// A trace of at most 150 points: evenly, and close around the stroke's events.
std::vector<action::TracePoint> thinned_trace(const action::Stroke& stroke);

}  // namespace batten
