#include "workshop/hands.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstdlib>

namespace batten::workshop {

Hands::Hands(HiddenPiano& piano, std::uint64_t seed, const HandsLaw& law)
    : piano_(piano), chance_(seed), law_(law), at_(piano.compass().lowest), night_(law.day) {
  memory_.resize(static_cast<std::size_t>(piano.compass().count()));
  for (Memory& m : memory_) m.sd = law.gauge;
}

void Hands::spend(double minutes) {
  tally_.minutes += minutes;
  while (tally_.minutes > night_) {
    night_ += law_.day;
    piano_.next_day();
  }
}

void Hands::take_up(Adjuster adjuster) {
  if (in_hand_ == adjuster) return;
  in_hand_ = adjuster;
  const double minutes = law_.set_up_minutes[index_of(adjuster)];
  tally_.minutes_set_up += minutes;
  spend(minutes);
}

void Hands::walk_to(Key key) {
  const int way = std::abs(key.number - at_.number);
  if (way > law_.reach) spend(law_.walk + law_.walk_per_key * way);
  at_ = key;
}

void Hands::write(int figures) {
  tally_.minutes_writing += figures * law_.writing;
  spend(figures * law_.writing);
}

double Hands::err(double sd, bool& misread) {
  misread = chance_.uniform() < law_.misread;
  if (!misread) return sd * chance_.normal();
  ++tally_.misreads;
  const double off =
      law_.misread_least + (law_.misread_most - law_.misread_least) * chance_.uniform();
  return (chance_.coin() ? off : -off) * sd;
}

std::vector<double> Hands::read(std::span<const Key> keys, Aim aim, Way way) {
  const auto truth = piano_.truth(keys);
  const std::size_t a = index_of(aim);
  const double sd = (way == Way::gauge ? law_.gauge : law_.eye)[a];
  const double minutes = (way == Way::gauge ? law_.gauge_minutes : law_.eye_minutes)[a];
  std::vector<double> out;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    walk_to(keys[i]);
    double value = truth[i][aim];
    if (aim == Aim::blow) {
      piano_.tap(keys[i]);
      value -= piano_.unsettled(keys[i]);
    }
    bool misread = false;
    const double error = err(sd, misread);
    if (aim == Aim::spring_rise)
      value = std::clamp(std::round(value + error), 0.0, 4.0);
    else
      value += error;
    if (aim == Aim::let_off || aim == Aim::drop || aim == Aim::aftertouch)
      value = value < 0 ? 0 : value;  // NaN stays
    if (value == value) {
      ++(way == Way::gauge ? tally_.readings : tally_.readings_by_eye);
      Memory& m = memory_[place(keys[i])];
      m.sd[a] = sd;
      m.misread[a] = m.misread[a] || misread;
    }
    out.push_back(value);
    tally_.minutes_reading += minutes;
    spend(minutes);
  }
  return out;
}

std::vector<double> Hands::sight_hammers(std::span<const Key> keys, const std::vector<Key>& set,
                                         std::span<const double> targets) {
  const std::size_t a = index_of(Aim::blow);
  for (const Key k : keys) piano_.tap(k);
  const auto height = [&](Key k) {
    return piano_.strings().at(k).in(millimetre)-piano_.truth(std::span(&k, 1))[0][Aim::blow] +
           piano_.unsettled(k);
  };
  std::vector<double> out;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    const Key k = keys[i];
    walk_to(k);
    const Section& section =
        piano_.sections()[static_cast<std::size_t>(section_of(piano_.sections(), k))];
    std::optional<Key> below, above;
    for (const Key s : set) {
      if (!section.contains(s) || s == k) continue;
      if (s < k) below = s;
      if (s > k && !above) above = s;
    }
    assert(below || above);
    const Key from = below.value_or(*above), to = above.value_or(from);
    const double share =
        from == to ? 0 : static_cast<double>(k.number - from.number) / (to.number - from.number);
    const double line = height(from) + share * (height(to) - height(from));
    bool misread = false;
    const double error = err(law_.eye[a], misread);
    out.push_back(targets[i] - (height(k) - line) + error);
    ++tally_.readings_by_eye;
    Memory& m = memory_[place(k)];
    m.sd[a] = law_.eye[a];
    m.misread[a] = m.misread[a] || misread;
    tally_.minutes_reading += law_.eye_minutes[a];
    spend(law_.eye_minutes[a]);
  }
  return out;
}

std::vector<double> Hands::read_strings(std::span<const Key> keys) {
  std::vector<double> out;
  for (const Key k : keys) {
    walk_to(k);
    bool misread = false;
    out.push_back(piano_.strings().at(k).in(millimetre) + err(law_.string_noise, misread));
    ++tally_.readings;
    tally_.minutes_reading += law_.string_minutes;
    spend(law_.string_minutes);
  }
  return out;
}

std::vector<bool> Hands::lets_go(std::span<const Key> keys) {
  constexpr double glance = 0.04;  // minutes
  const auto truth = piano_.truth(keys);
  std::vector<bool> out;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    walk_to(keys[i]);
    out.push_back(!truth[i].harmful());
    tally_.minutes_reading += glance;
    spend(glance);
  }
  return out;
}

void Hands::turn(std::span<const MoveMeant> moves) {
  std::vector<Key> keys;
  for (const MoveMeant& m : moves) keys.push_back(m.key);
  const auto before = piano_.truth(keys);
  for (const MoveMeant& m : moves) {
    assert(in_hand_ == m.adjuster && m.amount != 0 && std::isfinite(m.amount));
    walk_to(m.key);
    double done = m.amount;
    const MoveUnit unit = kind_of(m.adjuster).unit;
    if (unit == MoveUnit::turns)
      done += law_.turn_share * std::abs(m.amount) * chance_.normal() +
              law_.turn_stop * chance_.normal();
    else if (m.adjuster == Adjuster::balance_punchings || m.adjuster == Adjuster::front_punchings)
      done += law_.paper_stop * chance_.normal();
    else
      done += law_.bend_share * std::abs(m.amount) * chance_.normal();
    piano_.turn(m.key, m.adjuster, done);
    ++tally_.moves;
    Memory& memory = memory_[place(m.key)];
    if (memory.moves[index_of(m.adjuster)]++ > 0) ++tally_.rework;
    const double minutes = law_.turn_minutes[index_of(m.adjuster)];
    tally_.minutes_turning += minutes;
    spend(minutes);
  }
  const auto after = piano_.truth(keys);
  for (std::size_t i = 0; i < moves.size(); ++i) {
    if (after[i].harmful() && !before[i].harmful()) ++tally_.harmful;
    if (after[i].touches_check && !before[i].touches_check) ++tally_.rubbing;
    const Aim aim = aim_for(moves[i].adjuster);
    Memory& memory = memory_[place(moves[i].key)];
    const double was = before[i][aim], is = after[i][aim], goal = moves[i].goal;
    const bool misled = memory.misread[index_of(aim)];
    memory.misread[index_of(aim)] = false;
    // NaN: nothing can be said.
    if ((is - was) * (goal - was) < 0 && std::abs(goal - was) > 2 * memory.sd[index_of(aim)]) {
      ++tally_.wrong_way;
      if (misled) ++tally_.wrong_way_misread;
    }
  }
}

}  // namespace batten::workshop
