#include "workshop/reference_pass.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace batten::workshop {

NoteTargets makers_sheet(const HiddenPiano& piano, Key key) {
  const double x =
      static_cast<double>(piano.compass().position(key)) / (piano.compass().count() - 1);
  NoteTargets t{};
  const auto set = [&](Aim aim, double value) { t[index_of(aim)] = value; };
  using enum Aim;
  set(key_height, is_sharp(key) ? sharp_height : natural_height);
  set(jack_position, 0);
  set(jack_clearance, 0.15);
  set(spring_rise, 2);
  set(blow, 46 - x);
  set(dip, is_sharp(key) ? 9.7 : 10.0);
  set(let_off, 2.0 - 0.6 * x);
  set(drop, 1.5);
  set(check_distance, 14);
  set(aftertouch, 1.2);
  set(damper_start,
      piano.has(key, Adjuster::damper_wire) ? 0.5 : std::numeric_limits<double>::quiet_NaN());
  return t;
}

namespace reference {
namespace {

constexpr std::size_t arm_full = 8;  // notes worked at side by side; see HiddenPiano::truth

std::vector<double> look(Hands& hands, const Pass& pass, std::span<const Key> keys,
                         const std::vector<NoteTargets>& targets) {
  const Aim aim = aim_for(pass.adjuster);
  if (pass.line == nullptr) return hands.read(keys, aim, pass.way);
  std::vector<double> wanted;
  for (const Key k : keys)
    wanted.push_back(
        targets[static_cast<std::size_t>(hands.piano().compass().position(k))][index_of(aim)]);
  return hands.sight_hammers(keys, *pass.line, wanted);
}

}  // namespace

double Turn::per_unit(Adjuster adjuster) const {
  const Sums& s = sums_[index_of(adjuster)];
  const double usual = usual_turn[index_of(adjuster)];
  return s.count < 3 ? usual : usual * std::clamp(s.up / s.down, 0.6, 1.6);
}

void Turn::saw(Adjuster adjuster, double amount, double change, double noise) {
  const double expected = amount * usual_turn[index_of(adjuster)];
  // Nothing is learned from a turn that drowns in the noise, or that cannot be true.
  if (std::abs(expected) < 3 * noise || !(std::abs(change / expected - 1) < 0.6)) return;
  Sums& s = sums_[index_of(adjuster)];
  ++s.count;
  s.up += change * expected;
  s.down += expected * expected;
}

double as_made(Adjuster adjuster, double amount) {
  if (adjuster == Adjuster::balance_punchings || adjuster == Adjuster::front_punchings)
    return 0.025 * std::round(amount / 0.025);
  if (adjuster == Adjuster::repetition_spring) return 0.5 * std::round(amount / 0.5);
  return amount;
}

std::vector<Key> go_over(Hands& hands, const Pass& pass, const std::vector<NoteTargets>& targets) {
  const Aim aim = aim_for(pass.adjuster);
  std::vector<Key> turned;
  for (std::size_t first = 0; first < pass.keys.size(); first += arm_full) {
    const std::size_t count = std::min(arm_full, pass.keys.size() - first);
    std::vector<Key> keys(pass.keys.begin() + static_cast<std::ptrdiff_t>(first),
                          pass.keys.begin() + static_cast<std::ptrdiff_t>(first + count));
    std::vector<double> read;
    if (pass.known != nullptr)
      read.assign(pass.known->begin() + static_cast<std::ptrdiff_t>(first),
                  pass.known->begin() + static_cast<std::ptrdiff_t>(first + count));
    else
      read = look(hands, pass, keys, targets);
    for (int round = 0; round < pass.tries && !keys.empty(); ++round) {
      std::vector<MoveMeant> moves;
      std::vector<double> was;
      for (std::size_t i = 0; i < keys.size(); ++i) {
        const double goal =
            targets[static_cast<std::size_t>(hands.piano().compass().position(keys[i]))]
                   [index_of(aim)];
        const double off = goal - read[i];
        if (!(std::abs(off) > pass.accept)) continue;
        const double per_unit = pass.learned != nullptr ? pass.learned->per_unit(pass.adjuster)
                                                        : usual_turn[index_of(pass.adjuster)];
        const double amount = as_made(pass.adjuster, off / per_unit);
        if (amount == 0) continue;
        moves.push_back({keys[i], pass.adjuster, amount, goal});
        was.push_back(read[i]);
      }
      if (moves.empty()) break;
      hands.take_up(pass.adjuster);
      hands.turn(moves);
      keys.clear();
      for (const MoveMeant& m : moves) {
        keys.push_back(m.key);
        if (round == 0) turned.push_back(m.key);
      }
      if (!pass.again) break;
      read = look(hands, pass, keys, targets);
      if (pass.learned != nullptr && pass.way == Way::gauge)
        for (std::size_t i = 0; i < keys.size(); ++i)
          pass.learned->saw(pass.adjuster, moves[i].amount, read[i] - was[i],
                            hands.law().gauge[index_of(aim)]);
    }
  }
  return turned;
}

std::vector<MoveMeant> free_hammers(Hands& hands, std::span<const Key> keys) {
  const auto held = [&](std::vector<Key> of) {
    const auto free = hands.lets_go(of);
    std::vector<Key> left;
    for (std::size_t i = 0; i < of.size(); ++i)
      if (!free[i]) left.push_back(of[i]);
    return left;
  };
  struct Cure {
    Adjuster adjuster;
    double amount;
  };
  // A lever too high, a button too late, a key too shallow: which, the eye sees at the hammer;
  // tried here in that order.
  constexpr Cure cures[] = {{Adjuster::drop_screw, 0.15},      {Adjuster::let_off_button, 0.15},
                            {Adjuster::front_punchings, -0.3}, {Adjuster::drop_screw, 0.2},
                            {Adjuster::let_off_button, 0.2},   {Adjuster::front_punchings, -0.3}};
  std::vector<MoveMeant> made;
  std::vector<Key> stuck = held({keys.begin(), keys.end()});
  for (const Cure& cure : cures) {
    if (stuck.empty()) break;
    std::vector<MoveMeant> moves;
    for (const Key k : stuck)
      moves.push_back({k, cure.adjuster, cure.amount, std::numeric_limits<double>::quiet_NaN()});
    hands.take_up(cure.adjuster);
    hands.turn(moves);
    made.insert(made.end(), moves.begin(), moves.end());
    stuck = held(stuck);
  }
  return made;
}

std::vector<Key> all_keys(const HiddenPiano& piano) {
  std::vector<Key> keys;
  for (int i = 0; i < piano.compass().count(); ++i) keys.push_back(piano.compass().at(i));
  return keys;
}

std::vector<Key> with_dampers(const HiddenPiano& piano, const std::vector<Key>& keys) {
  std::vector<Key> out;
  for (const Key k : keys)
    if (piano.has(k, Adjuster::damper_wire)) out.push_back(k);
  return out;
}

std::vector<Key> naturals_first(std::vector<Key> keys) {
  std::ranges::stable_partition(keys, is_natural);
  return keys;
}

}  // namespace reference
}  // namespace batten::workshop
