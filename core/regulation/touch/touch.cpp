#include "core/regulation/touch/touch.hpp"

#include "core/action/prepare.hpp"
#include "core/action/regulate.hpp"
#include "core/action/strokes.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <utility>

namespace batten {

namespace {

using action::Wanted;

constexpr double per_mm = 1e3, per_ms = 1e3;

// Wanted's member of an aim and the catalogue's unit in its own; those that a stroke hangs on and
// the model can regulate to. The spring and the aftertouch follow from the others.
struct Member {
  Aim aim;
  double Wanted::*member;
  double unit;
  double step;  // catalogue unit, for the slope; 0: its slope is not asked
};
constexpr Member members[] = {
    {Aim::blow, &Wanted::blow, per_mm, 0.5},
    {Aim::dip, &Wanted::dip, per_mm, 0.3},
    {Aim::let_off, &Wanted::let_off, per_mm, 0.4},
    {Aim::drop, &Wanted::drop, per_mm, 0},
    {Aim::check_distance, &Wanted::check_distance, per_mm, 0},
    {Aim::jack_clearance, &Wanted::jack_clearance, per_mm, 0},
    {Aim::jack_position, &Wanted::jack_position, per_mm, 0},
};
// Let up to between repeated blows, m below rest: as core/regulation/brief.
constexpr double partial_return = 0.003;
// Computed, s: as core/regulation/brief.
constexpr double loud_time = 0.09, middling_time = 0.13;

// One note to play: of which task, with which member taken further (−1: none).
struct Trial {
  std::size_t task;
  bool after;
  int further;
};

Wanted wanted_of(const TouchTask& task, const Trial& trial) {
  Wanted w = task.target;
  for (int m = 0; m < static_cast<int>(std::size(members)); ++m) {
    const Member& member = members[m];
    const TouchAim& aim = task.aims[index_of(member.aim)];
    double off = trial.after ? aim.after : aim.before;
    if (m == trial.further) off += member.step;
    w.*member.member += off / member.unit;
  }
  return w;
}

struct Played {
  bool set = false;
  action::Note note;
  double power = std::numeric_limits<double>::quiet_NaN();
  double time = std::numeric_limits<double>::quiet_NaN();
};

void play(std::vector<Played>& all, action::Effort effort, double time, double Played::*out) {
  std::vector<action::Note> notes;
  std::vector<std::size_t> whose;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!all[i].set) continue;
    notes.push_back(all[i].note);
    whose.push_back(i);
  }
  const action::Finger finger = standard_finger(effort, action::Touch::pressed);
  action::StrokeOptions options;
  options.time = time;
  options.to_string = true;
  const auto strokes = calc_strokes(notes, std::span(&finger, 1), options);
  for (std::size_t i = 0; i < strokes.size(); ++i) {
    const auto& s = strokes[i];
    if (!s || !s->finite || std::isnan(s->string)) continue;
    all[whose[i]].*out = effort == action::Effort::loud ? s->hammer_speed : s->travel_time * per_ms;
  }
}

double repetitions(const Played& played) {
  constexpr double none = std::numeric_limits<double>::quiet_NaN();
  if (!played.set) return none;
  const auto finger = standard_finger(action::Effort::middling, action::Touch::pressed);
  const auto period = find_repetition(played.note, finger, partial_return);
  return period && *period > 0 ? 1 / *period : none;
}

}  // namespace

Result<std::vector<Touch>> calc_touch(const action::Profile& profile,
                                      const std::vector<TouchTask>& tasks) {
  if (auto ok = action::check(profile); !ok) return tl::unexpected(ok.error());
  std::vector<Trial> trials;
  std::vector<action::Dimensions> dimensions;
  for (std::size_t t = 0; t < tasks.size(); ++t) {
    const action::Anchor anchor = note_of(profile, tasks[t].key);
    action::Dimensions d = anchor.dimensions;
    auto lead = action::solve_lead({d, {}}, anchor.balance_weight);
    if (!lead) return tl::unexpected(lead.error());
    d.lead_mass = *lead;
    trials.push_back({t, false, -1});
    trials.push_back({t, true, -1});
    for (int m = 0; m < static_cast<int>(std::size(members)); ++m)
      if (members[m].step > 0) trials.push_back({t, true, m});
    dimensions.resize(trials.size(), d);
  }
  std::vector<Wanted> wanted;
  for (const Trial& t : trials) wanted.push_back(wanted_of(tasks[t.task], t));
  const auto regulated = solve_regulation(dimensions, wanted);
  std::vector<Played> played(trials.size());
  for (std::size_t i = 0; i < trials.size(); ++i) {
    if (!regulated[i] || !regulated[i]->reached) continue;
    played[i].set = true;
    played[i].note = {dimensions[i], regulated[i]->adjustments};
  }
  play(played, action::Effort::loud, loud_time, &Played::power);
  play(played, action::Effort::middling, middling_time, &Played::time);

  std::vector<Touch> out;
  for (std::size_t i = 0; i < trials.size();) {
    const TouchTask& task = tasks[trials[i].task];
    const Played &before = played[i], &after = played[i + 1];
    Touch touch{task.key, {}, {}, {}, {}};
    touch.power = {before.power, after.power, 0};
    touch.time = {before.time, after.time, 0};
    touch.repetition = {repetitions(before), repetitions(after), 0};
    double beside_before = 0, beside_after = 0;
    int beside = 0;
    std::size_t k = i + 2;
    for (; k < trials.size() && trials[k].task == trials[i].task; ++k) {
      const Member& member = members[trials[k].further];
      const TouchAim& aim = task.aims[index_of(member.aim)];
      const double by_power = (played[k].power - after.power) / member.step;
      const double by_time = (played[k].time - after.time) / member.step;
      const double variance = aim.before_sd * aim.before_sd + aim.after_sd * aim.after_sd;
      touch.power.sd += by_power * by_power * variance;
      touch.time.sd += by_time * by_time * variance;
      beside_before += std::pow(by_power * aim.before_beside, 2);
      beside_after += std::pow(by_power * aim.after_beside, 2);
      beside = std::max(beside, aim.beside);
    }
    touch.power.sd = std::sqrt(touch.power.sd);
    touch.time.sd = std::sqrt(touch.time.sd);
    if (beside > 0) {
      // A root mean square of n values is good to one part in √(2n) (normal values).
      const double good_to = std::sqrt((beside_before + beside_after) / (2.0 * beside));
      touch.unevenness = {std::sqrt(beside_before) / after.power,
                          std::sqrt(beside_after) / after.power, good_to / after.power};
    }
    out.push_back(touch);
    i = k;
  }
  return out;
}

}  // namespace batten
