#include "core/regulation/line/advise.hpp"

#include "core/quantities/text.hpp"
#include "core/regulation/line/aftertouch.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace batten {

namespace line {

double direction_sureness(Length deviation, Length sd) {
  // Standard normal distribution function at |deviation| / sd.
  return 0.5 * std::erfc(-std::abs(deviation / sd) / std::numbers::sqrt2);
}

namespace {

bool blow_says_too_near(const NoteLine& note, const Readings& readings) {
  const auto blow = readings.blows.find(note.key);
  return blow != readings.blows.end() && note.crown_travel > Length() &&
         blow->second.value - note.crown_travel < least_blow;
}

bool loses_escapement(const NoteLine& note, const LineSettings& settings, Length aftertouch) {
  // By the crown or by the turns, whichever goes farther: the hand may follow either.
  const LengthPerTurn most = settings.crown_per_turn + settings.crown_per_turn_sd;
  const Length lowering = std::max(-note.crown_travel, -(most * note.turns));
  return lowering > Length() && aftertouch - lowering / least_action_ratio < least_aftertouch;
}

Verdict judge(NoteLine& note, const LineSettings& settings, const Readings& readings,
              const Grounds& grounds) {
  if (std::ranges::binary_search(settings.out_of_service, note.key)) return Verdict::out_of_service;
  if (!note.deviation) {
    if (readings.moved_since.contains(note.key)) return Verdict::moved_read_again;
    if (readings.hammers.contains(note.key) && settings.hammers_on_bench && !note.hammer)
      return Verdict::no_transfer;
    const bool read = readings.hammers.contains(note.key) || readings.blows.contains(note.key);
    return read ? Verdict::no_target : Verdict::not_read;
  }
  if (grounds.contradicted || abs(*note.deviation) > farthest_deviation) return Verdict::read_again;
  if (!grounds.by_block) {
    if (grounds.strings_unsure || note.target_sd > unsure_target) return Verdict::target_unsure;
    if (grounds.bench_unsure) return Verdict::no_transfer;
  }
  const Turns exact = -(*note.deviation / settings.crown_per_turn);
  note.turns = round_turns(exact, settings.turn_denominator);
  note.crown_travel = -*note.deviation;
  if (note.turns == Turns()) return Verdict::leave_fine;
  if (direction_sureness(*note.deviation, *note.deviation_sd) < settings.direction_sureness)
    return Verdict::leave_noise;
  if (blow_says_too_near(note, readings)) return Verdict::held_block;
  if (loses_escapement(note, settings, grounds.aftertouch)) return Verdict::held_escapement;
  return Verdict::move;
}

}  // namespace

void advise(NoteLine& note, const LineSettings& settings, const Readings& readings,
            const Grounds& grounds) {
  note.verdict = judge(note, settings, readings, grounds);
  if (note.verdict == Verdict::move) return;
  note.turns = Turns();
  note.crown_travel = Length();
}

}  // namespace line

std::string verdict_words(const NoteLine& note) {
  switch (note.verdict) {
    case Verdict::move:
      return note.turns > Turns() ? "raise" : "lower";
    case Verdict::leave_fine:
      return "leave: finer than a hand can turn";
    case Verdict::leave_noise:
      return "leave: direction not sure";
    case Verdict::moved_read_again:
      return "read again: turned since";
    case Verdict::read_again:
      return "read again: readings disagree or lie too far off";
    case Verdict::target_unsure:
      return "hold: read the strings here first";
    case Verdict::held_escapement:
      return "hold: read aftertouch first";
    case Verdict::held_block:
      return "hold: check the blow first";
    case Verdict::not_read:
      return "hammer not read";
    case Verdict::no_target:
      return "strings not known here";
    case Verdict::no_transfer:
      return "hold: tie the bench to the strings";
    case Verdict::out_of_service:
      return "out of service";
  }
  return "";
}

}  // namespace batten
