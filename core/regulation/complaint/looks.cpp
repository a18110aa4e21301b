#include "core/regulation/catalogue/code.hpp"
#include "core/regulation/complaint/complaint.hpp"

#include <algorithm>
#include <cassert>

namespace batten {
namespace {

using enum Look;

// The catalogue's own words and figures.
LookKind from_catalogue(Look look, Reading reading, std::string_view none) {
  const ReadingKind& kind = kind_of(reading);
  return {look,
          kind.code,
          kind.name,
          reading,
          kind.unit,
          kind.how,
          none,
          kind.usual_uncertainty,
          kind.possible_low,
          kind.possible_high};
}

// A trial by hand. Its uncertainty in grades: estimate.
constexpr LookKind by_hand(Look look, std::string_view code, std::string_view name,
                           std::string_view how) {
  return {look, code, name, std::nullopt, ReadingUnit::grade, how, "", 0.4, 0, 2};
}

using Kinds = std::array<LookKind, look_count>;

Kinds make_kinds() {
  constexpr std::string_view never_free = "the hammer does not let go";
  return Kinds{
      from_catalogue(blow, Reading::blow, ""),
      from_catalogue(key_height, Reading::key_height, ""),
      from_catalogue(dip, Reading::dip, ""),
      from_catalogue(let_off, Reading::let_off, ""),
      from_catalogue(drop, Reading::drop, never_free),
      from_catalogue(aftertouch, Reading::aftertouch, never_free),
      from_catalogue(check_distance, Reading::check_distance, "the hammer is not caught"),
      from_catalogue(jack_clearance, Reading::jack_clearance, ""),
      from_catalogue(jack_position, Reading::jack_position, ""),
      from_catalogue(spring_rise, Reading::spring_rise, ""),
      from_catalogue(down_weight, Reading::down_weight, ""),
      from_catalogue(up_weight, Reading::up_weight, "the key does not come up by itself"),
      from_catalogue(damper_start, Reading::damper_start, "the key does not lift a damper"),
      from_catalogue(hammer_centre_friction, Reading::hammer_centre_friction, ""),
      by_hand(key_freedom, "key-freedom", "freedom of the key",
              "Lift the key's front a little and let it fall back, then move it sideways on its "
              "pins: 0 it falls freely, 1 it is slow, 2 it binds."),
      by_hand(wippen_freedom, "wippen-freedom", "freedom of the wippen",
              "With the hammer held up, lift the wippen off its capstan and let it fall: 0 it "
              "falls freely, 1 it is slow, 2 it stays."),
      by_hand(jack_freedom, "jack-freedom", "freedom of the jack",
              "With the hammer held up, push the jack's toe and let it go: 0 it springs back, 1 it "
              "comes slowly, 2 it stays out."),
      by_hand(lever_freedom, "lever-freedom", "freedom of the repetition lever",
              "With the hammer held up, push the lever down and let it go: 0 it springs up, 1 it "
              "comes slowly, 2 it stays down."),
      by_hand(hammer_play, "hammer-play", "play of the hammer's centre",
              "Hold the flange and move the head sideways: 0 it is firm, 1 it gives a little, 2 it "
              "is plainly loose."),
      by_hand(knuckle_wear, "knuckle-wear", "wear of the knuckle",
              "Lift the hammer and look at its knuckle: 0 round and smooth, 1 a little flat or "
              "shiny, 2 flat, hard or torn."),
  };
}

const Kinds& all_kinds() {
  static const Kinds kinds = make_kinds();
  return kinds;
}

constexpr Look of_slow_press[] = {let_off, drop, damper_start};
constexpr Look of_key_travel[] = {key_height, dip, aftertouch};
constexpr Look of_blow_block[] = {blow};
constexpr Look of_check_and_ease[] = {check_distance, spring_rise};
constexpr Look of_jack_place[] = {jack_clearance, jack_position};
constexpr Look of_hammer_up[] = {wippen_freedom, jack_freedom, lever_freedom, hammer_play,
                                 knuckle_wear};
constexpr Look of_weights[] = {down_weight, up_weight};
constexpr Look of_hammer_flange[] = {hammer_centre_friction};
constexpr Look of_key_freedom[] = {key_freedom};

constexpr std::array takings{
    TakingKind{Taking::slow_press, "slow-press",
               "a slow press: where the damper starts, let-off, drop", of_slow_press},
    TakingKind{Taking::key_travel, "key-travel", "the key's height, dip and aftertouch",
               of_key_travel},
    TakingKind{Taking::blow_block, "blow-block", "the blow", of_blow_block},
    TakingKind{Taking::check_and_ease, "check-and-ease",
               "a firm blow, held, then eased: check distance and spring rise", of_check_and_ease},
    TakingKind{Taking::jack_place, "jack-place", "the jack's height and place under the knuckle",
               of_jack_place},
    TakingKind{Taking::hammer_up, "hammer-up",
               "with the hammer up: its centre and knuckle, and how freely jack, lever and wippen "
               "move",
               of_hammer_up},
    TakingKind{Taking::weights, "weights", "down and up weight", of_weights},
    TakingKind{Taking::hammer_flange, "hammer-flange", "the friction of the hammer's centre",
               of_hammer_flange},
    TakingKind{Taking::key_freedom, "key-freedom", "whether the key moves freely", of_key_freedom},
};
static_assert(takings.size() == taking_count, "one row for every taking");

}  // namespace

std::span<const TakingKind> taking_kinds() { return takings; }

const TakingKind& kind_of(Taking taking) {
  const auto index = static_cast<std::size_t>(taking);
  assert(index < takings.size());
  return takings[index];
}

std::optional<Taking> taking_by_code(std::string_view code) {
  for (const TakingKind& kind : takings)
    if (is_code(code, kind.code)) return kind.id;
  return std::nullopt;
}

std::span<const LookKind> look_kinds() { return all_kinds(); }

const LookKind& kind_of(Look look) {
  const auto index = static_cast<std::size_t>(look);
  assert(index < look_count);
  return all_kinds()[index];
}

std::optional<Look> look_by_code(std::string_view code) {
  for (const LookKind& kind : all_kinds())
    if (is_code(code, kind.code)) return kind.id;
  if (const auto reading = reading_by_code(code)) return look_of(*reading);
  return std::nullopt;
}

std::optional<Look> look_of(Reading reading) {
  if (reading == Reading::sharp_dip) return dip;
  if (reading == Reading::sharps_height) return key_height;
  const auto found = std::ranges::find(all_kinds(), std::optional(reading), &LookKind::reading);
  if (found == all_kinds().end()) return std::nullopt;
  return found->id;
}

}  // namespace batten
