#include "app/note_job.hpp"

#include "core/action/words.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/influence/responses.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace batten {

namespace {

using action::adjustment_members;
using action::Adjustments;
using action::SweepPoint;
using action::TracePoint;

constexpr double per_mm = 1e3;  // m in mm

// What is believed of the note as readings wanted of the model. Key height is read over the key bed
// and is no figure of the model.
action::Wanted believed_of(const PianoPlan& plan, const NoteState& state, action::Wanted wanted) {
  const auto take = [&](Aim aim, double action::Wanted::*member, double unit) {
    wanted.*member = state.at(aim) / unit;
  };
  take(Aim::blow, &action::Wanted::blow, per_mm);
  take(Aim::let_off, &action::Wanted::let_off, per_mm);
  take(Aim::drop, &action::Wanted::drop, per_mm);
  take(Aim::dip, &action::Wanted::dip, per_mm);
  take(Aim::check_distance, &action::Wanted::check_distance, per_mm);
  take(Aim::jack_clearance, &action::Wanted::jack_clearance, per_mm);
  take(Aim::jack_position, &action::Wanted::jack_position, per_mm);
  if (plan.plan.situation.equipment.damped(state.key))
    take(Aim::damper_start, &action::Wanted::damper_start, 1);
  const double grades_per_tenth =
      plan.model.at(state.key).influence(static_cast<Eigen::Index>(Aim::spring_rise),
                                         static_cast<Eigen::Index>(Adjuster::repetition_spring));
  const auto target = plan.plan.situation.targets.at(Aim::spring_rise, state.key);
  if (target && grades_per_tenth > 0)
    wanted.spring += 0.1 * (state.at(Aim::spring_rise) - *target) / grades_per_tenth;
  return wanted;
}

Result<NoteBench> make_bench(std::shared_ptr<const PianoPlan> plan, const Piano& piano, Key key) {
  const auto& settings = plan->standing.settings;
  const auto set = settings.find(action_profile_setting);
  auto file = find_profile(set == settings.end() ? "medium" : set->second);
  if (!file) {
    Problem p = file.error();
    p.happened = "The action profile set for " + piano.name + " cannot be used: " + p.happened;
    return tl::unexpected(std::move(p));
  }
  const Situation& situation = plan->plan.situation;
  NoteBench bench;
  if (auto ok = action::check(file->profile); !ok) return tl::unexpected(ok.error());
  const action::Wanted wanted =
      wanted_at(situation.targets, key, action::note_of(file->profile, key).wanted);
  auto prepared = action::prepare_note(file->profile, key, &wanted);
  if (!prepared) return tl::unexpected(prepared.error());
  bench.prepared = std::move(*prepared);
  auto readings = action::calc_readings(bench.prepared.note);
  if (!readings) return tl::unexpected(readings.error());
  bench.at_targets = std::move(*readings);
  bench.at_believed = bench.at_targets;
  const NoteState& state = situation.at(key);
  if (std::ranges::any_of(state.read, [](bool read) { return read; })) {
    auto found = action::solve_regulation(bench.prepared.note.dimensions,
                                          believed_of(*plan, state, bench.prepared.wanted),
                                          &bench.prepared.note.adjustments);
    if (!found) {
      bench.cannot = found.error();
    } else {
      const action::Note note{bench.prepared.note.dimensions, found->adjustments};
      auto read = action::calc_readings(note);
      if (!read) return tl::unexpected(read.error());
      bench.believed = note;
      bench.at_believed = std::move(*read);
    }
  }
  bench.plan = std::move(plan);
  return bench;
}

}  // namespace

Result<NoteStart> parse_note_start(const std::string& text) {
  if (text == "believed") return NoteStart::believed;
  if (text == "targets") return NoteStart::targets;
  return problem("A note cannot start from \"" + text + "\".", "Say believed or targets.");
}

