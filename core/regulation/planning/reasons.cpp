#include "core/regulation/planning/reasons.hpp"

#include "core/regulation/planning/amounts.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace batten {
namespace {

constexpr auto at(Aim aim) { return static_cast<Eigen::Index>(aim); }

StandsAt stands_at(const NoteState& note, Aim aim, double target, double tolerance) {
  const double sd = note.sd(aim);
  return {reading_of(aim, note.key),
          note.at(aim),
          sd,
          target,
          tolerance,
          planning::chance_outside(note.at(aim) - target, sd, tolerance),
          note.readings[index_of(aim)],
          note.read[index_of(aim)]};
}

TurnDoes turn_does(const Plan& plan, const ActionModel& model, const NoteState& note,
                   Adjuster adjuster) {
  const Situation& s = plan.situation;
  const UnitEffect unit = unit_effect(model, s.responses, note, adjuster);
  const Aim aim = aim_for(adjuster);
  const int here = s.responses.moves_seen(adjuster, note.reg);
  int elsewhere = -here;
  for (std::size_t reg = 0; reg < s.responses.registers(); ++reg)
    elsewhere += s.responses.moves_seen(adjuster, reg);
  return {adjuster, reading_of(aim, note.key), unit.change(at(aim)), unit.share_sd, here,
          elsewhere};
}

std::vector<Reason> reasons_to_read(const Plan& plan, const Instruction& step) {
  const NoteState& note = plan.situation.at(step.key);
  const auto aim = aim_of(step.reading);
  WhyRead why{WhyRead::Cause::unsure, step.adjuster, {}};
  if (aim && note.doubted[index_of(*aim)])
    why.cause = WhyRead::Cause::does_not_fit;
  else if (aim && !note.read[index_of(*aim)])
    why.cause = WhyRead::Cause::never_read;
  else if (note.unread_move[index_of(step.adjuster)])
    why.cause = WhyRead::Cause::moved_since;
  for (const Hold& h : plan.holds)
    if (h.key == step.key && h.would_settle == step.reading) why.waiting.push_back(h);
  std::vector<Reason> list;
  list.emplace_back(std::move(why));
  if (aim && note.read[index_of(*aim)])
    list.emplace_back(WhatIsKnown{stands_at(note, *aim, step.target, step.tolerance)});
  list.emplace_back(HowToRead{step.reading});
  list.emplace_back(place_in_order(plan.order, step.adjuster));
  return list;
}

WhyNothing why_nothing(const Plan& plan, const planning::NoteTask& task, Adjuster adjuster) {
  using Cause = WhyNothing::Cause;
  const Situation& s = plan.situation;
  const NoteState& note = *task.note;
  const Aim aim = aim_for(adjuster);
  WhyNothing why;
  for (const Hold& h : plan.holds)
    if (h.key == note.key && h.adjuster == adjuster) why.holds.push_back(h);
  const bool late = std::ranges::any_of(plan.left_for_time, [&](const Instruction& i) {
    return i.key == note.key && i.adjuster == adjuster;
  });
  if (std::ranges::find(s.line.out_of_service, note.key) != s.line.out_of_service.end())
    why.cause = Cause::out_of_service;
  else if (note.skipped[index_of(adjuster)])
    why.cause = Cause::left_knowingly;
  else if (late)
    why.cause = Cause::no_time;
  else if (!task.asked[index_of(aim)])
    why.cause = Cause::not_asked;
  else if (!why.holds.empty())
    why.cause = Cause::held;
  else if (!plan.gate.open)
    why.cause = Cause::gate_shut;
  else if (note.doubted[index_of(aim)])
    why.cause = Cause::doubted;
  else if (!note.read[index_of(aim)])
    why.cause = Cause::not_read;
  return why;
}

}  // namespace

std::string_view code_of(const Reason& reason) {
  constexpr std::array<std::string_view, std::variant_size_v<Reason>> codes{
      "off",          "known", "gives-way",  "purpose",  "turn-does", "also-moves",
      "later-passes", "order", "afterwards", "why-read", "how",       "why-nothing"};
  return codes[reason.index()];
}

OrderPlace place_in_order(const OrderReport& order, Adjuster adjuster) {
  constexpr double worth_saying = 0.05;
  OrderPlace place{adjuster, std::nullopt, std::nullopt};
  const auto a = index_of(adjuster);
  OrderPlace::Shift spares{adjuster, 0}, disturbed{adjuster, 0};
  for (auto later = std::ranges::find(order.derived, adjuster); later != order.derived.end();
       ++later) {
    const auto l = index_of(*later);
    if (order.undone[l][a] > spares.by) spares = {*later, order.undone[l][a]};
    if (order.undone[a][l] > disturbed.by) disturbed = {*later, order.undone[a][l]};
  }
  if (spares.by > worth_saying) place.spares = spares;
  if (disturbed.by > worth_saying) place.disturbed = disturbed;
  return place;
}

std::vector<Reason> reasons_for(const Plan& plan, const ActionModel& model,
                                const Instruction& step) {
  if (step.kind == Instruction::Kind::read) return reasons_to_read(plan, step);
  const NoteState& note = plan.situation.at(step.key);
  const Aim aim = aim_for(step.adjuster);
  std::vector<Reason> list;
  list.emplace_back(WhatIsOff{stands_at(note, aim, step.target, step.tolerance)});
  if (std::abs(step.at_the_end - step.target) > std::abs(step.before - step.target)) {
    GivesWay way;
    for (const Effect& e : step.effects) way.sake.push_back(reading_of(e.aim, step.key));
    list.emplace_back(std::move(way));
  }
  list.emplace_back(Purpose{step.adjuster});
  list.emplace_back(turn_does(plan, model, note, step.adjuster));
  list.emplace_back(AlsoMoves{step.key, step.effects});
  if (std::abs(step.at_the_end - step.after) > 0.25 * step.tolerance)
    list.emplace_back(LaterPasses{reading_of(aim, step.key), step.after, step.at_the_end});
  list.emplace_back(place_in_order(plan.order, step.adjuster));
  list.emplace_back(Afterwards{step.reading, step.read_after});
  return list;
}

std::vector<Reason> reasons_for_nothing(const Plan& plan, const ActionModel& model, Key key,
                                        Adjuster adjuster) {
  const NoteState& note = plan.situation.at(key);
  const planning::NoteTask task = planning::make_task(plan.situation, model, note);
  const Aim aim = aim_for(adjuster);
  std::vector<Reason> list;
  list.emplace_back(why_nothing(plan, task, adjuster));
  if (task.asked[index_of(aim)])
    list.emplace_back(
        WhatIsKnown{stands_at(note, aim, task.target(at(aim)), task.tolerance(at(aim)))});
  list.emplace_back(turn_does(plan, model, note, adjuster));
  return list;
}

}  // namespace batten
