#include "core/regulation/catalogue/readings.hpp"

#include "core/regulation/catalogue/code.hpp"

#include <array>
#include <cassert>
#include <cstddef>

namespace batten {
namespace {

using enum Reading;
using enum ReadingUnit;
using enum Scope;
using enum Provenance;

constexpr std::nullopt_t open = std::nullopt;

// Columns: reading, code, name, unit, scope, how; usual low and high; tolerance absolute and
// against neighbours; possible low and high; usual uncertainty; minutes; provenance of the usual
// figures.
//
// Tolerances, possible spans and uncertainties are common practice, no source, throughout; minutes
// are first guesses. A grade is a whole number, so that "the same grade" is within half of one.
constexpr std::array kinds{
    ReadingKind{string_height, "string-height", "string height", millimetre, per_note,
                "Stand the gauge on the datum and read the underside of the lowest string of the "
                "unison at the strike line.",
                open, open, open, open, 20, 400, 0.10, 0.4, common_practice},
    ReadingKind{hammer_height, "hammer-height", "hammer height", millimetre, per_note,
                "Tap the hammer to settle it, then read its crown over the datum.", open, open, 0.5,
                0.25, 20, 400, 0.10, 0.25, common_practice},
    ReadingKind{datum_transfer, "datum-transfer", "datum transfer", millimetre, per_note,
                "Read one height over both datums and note what must be added to the bench figure "
                "to get the figure over the strings' datum; it may be negative.",
                open, open, open, open, -300, 300, 0.10, 1.5, common_practice},
    ReadingKind{blow, "blow", "blow", millimetre, per_note,
                "Hold the gauge block between the resting crown and the lowest string of the "
                "unison.",
                44, 48, 0.5, 0.25, 5, 90, 0.15, 0.2, trade},
    ReadingKind{key_height, "key-height", "key height", millimetre, per_note,
                "Read the front edge of the natural at rest over the key bed.", 63, 68, 0.3, 0.1,
                20, 120, 0.10, 0.2, trade},
    ReadingKind{sharps_height, "sharps-height", "sharps height", millimetre, per_note,
                "Read the top of the sharp's front over the naturals beside it.", 12, 12.5, 0.3,
                0.15, 4, 25, 0.10, 0.2, trade},
    ReadingKind{
        dip, "dip", "dip", millimetre, per_note,
        "Press the front of the natural to its bottom under 300 g on the block and read the "
        "travel.",
        9.5, 10.5, 0.2, 0.1, 4, 18, 0.10, 0.3, trade},
    ReadingKind{
        sharp_dip, "sharp-dip", "sharp dip", millimetre, per_note,
        "Press the sharp at its playing point to the bottom under 300 g and read the travel "
        "there.",
        open, open, 0.2, 0.1, 4, 18, 0.10, 0.3, common_practice},
    ReadingKind{let_off, "let-off", "let-off", millimetre, per_note,
                "Press the key very slowly and read crown to string where the hammer turns back.",
                1, 3, 0.3, 0.2, 0, 15, 0.15, 0.3, trade},
    ReadingKind{drop, "drop", "drop", millimetre, per_note,
                "Hold the key just past let-off, not at its bottom, and read how far the crown has "
                "fallen from the let-off point.",
                1, 1.6, 0.4, 0.3, 0, 15, 0.20, 0.2, trade},
    ReadingKind{aftertouch, "aftertouch", "aftertouch", millimetre, per_note,
                "Find the shim on the front punching with which the hammer only just falls away; "
                "its thickness is the travel left.",
                0.8, 1.6, 0.2, 0.15, 0, 8, 0.10, 0.4, trade},
    ReadingKind{check_distance, "check-distance", "check distance", millimetre, per_note,
                "Give a firm blow, hold the key down and read crown to string where the hammer is "
                "caught.",
                12, 16, 1.5, 0.8, 2, 50, 0.50, 0.2, trade},
    ReadingKind{jack_clearance, "jack-clearance", "jack clearance", millimetre, per_note,
                "Read how far the top of the jack lies below the top of the repetition lever; "
                "negative where the jack stands proud.",
                0.1, 0.25, 0.1, 0.1, -2, 3, 0.05, 0.4, trade},
    ReadingKind{
        jack_wink, "jack-wink", "jack wink", grade, per_note,
        "Trip the jack by finger and watch the hammer: 0 it does not wink, 1 it just winks, "
        "2 it jumps.",
        1, 1, 0.5, 0.5, 0, 2, 0.3, 0.1, trade},
    ReadingKind{jack_position, "jack-position", "jack position", millimetre, per_note,
                "Lift the hammer and compare the jack's rear face with the hammer-side face of the "
                "knuckle's core; plus is toward the player.",
                0, 0, 0.2, 0.2, -8, 8, 0.10, 0.5, trade},
    ReadingKind{spring_rise, "spring-rise", "spring rise", grade, per_note,
                "With the hammer in check, ease the key: 0 it stays, 1 creeps, 2 rises firmly "
                "without a jolt, 3 is lively, 4 jumps.",
                2, 2, 0.5, 0.5, 0, 4, 0.5, 0.15, common_practice},
    ReadingKind{down_weight, "down-weight", "down weight", gram_force, per_note,
                "Hold the damper up and find the smallest weight at the key front that takes the "
                "key slowly down to let-off.",
                46, 52, 2, 2, 0, 150, 1, 0.3, trade},
    ReadingKind{
        up_weight, "up-weight", "up weight", gram_force, per_note,
        "Hold the damper up and find the largest weight at the key front that the key still "
        "lifts slowly.",
        20, open, 2, 2, 0, 150, 1, 0.3, trade},
    ReadingKind{damper_start, "damper-start", "damper start", fraction, per_note,
                "Press slowly and note what part of its blow the hammer has travelled when the "
                "damper begins to rise.",
                0.45, 0.55, 0.08, 0.04, 0, 1, 0.04, 0.3, trade},
    ReadingKind{shank_gap, "shank-gap", "shank gap", millimetre, per_note,
                "Read the space between the resting shank and its cushion or rail; about one "
                "shank's thickness is usual.",
                open, open, 1, open, 0, 60, 0.5, 0.2, trade},
    ReadingKind{hammer_centre_friction, "hammer-centre-friction", "hammer centre friction",
                gram_force, per_note,
                "Draw the freed hammer evenly with a force gauge on the shank 23 mm from its "
                "centre pin.",
                2, 5, open, open, 0, 60, 0.5, 1, trade},
    ReadingKind{hammer_spacing, "hammer-spacing", "hammer spacing", millimetre, per_note,
                "Raise the crown to the strings and read how far it stands off the middle of its "
                "unison.",
                0, 0.5, 0.5, open, 0, 15, 0.2, 0.15, common_practice},
    ReadingKind{hammer_travel, "hammer-travel", "hammer travel", millimetre, per_note,
                "Raise the hammer slowly against its neighbours and read how far its crown drifts "
                "sideways on the way.",
                0, 0.5, 0.5, open, 0, 15, 0.2, 0.2, common_practice},
    ReadingKind{hammer_squareness, "hammer-squareness", "hammer squareness", millimetre, per_note,
                "Set a square against the head and read how far its tip leans off the upright.", 0,
                0.5, 0.5, open, 0, 15, 0.2, 0.2, common_practice},
    ReadingKind{
        unison_level, "unison-level", "string level in a unison", millimetre, per_note,
        "Lift the hammer lightly to its strings, pluck each one, and read the gap under the "
        "highest against the lowest.",
        0, 0.1, 0.1, open, 0, 5, 0.05, 0.4, common_practice},
    ReadingKind{pedal_free_play, "pedal-free-play", "pedal free play", millimetre, per_piano,
                "Press the damper pedal by hand and read its travel at the front before the first "
                "damper stirs.",
                open, open, 1, open, 0, 60, 0.5, 2, common_practice},
    ReadingKind{damper_tray_lift, "damper-tray-lift", "damper tray lift", millimetre, per_piano,
                "Press the damper pedal to its stop and read how far the dampers stand over the "
                "strings.",
                open, open, 1, open, 0, 40, 0.5, 2, common_practice},
    ReadingKind{
        damper_up_stop_gap, "damper-up-stop-gap", "damper up-stop gap", millimetre, per_piano,
        "Press a key to its bottom and read the space left between its damper lever and the "
        "up-stop rail.",
        open, open, 0.5, open, 0, 30, 0.3, 1, common_practice},
    ReadingKind{sostenuto_blade_height, "sostenuto-blade-height", "sostenuto blade height",
                millimetre, per_piano,
                "Read how far the lip of the blade stands under the tabs of the resting dampers.",
                open, open, 0.3, open, 0, 60, 0.2, 3, common_practice},
    ReadingKind{sostenuto_tab_line, "sostenuto-tab-line", "sostenuto tab line", millimetre,
                per_piano,
                "Sight along the tabs and read how far the worst one stands out of the row.", open,
                open, 0.3, open, 0, 15, 0.2, 3, common_practice},
    ReadingKind{shift_distance, "shift-distance", "shift distance", millimetre, per_piano,
                "Press the shift pedal to its stop and read how far the keyboard has moved.", open,
                open, 0.3, open, 0, 15, 0.2, 2, common_practice},
    ReadingKind{humidity, "humidity", "relative humidity", percent, per_visit,
                "Let the hygrometer lie in the piano for a quarter of an hour, then read it.", 45,
                65, open, open, 0, 100, 3, 1, trade},
    ReadingKind{temperature, "temperature", "air temperature", celsius, per_visit,
                "Read the thermometer beside the hygrometer, out of the sun.", 18, 24, open, open,
                -20, 60, 0.5, 0.5, common_practice},
    ReadingKind{left_string_gap, "left-string-gap", "gap under the left string", millimetre,
                per_note,
                "Raise the hammer until it meets its unison and read the gap left under the left "
                "string; 0 where they touch.",
                open, open, open, open, 0, 5, 0.05, 0.2, common_practice},
    ReadingKind{
        middle_string_gap, "middle-string-gap", "gap under the middle string", millimetre, per_note,
        "Raise the hammer until it meets its unison and read the gap left under the middle "
        "string; 0 where they touch, and the middle is a string only where there are three.",
        open, open, open, open, 0, 5, 0.05, 0.2, common_practice},
    ReadingKind{right_string_gap, "right-string-gap", "gap under the right string", millimetre,
                per_note,
                "Raise the hammer until it meets its unison and read the gap left under the right "
                "string; 0 where they touch.",
                open, open, open, open, 0, 5, 0.05, 0.2, common_practice},
};

static_assert(kinds.size() == static_cast<std::size_t>(right_string_gap) + 1,
              "one row for every reading");

}  // namespace

std::span<const ReadingKind> reading_kinds() { return kinds; }

const ReadingKind& kind_of(Reading reading) {
  const auto index = static_cast<std::size_t>(reading);
  assert(index < kinds.size());
  return kinds[index];
}

std::optional<Reading> reading_by_code(std::string_view code) {
  for (const ReadingKind& kind : kinds) {
    if (is_code(code, kind.code)) return kind.id;
  }
  return std::nullopt;
}

std::string_view unit_symbol(ReadingUnit unit) {
  switch (unit) {
    case millimetre:
      return "mm";
    case gram_force:
      return "gf";
    case fraction:
      return "";
    case grade:
      return "grade";
    case percent:
      return "%";
    case celsius:
      return "°C";
  }
  assert(false);
  return "";
}

}  // namespace batten