Result<std::shared_ptr<const NoteBench>> note_bench(NoteMemory& memory, PlanMemory& plans,
                                                    Desk& desk, const Piano& piano, Key key) {
  auto revision = revision_of(desk, piano);
  if (!revision) return tl::unexpected(revision.error());
  const std::string name = fmt::format("{} {} {}", to_text(piano.id), *revision, key.number);
  if (auto kept = memory.find(name)) return kept;
  auto plan = plans.plan(desk, piano);
  if (!plan) return tl::unexpected(plan.error());
  auto bench = make_bench(std::move(*plan), piano, key);
  if (!bench) return tl::unexpected(bench.error());
  return memory.keep(name, std::move(*bench));
}

std::vector<Slider> sliders_of(const NoteBench& bench) {
  const Plan& plan = bench.plan->plan;
  const Situation& situation = plan.situation;
  const Key key = bench.prepared.key;
  std::vector<Slider> out;
  for (std::size_t i = 0; i < note_adjuster_count; ++i) {
    const auto adjuster = static_cast<Adjuster>(i);
    if (!situation.equipment.has(adjuster, key)) continue;
    if (adjuster == Adjuster::damper_wire && !situation.equipment.damped(key)) continue;
    Slider s;
    s.adjuster = adjuster;
    s.percent = adjustment_members[i] == &Adjustments::spring;
    s.unit_si = s.percent ? 0.01 : 1e-3;
    // The prior counts the spring in tenths of its strength.
    s.per_move = screw_prior(adjuster).per_unit *
                 situation.responses.factor(adjuster, situation.at(key).reg).mean *
                 (s.percent ? 10 : 1);
    const Labour& labour = situation.catalogue.labour(adjuster);
    s.most = std::ceil(20 * labour.most_each_way * s.per_move) / 20;
    s.step = std::max(0.01, std::round(100 * labour.least_step * s.per_move) / 100);
    for (const Pass& pass : plan.passes)
      for (const Instruction& step : pass.steps)
        if (step.kind == Instruction::Kind::turn && step.key == key && step.adjuster == adjuster)
          s.pending = s.pending.value_or(0) + step.amount;
    out.push_back(s);
  }
  return out;
}

Result<Adjustments> slider_moves(const NoteBench& bench, const std::vector<SliderMove>& moves) {
  const std::vector<Slider> sliders = sliders_of(bench);
  Adjustments out;
  unsigned moved = 0;
  for (const SliderMove& move : moves) {
    const auto s = std::ranges::find_if(
        sliders, [&](const Slider& x) { return kind_of(x.adjuster).code == move.adjuster; });
    if (s == sliders.end())
      return problem(fmt::format("This note has no adjuster \"{}\" on the model.", move.adjuster),
                     "Move one of those the note's answer lists.");
    const std::string name(kind_of(s->adjuster).name);
    if (!(std::abs(move.amount) <= s->most * (1 + 1e-9)))
      return problem(
          fmt::format("{}: it cannot be moved so far here.", name),
          fmt::format("Move it up to {:.2f} {} either way.", s->most, s->percent ? "%" : "mm"));
    const unsigned bit = 1U << static_cast<unsigned>(s->adjuster);
    if ((moved & bit) != 0)
      return problem(fmt::format("{} is moved twice.", name), "Send each adjuster once.");
    moved |= bit;
    out.*adjustment_members[index_of(s->adjuster)] = move.amount * s->unit_si;
  }
  return out;
}

std::vector<SweepPoint> thinned_rows(std::span<const SweepPoint> rows, std::size_t most) {
  if (rows.size() <= most) return {rows.begin(), rows.end()};
  most = std::max<std::size_t>(most, 4);
  const auto top = std::ranges::min_element(rows, {}, &SweepPoint::below);
  const auto fallen = std::max_element(
      top, rows.end(), [](const auto& a, const auto& b) { return a.below < b.below; });
  std::vector<std::size_t> keep{0, rows.size() - 1, static_cast<std::size_t>(top - rows.begin()),
                                static_cast<std::size_t>(fallen - rows.begin())};
  const std::size_t even = most - keep.size();
  for (std::size_t i = 1; i <= even; ++i) keep.push_back(i * (rows.size() - 1) / (even + 1));
  std::ranges::sort(keep);
  const auto twice = std::ranges::unique(keep);
  keep.erase(twice.begin(), twice.end());
  std::vector<SweepPoint> out;
  out.reserve(keep.size());
  for (const std::size_t i : keep) out.push_back(rows[i]);
  return out;
}

