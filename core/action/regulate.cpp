#include "core/action/regulate.hpp"

#include "core/action/goals.hpp"
#include "core/action/slow.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

namespace batten::action {

namespace {

using goals::Goal;

// The stages a note goes through; each asks for one kind of reading.
enum class Stage : std::uint8_t {
  rest,    // heights and the jack's place, from the rest posture alone
  open,    // one press with button, screw and punching out of the way: guesses for all three
  escape,  // let-off and drop, the key deeper than wanted so that it cannot bottom first
  all,     // everything at once
  last,    // the readings that are handed back
  done,
};

// How much deeper the key goes while let-off and drop are sought, m.
constexpr double spare_dip = 1.5e-3;
// Crown below the string, over let-off (and drop), where toe and tip first touch: about what the
// jack needs to come out (found with the default dimensions; only a start).
constexpr double toe_ahead = 2.4e-3, tip_ahead = 1.5e-3;
constexpr double recover = 0.4e-3;  // m a screw is moved at once where a fault says which way
constexpr int most_rounds = 16;     // a stage's
// After so many it is enough to be within the tolerance: some let-offs turn at either of two
// places.
constexpr int patient_rounds = 5;

struct Case {
  Dimensions dimensions;
  Wanted wanted;
  Adjustments adjustments;
  goals::Solver solver;
  Stage stage = Stage::rest;
  int rounds = 0;
  bool cold = true;  // button and screw have been guessed by a press
  double falls = 0;  // depth at which the hammer was last seen to fall
  std::optional<Readings> readings;
  std::optional<Problem> error;
};

std::string millimetres(double metres) {
  const double rounded = std::round(metres * 1e5) / 100;
  std::string text = std::to_string(rounded);
  return text.substr(0, text.find('.') + 3) + " mm";
}

void fail(Case& c, std::string happened, std::string todo) {
  c.error = Problem{std::move(happened), {}, std::move(todo)};
  c.stage = Stage::done;
}

void enter(Case& c, Stage stage) {
  c.stage = stage;
  c.rounds = 0;
  c.solver.forget();
}

// A screw at the end of its travel: nothing more to be had.
bool within_travel(Case& c) {
  for (const Goal& g : goals::all()) {
    const double a = c.adjustments.*g.adjuster;
    if (a >= g.least && a <= g.most) continue;
    const double over = a > g.most ? a - g.most : g.least - a;
    fail(c,
         std::string("The ") + g.name + " wanted cannot be had: its adjuster would have to go " +
             millimetres(over) + " beyond its travel, and the reading is still " +
             g.text(std::abs(c.solver.miss(g))) + " off.",
         g.todo);
    return false;
  }
  return true;
}

double worst_miss(const Case& c, const Readings& r) {
  double worst = 0;
  for (const Goal& g : goals::all()) {
    if (!g.asked(c.dimensions)) continue;
    const double miss = std::abs(goals::value(g, r) - g.wanted(c.wanted)) / g.tolerance;
    if (!(miss <= worst)) worst = miss;
  }
  return worst;
}

// By the worst of the set, but by the jack's clearance where that is wanting: a lever that gives
// way spoils the rest.
void fail_by_worst(Case& c, goals::Set set) {
  const Goal* worst = &goals::all()[0];
  double most = -1;
  for (const Goal& g : goals::all()) {
    if (!set.has(g) || !g.asked(c.dimensions)) continue;
    double miss = std::abs(c.solver.miss(g)) / g.tolerance;
    if (g.reading == &Readings::jack_clearance && miss > 1) miss *= 1e6;
    if (!(miss <= most)) {
      worst = &g;
      most = miss;
    }
  }
  fail(c,
       std::string("The ") + worst->name + " wanted cannot be had: the nearest is " +
           worst->text(std::abs(c.solver.miss(*worst))) + " off.",
       worst->todo);
}

void take_rest(Case& c, const Readings& r) {
  constexpr double near = 2e-6;
  c.solver.look(c.dimensions, c.wanted, c.adjustments, r);
  if (c.solver.worst(goals::at_rest) < near) {
    enter(c, c.cold ? Stage::open : Stage::all);
    if (c.cold) {
      c.adjustments.let_off_button = c.adjustments.drop_screw = 0;
      c.adjustments.front_punchings = -spare_dip;
    }
    return;
  }
  if (++c.rounds > most_rounds) {
    fail_by_worst(c, goals::at_rest);
    return;
  }
  c.solver.step(goals::at_rest, c.adjustments);
  within_travel(c);
}

// Guesses from a press that nothing stops: where toe and tip must be met.
void take_open(Case& c, const Readings& r) {
  const Wanted& w = c.wanted;
  const auto row_at = [&](double below) {
    std::size_t k = 1;
    while (k + 1 < r.down.size() && r.down[k].below > below) ++k;
    return k;
  };
  // A value where the crown is `below` the string, between two rows.
  const auto at = [&](double below, double SweepPoint::*value) {
    const std::size_t k = row_at(below);
    const SweepPoint &a = r.down[k - 1], &b = r.down[k];
    const double share =
        a.below == b.below ? 1 : std::clamp((a.below - below) / (a.below - b.below), 0.0, 1.0);
    return a.*value + share * (b.*value - a.*value);
  };
  double least = r.blow;
  for (const SweepPoint& row : r.down) least = std::min(least, row.below);
  if (least > w.let_off) {
    fail(c,
         "The let-off wanted cannot be had: the hammer comes no nearer to the string than " +
             millimetres(least) + ", " + millimetres(least - w.let_off) + " short.",
         "Shorten the blow or deepen the dip.");
    return;
  }
  c.adjustments.let_off_button = at(w.let_off + toe_ahead, &SweepPoint::toe_gap);
  c.adjustments.drop_screw = at(w.let_off + w.drop + tip_ahead, &SweepPoint::tip_gap);
  if (goals::has_damper(c.dimensions))
    c.adjustments.damper_wire += at(r.blow * (1 - w.damper_start), &SweepPoint::damper_gap);
  enter(c, Stage::escape);
}

// Where the hammer did not let go, moves what stands in the way; false if it did.
bool put_right(Case& c, const Readings& r) {
  // On a key deeper than wanted a hammer that has fallen may be carried up again: no matter.
  if (r.let_off == r.let_off) return false;
  Adjustments& a = c.adjustments;
  const auto has = [&](Fault f) { return std::ranges::find(r.faults, f) != r.faults.end(); };
  if (has(Fault::lever_carried)) {
    a.drop_screw += recover;
  } else if (has(Fault::blocked)) {
    a.let_off_button += recover;
  } else if (c.stage == Stage::all) {
    fail(c,
         "The key bottoms before the hammer lets go: it falls at " + millimetres(c.falls) +
             ", and the dip wanted is " + millimetres(c.wanted.dip) + ".",
         "Deepen the dip, shorten the blow or let off earlier.");
    return true;
  } else {
    a.front_punchings -= 2 * recover;
  }
  c.solver.forget();
  return true;
}

void start_cold(Case& c) {
  c.cold = true;
  c.solver = {};
  enter(c, Stage::rest);
}

void take_press(Case& c, const Readings& r) {
  constexpr double near_escape = 50e-6;
  c.readings = r;
  const bool all = c.stage == Stage::all;
  if (++c.rounds > most_rounds) {
    if (!c.cold) {
      start_cold(c);
    } else {
      c.solver.look(c.dimensions, c.wanted, c.adjustments, r);
      fail_by_worst(c, all ? goals::every : goals::tripping);
    }
    return;
  }
  if (!c.cold && !r.faults.empty()) {
    start_cold(c);
    return;
  }
  if (put_right(c, r)) {
    if (c.stage != Stage::done) within_travel(c);
    return;
  }
  c.falls = r.dip - r.aftertouch;
  c.solver.look(c.dimensions, c.wanted, c.adjustments, r);
  if (!all) {
    if (c.solver.worst(goals::tripping) < near_escape) {
      c.stage = Stage::all;
      c.rounds = 0;
    }
    c.solver.step(c.stage == Stage::all ? goals::every : goals::tripping, c.adjustments);
  } else if (c.solver.worst(goals::every) < goals::near ||
             (c.rounds > patient_rounds && c.solver.within(goals::every))) {
    enter(c, Stage::last);
    return;
  } else {
    c.solver.step(goals::every, c.adjustments);
  }
  within_travel(c);
}

void take(Case& c, const Result<Readings>& r) {
  if (!r) {
    c.error = r.error();
    c.stage = Stage::done;
    return;
  }
  switch (c.stage) {
    case Stage::rest:
      take_rest(c, *r);
      break;
    case Stage::open:
      take_open(c, *r);
      break;
    case Stage::escape:
    case Stage::all:
      take_press(c, *r);
      break;
    case Stage::last:
      c.readings = *r;
      c.stage = Stage::done;
      break;
    case Stage::done:
      break;
  }
}

slow::Wish wish_of(Stage stage) {
  slow::Wish wish;
  wish.press = stage != Stage::rest;
  wish.weigh = stage == Stage::last;
  wish.keep_down = stage == Stage::open;
  return wish;
}

// One round of all notes that stand at a stage.
void go_round(std::span<Case> cases, Stage stage) {
  std::vector<Note> notes;
  std::vector<Case*> whose;
  for (Case& c : cases)
    if (c.stage == stage) {
      notes.push_back({c.dimensions, c.adjustments});
      whose.push_back(&c);
    }
  if (notes.empty()) return;
  const auto readings = slow::read_notes(notes, wish_of(stage));
  for (std::size_t k = 0; k < whose.size(); ++k) take(*whose[k], readings[k]);
}

Result<Regulated> result_of(Case& c) {
  if (c.error) return tl::unexpected(*c.error);
  Regulated out;
  out.adjustments = c.adjustments;
  out.readings = std::move(*c.readings);
  out.worst = worst_miss(c, out.readings);
  out.reached = out.worst <= 1 && out.readings.faults.empty();
  return out;
}

}  // namespace

std::vector<Result<Regulated>> solve_regulation(std::span<const Dimensions> dimensions,
                                                std::span<const Wanted> wanted,
                                                std::span<const Adjustments> starts) {
  std::vector<Case> cases(dimensions.size());
  for (std::size_t i = 0; i < cases.size(); ++i) {
    Case& c = cases[i];
    c.dimensions = dimensions[i];
    c.wanted = wanted[i];
    if (!starts.empty()) {
      c.adjustments = starts[i];
      c.cold = false;
      c.stage = Stage::all;
    }
    c.adjustments.spring = c.wanted.spring;
  }
  const auto busy = [](const Case& c) { return c.stage != Stage::done; };
  while (std::ranges::any_of(cases, busy))
    for (const Stage stage : {Stage::rest, Stage::open, Stage::escape, Stage::all, Stage::last})
      go_round(cases, stage);
  std::vector<Result<Regulated>> out;
  out.reserve(cases.size());
  for (Case& c : cases) out.push_back(result_of(c));
  return out;
}

Result<Regulated> solve_regulation(const Dimensions& dimensions, const Wanted& wanted,
                                   const Adjustments* start) {
  const std::span<const Adjustments> starts =
      start == nullptr ? std::span<const Adjustments>{} : std::span(start, 1);
  return std::move(solve_regulation(std::span(&dimensions, 1), std::span(&wanted, 1), starts)[0]);
}

}  // namespace batten::action
