#include "core/regulation/complaint/playing.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <utility>

namespace batten::complaint {

namespace {

using action::Fault;
using action::Finger;
using action::StrokeOptions;
using action::Touch;

constexpr double mm = 1e-3, gf = 9.80665e-3;
constexpr double soft_enough = 0.9;  // m/s, a touch that sounds and no more (estimate)
Finger pressed(double effort) {
  Finger f;
  f.touch = Touch::pressed;
  f.effort = effort;
  return f;
}

bool has(const Played& p, Fault f) {
  return std::ranges::find(p.readings.faults, f) != p.readings.faults.end();
}

// Rises from 0 to 1 about the threshold, as the share of players whose own threshold, normally
// spread by 1.2 widths, is below the value; NaN counts as not there.
double step_at(double value, double threshold, double width) {
  if (std::isnan(value)) return 0;
  return 0.5 * std::erfc(-(value - threshold) / (1.2 * width * std::numbers::sqrt2));
}

double log2_ratio(double a, double b) { return std::log2(a / b); }

// The spring's grade as a real number: the middles of the catalogue's grades, straight between
// (limits of action::Readings::spring_grade).
double grade_of_rise(double rise) {
  constexpr std::pair<double, double> limits[] = {{0, 0},      {0.005, 0.5}, {0.05, 1.5},
                                                  {0.25, 2.5}, {0.35, 3.5},  {0.45, 4}};
  for (std::size_t k = 1; k < std::size(limits); ++k)
    if (rise < limits[k].first) {
      const auto [x0, y0] = limits[k - 1];
      const auto [x1, y1] = limits[k];
      return y0 + (y1 - y0) * std::max(0.0, rise - x0) / (x1 - x0);
    }
  return 4;
}

// Crown to string at the closest of a slow press.
double closest_of(const action::Readings& r) {
  if (!std::isnan(r.let_off)) return r.let_off;
  double closest = r.blow;
  for (const action::SweepPoint& row : r.down) closest = std::min(closest, row.below);
  return std::max(0.0, closest);
}

// At least one of several reasons, each by itself.
class AnyOf {
 public:
  AnyOf& operator<<(double chance) {
    none_ *= 1 - std::clamp(chance, 0.0, 1.0);
    return *this;
  }
  operator double() const { return 1 - none_; }

