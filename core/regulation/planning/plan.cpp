#include "core/regulation/planning/plan.hpp"

#include "core/regulation/planning/in_time.hpp"
#include "core/regulation/planning/passes.hpp"

#include <algorithm>
#include <cmath>

namespace batten {
namespace {

using namespace planning;

// In a register none more is asked for where so many turns, and this share of all that were read,
// did not do what they should.
constexpr int odd_turns_that_stop = 2;
constexpr double odd_share_that_stops = 0.2;

bool stopped(const Situation& s, std::size_t reg, Adjuster adjuster) {
  const int odd = s.odd_turns[reg][index_of(adjuster)];
  return odd >= odd_turns_that_stop &&
         odd > odd_share_that_stops * s.responses.moves_seen(adjuster, reg);
}

// Which adjusters of each note may be trusted to do what they should: at a note whose turn was odd
// only once what it did was read again.
std::vector<std::array<bool, note_adjuster_count>> trusted_at(const Situation& s) {
  std::vector<std::array<bool, note_adjuster_count>> list;
  for (const NoteState& n : s.notes) {
    std::array<bool, note_adjuster_count> trusted;
    for (std::size_t k = 0; k < note_adjuster_count; ++k)
      trusted[k] = !stopped(s, n.reg, static_cast<Adjuster>(k));
    for (const Question& q : s.questions)
      if (q.kind != Question::Kind::odd_reading && q.key == n.key && !q.confirmed)
        trusted[index_of(q.adjuster)] = false;
    list.push_back(trusted);
  }
  return list;
}

// What is settled as far as it can be needs no person any more.
void drop_settled(Situation& s) {
  std::erase_if(s.questions, [&](const Question& q) {
    return q.kind != Question::Kind::odd_reading && q.confirmed &&
           !stopped(s, s.at(q.key).reg, q.adjuster);
  });
}

std::vector<Caution> cautions_of(const Plan& plan) {
  std::vector<Caution> list;
  const auto add = [&](Caution c) {
    if (std::ranges::find(list, c) == list.end()) list.push_back(c);
  };
  for (const Pass& p : plan.passes) {
    if (p.moves == 0) continue;
    switch (p.adjuster) {
      case Adjuster::let_off_button:
      case Adjuster::drop_screw:
      case Adjuster::jack_button:
      case Adjuster::lever_height_button:
        add(Caution::blocked_hammer);
        break;
      case Adjuster::capstan:
      case Adjuster::front_punchings:
      case Adjuster::balance_punchings:
        add(Caution::lost_escapement);
        add(Caution::sliding_the_action);
        break;
      default:
        break;
    }
  }
  if (!plan.passes.empty()) {
    add(Caution::strained_hands);
    add(Caution::makers_instructions);
  }
  return list;
}

}  // namespace

namespace planning {

Board make_board(const Situation& s, const ActionModel& model, const std::vector<Adjuster>& order,
                 const PlanOptions& options) {
  Board board;
  const auto trusted = trusted_at(s);
  for (std::size_t i = 0; i < s.notes.size(); ++i) {
    board.tasks.push_back(make_task(s, model, s.notes[i]));
    board.decisions.push_back(decide(board.tasks[i], order, trusted[i], options));
  }
  return board;
}

double overall_unevenness(const std::vector<AimSummary>& aims, double AimSummary::*which) {
  double sum = 0, count = 0;
  for (const AimSummary& a : aims) {
    sum += a.*which * (a.*which) * a.notes;
    count += a.notes;
  }
  return count > 0 ? std::sqrt(sum / count) : 0;
}

}  // namespace planning

const Instruction* Plan::next() const {
  for (const Pass& p : passes)
    if (!p.steps.empty()) return &p.steps.front();
  return nullptr;
}

Result<Plan> calc_plan(Compass compass, const Standing& standing, const ActionModel& model,
                       const PlanOptions& options) {
  auto situation = calc_situation(compass, standing, model);
  if (!situation) return tl::unexpected(situation.error());
  Plan plan;
  plan.situation = std::move(*situation);
  const Situation& s = plan.situation;
  plan.gate = s.plane.gate;

  Board board = make_board(s, model, common_order(), options);
  plan.order = derive_order(undone_table(s, board));
  if (plan.order.derived != plan.order.common)
    board = make_board(s, model, plan.order.derived, options);

  drop_settled(plan.situation);
  const Paces paces = learn_paces(standing, s.catalogue);
  plan.passes = make_passes(s, board, plan.order, paces, !plan.gate.open, options);
  if (options.minutes) {
    auto fitted = fit_into_time(s, board, plan, paces, standing.settings, options);
    if (!fitted) return tl::unexpected(fitted.error());
  }
  for (const Decision& d : board.decisions)
    plan.holds.insert(plan.holds.end(), d.holds.begin(), d.holds.end());
  plan.aims = summarise(s, board);
  plan.unevenness = overall_unevenness(plan.aims, &AimSummary::unevenness);
  plan.unevenness_after = overall_unevenness(plan.aims, &AimSummary::unevenness_after);
  for (const Pass& p : plan.passes) plan.minutes += p.minutes;
  plan.cautions = cautions_of(plan);
  return plan;
}

}  // namespace batten