PressMarks press_marks(const action::Readings& r) {
  PressMarks out{std::nan(""), std::nan(""), std::nan("")};
  if (r.down.empty()) return out;
  out.bottom = r.down.back().depth;
  if (!std::isfinite(r.let_off)) return out;
  const auto top = std::ranges::min_element(r.down, {}, &SweepPoint::below);
  out.let_off = top->depth;
  if (!std::isfinite(r.drop)) return out;
  auto rest = top;
  while (rest + 1 != r.down.end() && (rest + 1)->below > rest->below) ++rest;
  out.drop = rest->depth;
  return out;
}

SweepPoint row_at(std::span<const SweepPoint> rows, double depth) {
  if (rows.empty()) return {};
  const auto after = std::ranges::upper_bound(rows, depth, {}, &SweepPoint::depth);
  if (after == rows.begin()) return rows.front();
  if (after == rows.end()) return rows.back();
  const SweepPoint& a = *(after - 1);
  const double share = (depth - a.depth) / (after->depth - a.depth);
  const auto between = [&](double from, double to) { return from + share * (to - from); };
  SweepPoint out = a;
  out.depth = depth;
  out.below = between(a.below, after->below);
  out.force = between(a.force, after->force);
  for (int i = 0; i < action::part_count; ++i) out.q[i] = between(a.q[i], after->q[i]);
  return out;
}

Result<NoteWhatIf> what_if(const NoteBench& bench, const WhatIfRequest& request) {
  auto moved = slider_moves(bench, request.moves);
  if (!moved) return tl::unexpected(moved.error());
  NoteWhatIf out;
  out.note = bench.note(request.start);
  for (double Adjustments::*member : adjustment_members)
    out.note.adjustments.*member += *moved.*member;
  action::ReadOptions options;
  options.with_blow = request.frames > 0;
  auto readings = action::calc_readings(out.note, options);
  if (!readings) return tl::unexpected(readings.error());
  out.readings = std::move(*readings);
  auto posture = action::lay_posture(out.note);
  if (!posture) return tl::unexpected(posture.error());
  out.posture = std::move(*posture);
  const auto& down = out.readings.down;
  if (!down.empty()) take_row(out.posture, row_at(down, request.depth));
  if (request.frames > 0) out.rows = thinned_rows(down, request.frames);
  return out;
}

Result<std::vector<NamedStroke>> play_note(const NoteBench& bench, const WhatIfRequest& request,
                                           const StrokeRequest& strokes) {
  auto moved = slider_moves(bench, request.moves);
  if (!moved) return tl::unexpected(moved.error());
  ActionView view;
  view.prepared = bench.prepared;
  view.note = bench.note(request.start);
  for (double Adjustments::*member : adjustment_members)
    view.note.adjustments.*member += *moved.*member;
  return play(view, strokes);
}

std::vector<TracePoint> thinned_trace(const action::Stroke& stroke) {
  const std::vector<TracePoint>& trace = stroke.trace;
  if (trace.empty()) return {};
  constexpr std::size_t most_even = 115;
  const std::size_t every = trace.size() / most_even + 1;
  std::vector<std::size_t> keep;
  for (std::size_t i = 0; i < trace.size(); i += every) keep.push_back(i);
  keep.push_back(trace.size() - 1);
  for (const double at : {stroke.key_start, stroke.let_off, stroke.string, stroke.string_end,
                          stroke.key_bottom, stroke.check}) {
    if (!std::isfinite(at)) continue;
    for (const double beside : {-2e-3, -1e-3, 0.0, 1e-3, 2e-3}) {
      const auto found = std::ranges::lower_bound(trace, at + beside, {}, &TracePoint::time);
      if (found != trace.end()) keep.push_back(static_cast<std::size_t>(found - trace.begin()));
    }
  }
  std::ranges::sort(keep);
  const auto twice = std::ranges::unique(keep);
  keep.erase(twice.begin(), twice.end());
  std::vector<TracePoint> out;
  out.reserve(keep.size());
  for (const std::size_t i : keep) out.push_back(trace[i]);
  return out;
}

}  // namespace batten
