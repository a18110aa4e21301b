#include "core/action/words.hpp"

#include <cassert>
#include <cstddef>

namespace batten::action {

namespace {

constexpr double gram_force = 9.80665e-3;  // N, standard gravity (3rd CGPM 1901)

constexpr RowWords rows[] = {
    {Row::blow, "blow", "blow", "mm", 1e-3, 2, 2, &Readings::blow},
    {Row::let_off, "let-off", "let-off", "mm", 1e-3, 2, 2, &Readings::let_off},
    {Row::drop, "drop", "drop", "mm", 1e-3, 2, 2, &Readings::drop},
    {Row::dip, "dip", "dip", "mm", 1e-3, 2, 2, &Readings::dip},
    {Row::aftertouch, "aftertouch", "aftertouch", "mm", 1e-3, 2, 2, &Readings::aftertouch},
    {Row::check_distance, "check-distance", "check distance", "mm", 1e-3, 1, 2,
     &Readings::check_distance},
    {Row::key_height, "key-height", "key height, over the design", "mm", 1e-3, 2, 2,
     &Readings::key_height},
    {Row::jack_clearance, "jack-clearance", "jack clearance", "mm", 1e-3, 2, 2,
     &Readings::jack_clearance},
    {Row::jack_position, "jack-position", "jack position", "mm", 1e-3, 2, 2,
     &Readings::jack_position},
    {Row::lost_motion, "lost-motion", "lost motion", "mm", 1e-3, 2, 2, &Readings::lost_motion},
    {Row::down_weight, "down-weight", "down weight", "gf", gram_force, 1, 1,
     &Readings::down_weight},
    {Row::up_weight, "up-weight", "up weight", "gf", gram_force, 1, 1, &Readings::up_weight},
    {Row::damper_start, "damper-start", "damper start, of the blow", "%", 0.01, 0, 0,
     &Readings::damper_start},
    {Row::shank_gap, "shank-gap", "shank gap", "mm", 1e-3, 2, 2, &Readings::shank_gap},
    {Row::spring_rise, "spring-rise", "spring rise", "mm/s", 1e-3, 0, 0, &Readings::spring_rise},
    {Row::let_off_bump, "let-off-bump", "let-off bump", "gf", gram_force, 1, 1,
     &Readings::let_off_bump},
};
static_assert(sizeof(rows) / sizeof(rows[0]) == row_count);

constexpr AdjusterWords adjusters[] = {
    {"capstan", "capstan", "mm", 1e-3},
    {"balance-punchings", "balance punchings", "mm", 1e-3},
    {"front-punchings", "front punchings", "mm", 1e-3},
    {"jack-button", "jack button", "mm", 1e-3},
    {"lever-height-button", "lever button", "mm", 1e-3},
    {"repetition-spring", "repetition spring", "tenth", 0.1},
    {"let-off-button", "let-off button", "mm", 1e-3},
    {"drop-screw", "drop screw", "mm", 1e-3},
    {"back-check", "back check", "mm", 1e-3},
    {"damper-wire", "damper wire", "mm", 1e-3},
};
static_assert(sizeof(adjusters) / sizeof(adjusters[0]) == adjustment_count);

// Causes are the trade's (core/regulation/catalogue: cautions, adjusters).
constexpr FaultWords faults[] = {
    {"blocked", "Blocked: pressed slowly, the hammer comes to the string.",
     "Lower the let-off button until the hammer turns back before the string.", Fault::blocked,
     true},
    {"lever-carried",
     "The repetition lever carries the hammer on after let-off: it does not fall back.",
     "Lower the drop screw until the hammer falls back after let-off; see that the lever stands no "
     "higher than the jack needs.",
     Fault::lever_carried, true},
    {"no-escapement", "There is no let-off: the key meets its bottom before the jack is tripped.",
     "Shorten the blow, take out front punchings or lower the let-off button.",
     Fault::no_escapement, false},
    {"jack-trapped",
     "The jack is trapped: let up slowly, it does not come back under the knuckle, and the next "
     "stroke is dead.",
     "Raise the repetition lever by its height button, and see that the jack's centre and the "
     "knuckle's leather are free.",
     Fault::jack_trapped, false},
    {"touches-check", "The hammer's tail touches the back check on its way up.",
     "Bend the back check away from the hammer.", Fault::touches_check, false},
    {"not-found",
     "The slow press came to no end: these adjustments are too far from a working note.",
     "Set them nearer to the regulated ones, a few tenths of a millimetre at a time.",
     Fault::not_found, false},
};

}  // namespace

std::span<const RowWords> row_words() { return rows; }
std::span<const AdjusterWords> adjuster_words() { return adjusters; }

const FaultWords& words_of(Fault fault) {
  const auto index = static_cast<std::size_t>(fault);
  assert(index < sizeof(faults) / sizeof(faults[0]) && faults[index].fault == fault);
  return faults[index];
}

}  // namespace batten::action