 private:
  double none_ = 1;
};

}  // namespace

Result<Hand> choose_hand(const action::Note& sound) {
  Hand hand;
  constexpr int rungs = 16;
  std::vector<Finger> ladder;
  for (int k = 0; k < rungs; ++k) ladder.push_back(pressed(1.0 * std::pow(1.11, k)));
  StrokeOptions to_string;
  to_string.to_string = true;
  const auto soft = action::calc_strokes({&sound, 1}, ladder, to_string);
  for (std::size_t k = 0; k < soft.size() && hand.soft == 0; ++k) {
    if (!soft[k]) return tl::unexpected(soft[k].error());
    if (soft[k]->hammer_speed >= soft_enough) hand.soft = ladder[k].effort;
  }
  if (hand.soft == 0) return problem("Even a firm touch does not bring the hammer to the string.");
  return hand;
}

std::vector<Result<Played>> play(std::span<const action::Note> notes, const Hand& hand) {
  auto readings = action::calc_readings(notes);
  StrokeOptions to_string;
  to_string.to_string = true;
  const Finger soft = pressed(hand.soft);
  const Finger loud = action::standard_finger(action::Effort::loud, Touch::pressed);
  const auto softly = action::calc_strokes(notes, {&soft, 1}, to_string);
  const auto loudly = action::calc_strokes(notes, {&loud, 1}, to_string);
  const Finger middling = action::standard_finger(action::Effort::middling, Touch::pressed);
  StrokeOptions with_bounce;
  with_bounce.time = 0.2;
  const auto once = action::calc_strokes(notes, {&middling, 1}, with_bounce);
  std::vector<Result<Played>> out;
  out.reserve(notes.size());
  for (std::size_t i = 0; i < notes.size(); ++i) {
    if (!readings[i]) {
      out.emplace_back(tl::unexpected(readings[i].error()));
      continue;
    }
    // Strokes fail where readings do.
    assert(softly[i] && loudly[i] && once[i]);
    Played p;
    p.dimensions = notes[i].dimensions;
    p.readings = std::move(*readings[i]);
    p.closest = closest_of(p.readings);
    p.readings.down.clear();
    p.readings.up.clear();
    p.soft = softly[i]->hammer_speed;
    p.loud = loudly[i]->hammer_speed;
    p.middling = once[i]->hammer_speed;
    p.twice = once[i]->struck_twice;
    out.emplace_back(std::move(p));
  }
  return out;
}

LookValues calc_looks(const Played& note, const Played& sound) {
  const action::Readings& r = note.readings;
  const action::Dimensions &d = note.dimensions, &s = sound.dimensions;
  LookValues out{};
  const auto set = [&](Look look, double value) { out[static_cast<std::size_t>(look)] = value; };
  set(Look::blow, r.blow / mm);
  set(Look::key_height, (r.key_height - sound.readings.key_height) / mm);
  set(Look::dip, r.dip / mm);
  set(Look::let_off, note.closest / mm);
  set(Look::drop, r.drop / mm);
  set(Look::aftertouch, r.aftertouch / mm);
  // Where it would be caught, if it is: where one blow ends hangs on its bounce.
  set(Look::check_distance, std::isnan(r.check_distance) ? r.check_distance : r.static_catch / mm);
  set(Look::jack_clearance, r.jack_clearance / mm);
  set(Look::jack_position, r.jack_position / mm);
  set(Look::spring_rise, grade_of_rise(r.spring_rise));
  set(Look::down_weight, r.down_weight / gf);
  set(Look::up_weight, r.up_weight / gf);
  set(Look::damper_start, r.damper_start);
  // A torque read at 23 mm from the pin.
  set(Look::hammer_centre_friction, d.hammer_friction / 0.023 / gf);
  // By hand, twice the friction is a little and four times plainly so (estimate).
  const auto tight = [](double f, double usual) {
    return std::clamp(log2_ratio(f, usual), 0.0, 2.4);
  };
  set(Look::key_freedom, tight(d.key_friction, s.key_friction));
  set(Look::wippen_freedom, tight(d.wippen_friction, s.wippen_friction));
  // How freely the jack comes back is its spring against its pin.
  set(Look::jack_freedom, tight(d.jack_friction / d.jack_spring, s.jack_friction / s.jack_spring));
  set(Look::lever_freedom, tight(d.lever_friction, s.lever_friction));
  // A centre that has lost its friction has play (common practice, no source for how much).
  set(Look::hammer_play,
      std::clamp(0.8 * log2_ratio(s.hammer_friction, d.hammer_friction), 0.0, 2.4));
  set(Look::knuckle_wear,
      std::clamp(2 * (d.knuckle_friction_leather / s.knuckle_friction_leather - 1), 0.0, 2.4));
  return out;
}

Feelings calc_feelings(const Played& note, const Played& sound, const Player& player) {
  const action::Readings &r = note.readings, &s = sound.readings;
  const LookValues here = calc_looks(note, sound), there = calc_looks(sound, sound);
  const auto at = [&](Look look) { return here[static_cast<std::size_t>(look)]; };
  const auto off = [&](Look look) {
    return here[static_cast<std::size_t>(look)] - there[static_cast<std::size_t>(look)];
  };
  const auto soft_step = [&](double value, double threshold, double width) {
    return step_at(value, threshold, width * player.blur);
  };
  // A difference that must be `threshold` to be felt by half of the players.
  const auto felt = [&](double difference, double threshold) {
    return soft_step(difference, threshold * player.threshold, 0.25 * threshold);
  };
  const double weaker = 1 - note.middling / sound.middling,
               weaker_loud = 1 - note.loud / sound.loud;
  const bool not_caught = std::isnan(r.check_distance);
  const bool never_free = has(note, Fault::blocked);
  const double drop = r.drop / mm, let_off = note.closest / mm, aftertouch = r.aftertouch / mm;
  const double grade = at(Look::spring_rise);
  const double slack = r.lost_motion / mm;
  const double jack_grip =
      log2_ratio(note.dimensions.jack_friction / note.dimensions.jack_spring,
                 sound.dimensions.jack_friction / sound.dimensions.jack_spring);
  Feelings out{};
  const auto set = [&](Complaint c, double chance) { out[static_cast<std::size_t>(c)] = chance; };

  set(Complaint::does_not_repeat,
      AnyOf() << (has(note, Fault::jack_trapped) ? 0.85 : 0) << 0.8 * soft_step(-grade, -1.0, 0.2)
              << (not_caught ? 0.3 : 0) << 0.6 * soft_step(drop, 3.0, 0.4)
              << 0.7 * soft_step(jack_grip, 2.0, 0.3) << (never_free ? 0.6 : 0));
  set(Complaint::double_strikes, AnyOf()
                                     << (note.twice ? 0.8 : 0) << 0.6 * soft_step(-drop, -0.7, 0.15)
                                     << 0.6 * soft_step(grade, 3.4, 0.2) << (not_caught ? 0.4 : 0)
                                     << (has(note, Fault::lever_carried) ? 0.5 : 0)
                                     << 0.5 * soft_step(-let_off, -0.5, 0.12));
  set(Complaint::hits_a_wall, AnyOf() << (has(note, Fault::no_escapement) ? 0.8 : 0)
                                      << 0.9 * soft_step(-aftertouch, -0.45, 0.1)
                                      << 0.7 * felt(-off(Look::dip), 0.45));
  set(Complaint::falls_through, AnyOf() << 0.8 * felt(off(Look::aftertouch), 0.6)
                                        << 0.7 * felt(off(Look::dip), 0.5)
                                        << 0.5 * soft_step(drop, 3, 0.4));
  set(Complaint::weak, AnyOf() << felt(weaker, 0.04) << felt(weaker_loud, 0.05));
  set(Complaint::too_heavy,
      AnyOf() << felt(off(Look::down_weight), 4.5) << 0.6 * felt(-off(Look::damper_start), 0.14));
  set(Complaint::too_light, felt(-off(Look::down_weight), 4.5));
  set(Complaint::jams, AnyOf() << (never_free ? 0.95 : 0)
                               << (has(note, Fault::lever_carried) ? 0.5 : 0)
                               << 0.6 * soft_step(-let_off, -0.35, 0.1));
  set(Complaint::bobbles, AnyOf() << (not_caught ? 0.85 : 0)
                                  << 0.8 * felt(off(Look::check_distance), 5)
                                  << 0.3 * soft_step(grade, 3.5, 0.25));
  set(Complaint::slow_to_return, AnyOf() << felt(-off(Look::up_weight), 5.5)
                                         << (std::isnan(r.up_weight) ? 0.9 : 0)
                                         << 0.5 * soft_step(std::abs(r.rest_scatter) / mm, 1.5, 0.3)
                                         << (has(note, Fault::jack_trapped) ? 0.4 : 0));
  // A long free flight is hard to steer at the softest (common practice).
  set(Complaint::silent_when_soft,
      AnyOf() << felt(1 - note.soft / sound.soft, 0.4) << 0.7 * felt(off(Look::let_off), 1.0));
  set(Complaint::uneven,
      0.8 *
          soft_step(std::max({std::abs(off(Look::down_weight)) / 4, std::abs(off(Look::dip)) / 0.45,
                              std::isnan(aftertouch) ? 0 : std::abs(off(Look::aftertouch)) / 0.65,
                              std::abs(off(Look::key_height)) / 0.35, std::abs(weaker) / 0.05}),
                    player.threshold, 0.2));
  set(Complaint::clicks, AnyOf() << 0.5 * soft_step(slack - s.lost_motion / mm, 0.55, 0.1)
                                 << 0.8 * soft_step(at(Look::hammer_play), 1.2, 0.25)
                                 << (has(note, Fault::touches_check) ? 0.6 : 0));
  set(Complaint::notchy, AnyOf() << felt(r.let_off_bump - s.let_off_bump, 0.22)
                                 << 0.3 * soft_step(jack_grip, 2.0, 0.3)
                                 << 0.6 * soft_step(-at(Look::jack_position), 0.55, 0.12));
  set(Complaint::dead_start, felt(slack - s.lost_motion / mm, 0.35));
  // The planar jack does not slip under a firm blow as leather lets a real one do.
  set(Complaint::fails_when_loud, AnyOf() << 0.75 * soft_step(at(Look::jack_position), 0.55, 0.12)
                                          << 0.5 * felt(weaker_loud, 0.08));
  set(Complaint::rings_on, 0.85 * felt(-off(Look::damper_start), 0.12));
  set(Complaint::choked, 0.85 * felt(off(Look::damper_start), 0.12));
  return out;
}

}  // namespace batten::complaint
