#include "core/regulation/planning/passes.hpp"

#include "core/keyboard/samples.hpp"
#include "core/regulation/planning/papers.hpp"

#include <algorithm>
#include <cmath>

namespace batten::planning {
namespace {

constexpr auto at(Aim aim) { return static_cast<Eigen::Index>(aim); }
constexpr auto at(Adjuster adjuster) { return static_cast<Eigen::Index>(adjuster); }

// The first moves of an adjuster in a register are read again whatever they promise: they teach
// what a turn does on this piano.
constexpr int moves_to_learn_from = 3;
// Beyond so many readings since the last move another tells little.
constexpr int most_readings = 3;
// An effect on another reading worth saying, in its tolerances.
constexpr double worth_saying = 0.25;
// A string line surer than this sets a blow by hammer height; else the block is held (mm).
constexpr double sure_line = 0.15;

std::vector<Aim> aims_served(Adjuster adjuster) {
  if (adjuster == Adjuster::front_punchings) return {Aim::dip, Aim::aftertouch};
  return {aim_for(adjuster)};
}

// Blow, dip, let-off and aftertouch hang together (Tie): all four are read before the first of them
// is set, or what is found last upsets what was set first.
std::vector<Aim> tied_aims(Adjuster adjuster, const std::vector<Adjuster>& order) {
  constexpr std::array tied{Adjuster::capstan, Adjuster::front_punchings, Adjuster::let_off_button};
  for (const Adjuster a : order)
    if (std::ranges::find(tied, a) != tied.end()) {
      if (a != adjuster) break;
      return {Aim::blow, Aim::dip, Aim::let_off, Aim::aftertouch};
    }
  return {};
}

// How the aim is best read here.
Reading reading_for(const Situation& s, Aim aim, Key key) {
  if (aim != Aim::blow) return reading_of(aim, key);
  const auto i = static_cast<std::size_t>(s.compass.position(key));
  const double sd = std::hypot(s.plane.sd[i].in(millimetre), s.plane.offset_sd[i].in(millimetre));
  return s.plane.transfer.ready && sd < sure_line ? Reading::hammer_height : Reading::blow;
}

double off_target(const NoteTask& task, const Belief& b, Aim aim) {
  return b.mean(at(aim)) - task.target(at(aim));
}

double chance_out(const NoteTask& task, const Belief& b, Aim aim) {
  return chance_outside(off_target(task, b, aim), b.sd(aim), task.tolerance(at(aim)));
}

Instruction reading_step(const Situation& s, const NoteTask& task, Adjuster adjuster,
                         Reading reading, const Paces& paces) {
  Instruction i;
  i.kind = Instruction::Kind::read;
  i.key = task.note->key;
  i.reading = reading;
  i.adjuster = adjuster;
  i.minutes = paces.reading(reading).minutes;
  if (const auto aim = aim_of(reading)) {
    i.before = task.note->at(*aim);
    i.before_sd = task.note->sd(*aim);
    i.after = i.at_the_end = i.before;
    i.target = task.target(at(*aim));
    i.tolerance = task.tolerance(at(*aim));
  }
  (void)s;
  return i;
}

Instruction turn_step(const Situation& s, const NoteTask& task, const Decision& decision,
                      Adjuster adjuster, const Paces& paces, const PlanOptions& options) {
  const auto k = at(adjuster);
  const Aim aim = aim_for(adjuster);
  Instruction i;
  i.kind = Instruction::Kind::turn;
  i.key = task.note->key;
  i.adjuster = adjuster;
  i.reading = reading_for(s, aim, i.key);
  i.amount = decision.amounts(k);
  i.before = task.note->at(aim);
  i.before_sd = task.note->sd(aim);
  i.after = i.before + task.effect(at(aim), k) * i.amount;
  i.target = task.target(at(aim));
  i.tolerance = task.tolerance(at(aim));
  const Belief end = after_moves(task, decision.amounts);
  i.at_the_end = end.mean(at(aim));
  const bool learning = s.responses.moves_seen(adjuster, task.note->reg) < moves_to_learn_from;
  for (const Aim served : aims_served(adjuster))
    if (task.asked[index_of(served)] &&
        std::abs(off_target(task, end, served)) <= task.tolerance(at(served)) &&
        chance_out(task, end, served) - task.blur(at(served)) > options.reread_from)
      i.read_after = true;
  i.read_after = i.read_after || learning;
  i.minutes = paces.move(adjuster).minutes + (i.read_after ? paces.reading(i.reading).minutes : 0);
  for (const Aim other : all_aims) {
    if (other == aim || !task.asked[index_of(other)]) continue;
    const double change = task.effect(at(other), k) * i.amount;
    if (std::abs(change) > worth_saying * task.tolerance(at(other)))
      i.effects.push_back({other, change, task.tolerance(at(other))});
  }
  const bool of_papers =
      adjuster == Adjuster::front_punchings || adjuster == Adjuster::balance_punchings;
  if (of_papers) {
    if (const auto advice = choose_papers({i.amount, s.catalogue.papers, {}, {}}))
      i.papers = i.amount > 0 ? advice->best.add : advice->best.take;
  }
  return i;
}

}  // namespace

std::vector<Reading> readings_wanted(const Situation& s, const NoteTask& task,
                                     const Decision& decision, Adjuster adjuster,
                                     const PlanOptions& options) {
  std::vector<Reading> list;
  const NoteState& note = *task.note;
  if (!task.usable[index_of(adjuster)]) return list;
  const Belief now{note.mean, note.cov};
  const bool turning = decision.amounts(at(adjuster)) != 0;
  const Belief end = after_moves(task, decision.amounts);
  for (const Aim aim : aims_served(adjuster)) {
    if (!task.asked[index_of(aim)]) continue;
    const double chance = chance_out(task, end, aim) - task.blur(at(aim));
    const double tolerance = task.tolerance(at(aim));
    bool wanted = note.doubted[index_of(aim)];
    if (!note.read[index_of(aim)]) wanted = wanted || chance > options.reread_from;
    if (note.unread_move[index_of(adjuster)] && !turning)
      wanted = wanted || chance > options.reread_from ||
               s.responses.moves_seen(adjuster, note.reg) < moves_to_learn_from;
    for (const Question& q : s.questions)
      wanted = wanted || (q.kind != Question::Kind::odd_reading && q.key == note.key &&
                          q.adjuster == adjuster && !q.confirmed && aim == aim_for(adjuster));
    // Neither in nor out on what is known, and another reading would tell.
    if (!turning && note.read[index_of(aim)] && note.readings[index_of(aim)] < most_readings)
      wanted = wanted || (chance > options.act_from &&
                          (now.sd(aim) > 0.4 * tolerance || note.carried(at(aim)) > tolerance));
    if (wanted) list.push_back(reading_for(s, aim, note.key));
  }
  for (const Aim aim : tied_aims(adjuster, decision.order)) {
    const Reading reading = reading_for(s, aim, note.key);
    if (task.asked[index_of(aim)] && !note.read[index_of(aim)] &&
        std::ranges::find(list, reading) == list.end())
      list.push_back(reading);
  }
  for (const Hold& h : decision.holds)
    if (h.adjuster == adjuster && h.would_settle &&
        std::ranges::find(list, *h.would_settle) == list.end())
      list.push_back(*h.would_settle);
  return list;
}

std::vector<Pass> make_passes(const Situation& s, const Board& board, const OrderReport& order,
                              const Paces& paces, bool gated, const PlanOptions& options) {
  std::vector<Pass> passes;
  const std::vector<Key> samples_first = working_order(s.targets.sections, s.line.samples);
  std::vector<Key> naturals_first = samples_first;
  std::stable_partition(naturals_first.begin(), naturals_first.end(), is_natural);
  std::vector<std::uint32_t> given(board.tasks.size(), 0);  // adjusters already asked for
  for (const Adjuster adjuster : order.derived) {
    Pass pass;
    pass.adjuster = adjuster;
    std::vector<Instruction> moves;
    std::array<std::vector<Instruction>, note_adjuster_count> before;
    // Sharps are levelled over naturals that lie level.
    const bool heights = adjuster == Adjuster::balance_punchings;
    std::vector<bool> open(board.tasks.size() + 2, false);  // by place, from 1
    for (const Key key : heights ? naturals_first : samples_first) {
      const auto place = static_cast<std::size_t>(s.compass.position(key)) + 1;
      if (heights && is_sharp(key) && (open[place - 1] || open[place + 1])) continue;
      const auto i = static_cast<std::size_t>(s.compass.position(key));
      const NoteTask& task = board.tasks[i];
      const Decision& decision = board.decisions[i];
      pass.done += task.note->moves[index_of(adjuster)] > 0 ? 1 : 0;
      pass.skipped += task.note->skipped[index_of(adjuster)] ? 1 : 0;
      const std::vector<Reading> wanted = readings_wanted(s, task, decision, adjuster, options);
      for (const Reading r : wanted)
        pass.steps.push_back(reading_step(s, task, adjuster, r, paces));
      open[place] = !wanted.empty() || decision.amounts(at(adjuster)) != 0;
      if (gated || decision.amounts(at(adjuster)) == 0) continue;
      // With those that must go before it at this note, so that no step does harm; one after the
      // other along the keyboard, so that a tool is taken up once.
      for (const Adjuster first : decision.order) {
        if (decision.amounts(at(first)) != 0 && (given[i] >> index_of(first) & 1) == 0) {
          given[i] |= 1u << index_of(first);
          (first == adjuster ? moves : before[index_of(first)])
              .push_back(turn_step(s, task, decision, first, paces, options));
        }
        if (first == adjuster) break;
      }
    }
    pass.readings = static_cast<int>(pass.steps.size());
    for (const Adjuster first : order.derived) {
      const auto& list = before[index_of(first)];
      pass.steps.insert(pass.steps.end(), list.begin(), list.end());
    }
    pass.moves = static_cast<int>(moves.size() + pass.steps.size()) - pass.readings;
    pass.steps.insert(pass.steps.end(), moves.begin(), moves.end());
    if (pass.steps.empty()) continue;
    pass.minutes = s.catalogue.labour(adjuster).minutes_set_up;
    for (const Instruction& step : pass.steps) pass.minutes += step.minutes;
    passes.push_back(std::move(pass));
  }
  return passes;
}

UndoneTable undone_table(const Situation& s, const Board& board) {
  // Moves an adjuster may be expected to make where nothing is known yet: as far as takes its
  // reading over twice its tolerance (estimate), counted as so many notes.
  constexpr double expected_tolerances = 2, expected_weight = 5;
  UndoneTable table{};
  const double count = static_cast<double>(board.tasks.size());
  for (std::size_t j = 0; j < note_adjuster_count; ++j) {
    const auto a = static_cast<Adjuster>(j);
    double moved = 0, expected = 0;
    for (std::size_t n = 0; n < board.tasks.size(); ++n) {
      const NoteTask& task = board.tasks[n];
      moved += std::abs(task.note->moved(at(a)) + board.decisions[n].amounts(at(a)));
      const double own = std::abs(task.effect(at(aim_for(a)), at(a)));
      if (own > 0) expected += expected_tolerances * task.tolerance(at(aim_for(a))) / own;
    }
    const double typical = (moved + expected_weight * expected / count) / (count + expected_weight);
    for (std::size_t i = 0; i < note_adjuster_count; ++i) {
      if (i == j) continue;
      double sum = 0;
      for (const NoteTask& task : board.tasks) {
        double worst = 0;
        for (const Aim aim : aims_served(static_cast<Adjuster>(i)))
          if (task.asked[index_of(aim)])
            worst = std::max(
                worst, std::abs(task.effect(at(aim), at(a))) * typical / task.tolerance(at(aim)));
        sum += worst;
      }
      table[i][j] = sum / count;
    }
  }
  (void)s;
  return table;
}

std::vector<AimSummary> summarise(const Situation& s, const Board& board) {
  std::vector<AimSummary> list;
  for (const Aim aim : all_aims) {
    AimSummary sum;
    sum.aim = aim;
    double now = 0, then = 0;
    for (std::size_t i = 0; i < s.notes.size(); ++i) {
      const NoteTask& task = board.tasks[i];
      if (!task.asked[index_of(aim)]) continue;
      ++sum.notes;
      sum.read += task.note->read[index_of(aim)] ? 1 : 0;
      const Belief before{task.note->mean, task.note->cov};
      const Belief after = after_moves(task, board.decisions[i].amounts);
      const double chance = chance_out(task, before, aim), t = task.tolerance(at(aim));
      sum.expected_outside += chance;
      sum.outside += chance > 0.5 ? 1 : 0;
      now += std::pow(off_target(task, before, aim) / t, 2);
      then += std::pow(off_target(task, after, aim) / t, 2);
    }
    if (sum.notes > 0) {
      sum.unevenness = std::sqrt(now / sum.notes);
      sum.unevenness_after = std::sqrt(then / sum.notes);
      list.push_back(sum);
    }
  }
  return list;
}

}  // namespace batten::planning
