#include "core/regulation/catalogue/code.hpp"
#include "core/regulation/complaint/complaint.hpp"

#include <cassert>

namespace batten {
namespace {

using enum Cause;
using enum Adjuster;

// Columns: cause, code, name; adjuster, direction of the move that mends it, what it is read by;
// remedy; weight beforehand. Remedies are common practice, no source; weights are an estimate of
// how often a technician finds each at a single note that someone complained of.
constexpr std::array kinds{
    CauseKind{capstan_low, "capstan-low", "the capstan stands too low", capstan, +1, Look::blow,
              "Raise the capstan until the blow is as its neighbours'.", 4},
    CauseKind{
        capstan_high, "capstan-high", "the capstan stands too high", capstan, -1, Look::blow,
        "Lower the capstan in small steps until the blow is as its neighbours'; see each time "
        "that the note still lets off.",
        3},
    CauseKind{
        balance_punchings_short, "balance-punchings-short",
        "the key lies too low on its balance rail", balance_punchings, +1, Look::key_height,
        "Add paper under the balance punching until the key is level with its neighbours, then "
        "read dip and blow again.",
        2},
    CauseKind{balance_punchings_over, "balance-punchings-over",
              "the key lies too high on its balance rail", balance_punchings, -1, Look::key_height,
              "Take paper out under the balance punching until the key is level with its "
              "neighbours, then read dip and aftertouch again.",
              2},
    CauseKind{
        front_punchings_over, "front-punchings-over", "the key's front is shimmed too high",
        front_punchings, -1, Look::dip,
        "Take paper out under the front punching until the dip is right; the aftertouch comes "
        "back with it.",
        3},
    CauseKind{front_punchings_short, "front-punchings-short", "the key goes too deep",
              front_punchings, +1, Look::dip,
              "Add paper under the front punching until the dip is right; see that the note still "
              "lets off.",
              3},
    CauseKind{jack_toward_player, "jack-toward-player", "the jack stands too far toward the player",
              jack_button, -1, Look::jack_position,
              "Turn the jack's button until its rear face is in line with the knuckle's core, then "
              "press slowly and see that it lets off.",
              3},
    CauseKind{jack_toward_hammer, "jack-toward-hammer", "the jack stands too far toward the hammer",
              jack_button, +1, Look::jack_position,
              "Turn the jack's button until its rear face is in line with the knuckle's core.", 3},
    CauseKind{lever_high, "lever-high", "the repetition lever stands too high", lever_height_button,
              -1, Look::jack_clearance,
              "Lower the repetition lever until the hammer just winks when the jack is tripped by "
              "hand.",
              4},
    CauseKind{lever_low, "lever-low", "the repetition lever stands too low", lever_height_button,
              +1, Look::jack_clearance,
              "Raise the repetition lever until the hammer just winks when the jack is tripped by "
              "hand.",
              4},
    CauseKind{spring_weak, "spring-weak", "the repetition spring is too weak", repetition_spring,
              +1, Look::spring_rise,
              "Strengthen the spring until the hammer rises firmly out of check, without a jolt.",
              4},
    CauseKind{spring_strong, "spring-strong", "the repetition spring is too strong",
              repetition_spring, -1, Look::spring_rise,
              "Weaken the spring until the hammer rises firmly out of check, without a jolt.", 4},
    CauseKind{let_off_close, "let-off-close", "let-off is too close to the string", let_off_button,
              +1, Look::let_off,
              "Give an earlier let-off. Do not play the note firmly before a slow press shows that "
              "the hammer lets go.",
              4},
    CauseKind{let_off_early, "let-off-early", "let-off is too early", let_off_button, -1,
              Look::let_off,
              "Bring let-off closer in small steps; press slowly each time and see that the hammer "
              "lets go.",
              4},
    CauseKind{drop_small, "drop-small", "the drop is too small", drop_screw, +1, Look::drop,
              "Give more drop with the screw, and press slowly before playing firmly.", 3},
    CauseKind{drop_large, "drop-large", "the drop is too large", drop_screw, -1, Look::drop,
              "Give less drop in small steps; press slowly each time and see that the hammer falls "
              "away.",
              3},
    CauseKind{check_near, "check-near", "the back check stands too near", back_check, -1,
              Look::check_distance,
              "Bend the check away from the hammer until it catches as its neighbours do.", 2},
    CauseKind{
        check_far, "check-far", "the back check stands too far away", back_check, +1,
        Look::check_distance,
        "Bend the check toward the hammer until it catches as its neighbours do; see that the "
        "tail passes it on the way up.",
        4},
    CauseKind{damper_early, "damper-early", "the damper lifts too early", damper_wire, +1,
              Look::damper_start, "Set the damper to lift later, at half the blow.", 2},
    CauseKind{damper_late, "damper-late", "the damper lifts too late", damper_wire, -1,
              Look::damper_start, "Set the damper to lift earlier, at half the blow.", 2},
    CauseKind{hammer_centre_tight, "hammer-centre-tight", "the hammer's centre is tight",
              std::nullopt, 0, Look::hammer_centre_friction,
              "Ease or recentre the hammer's flange; no adjuster mends it.", 4},
    CauseKind{hammer_centre_loose, "hammer-centre-loose", "the hammer's centre is loose",
              std::nullopt, 0, Look::hammer_play,
              "Recentre the hammer's flange with a thicker pin; no adjuster mends it.", 3},
    CauseKind{wippen_tight, "wippen-tight", "the wippen's centre is tight", std::nullopt, 0,
              Look::wippen_freedom, "Ease or recentre the wippen's flange; no adjuster mends it.",
              3},
    CauseKind{jack_sluggish, "jack-sluggish", "the jack comes back sluggishly", std::nullopt, 0,
              Look::jack_freedom,
              "Ease the jack's centre and look at its spring; no adjuster mends it.", 4},
    CauseKind{lever_tight, "lever-tight", "the repetition lever's centre is tight", std::nullopt, 0,
              Look::lever_freedom,
              "Ease or recentre the lever's pin, and only then judge its spring.", 2},
    CauseKind{key_tight, "key-tight", "the key binds on its pins", std::nullopt, 0,
              Look::key_freedom, "Ease the key's bushings or square the key on its pins.", 4},
    CauseKind{knuckle_worn, "knuckle-worn", "the knuckle is worn", std::nullopt, 0,
              Look::knuckle_wear,
              "Restore or replace the knuckle, and regulate the note anew after it.", 3},
    CauseKind{touch_heavy, "touch-heavy", "the key is weighted too heavy", std::nullopt, 0,
              Look::down_weight,
              "Weigh hammer and key against the neighbours; lead or head must change, not an "
              "adjuster.",
              2},
    CauseKind{touch_light, "touch-light", "the key is weighted too light", std::nullopt, 0,
              Look::up_weight,
              "Weigh hammer and key against the neighbours; lead or head must change, not an "
              "adjuster.",
              2},
    CauseKind{something_else, "something-else", "something that is not in this list", std::nullopt,
              0, std::nullopt, "", 8},
    CauseKind{no_fault, "no-fault", "nothing that regulation would mend", std::nullopt, 0,
              std::nullopt, "", 8},
};
static_assert(kinds.size() == cause_count &&
                  static_cast<std::size_t>(no_fault) + 1 == cause_count &&
                  static_cast<std::size_t>(something_else) == listed_cause_count,
              "one row for every cause");

}  // namespace

std::span<const CauseKind> cause_kinds() { return kinds; }

const CauseKind& kind_of(Cause cause) {
  const auto index = static_cast<std::size_t>(cause);
  assert(index < kinds.size());
  return kinds[index];
}

std::optional<Cause> cause_by_code(std::string_view code) {
  for (const CauseKind& kind : kinds)
    if (is_code(code, kind.code)) return kind.id;
  return std::nullopt;
}

}  // namespace batten
