#include "core/action/readings.hpp"

#include "core/action/slow.hpp"
#include "core/action/strokes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace batten::action {

namespace {

// Smallest fall that proves escapement; smallest an eye sees at the string; how far a damper must
// have risen to be seen (m, estimates).
constexpr double proven_fall = 0.25e-3, seen_fall = 0.1e-3, seen_rise = 0.05e-3;

// rad the jack may stand off its place and still be under the knuckle (estimate: 0.6 mm at its
// top).
constexpr double trapped_angle = 0.010;
// m/s of the eased hammer from which a grade begins: 1 creeps, 2 firmly, 3 lively, 4 jumps
// (estimates).
constexpr double grade_from[] = {0.005, 0.05, 0.25, 0.35};

const double none = std::nan("");

// Depth (x) where a value (y) crosses `level` between two rows; linear.
double crossing(double x0, double y0, double x1, double y1, double level) {
  return x0 + (x1 - x0) * (level - y0) / (y1 - y0);
}

struct Turning {
  double x = 0, y = 0;
};
// Extreme of the parabola through three points, the middle one the extreme of the three.
Turning turning(double x0, double y0, double x1, double y1, double x2, double y2) {
  const double s0 = (y1 - y0) / (x1 - x0), s1 = (y2 - y1) / (x2 - x1);
  const double curve = (s1 - s0) / (x2 - x0);
  if (curve == 0) return {x1, y1};
  const double x = 0.5 * (x0 + x1) - s0 / (2 * curve);
  return {x, y0 + s0 * (x - x0) + curve * (x - x0) * (x - x1)};
}

using Rows = std::span<const SweepPoint>;
Rows rows_of(const SweepTrace& t) { return {t.rows, static_cast<std::size_t>(t.count)}; }

template <double SweepPoint::*value>
Turning turning_at(Rows rows, std::size_t k) {
  if (k == 0 || k + 1 >= rows.size()) return {rows[k].depth, rows[k].*value};
  return turning(rows[k - 1].depth, rows[k - 1].*value, rows[k].depth, rows[k].*value,
                 rows[k + 1].depth, rows[k + 1].*value);
}

// The hammer's way over its turning point and down to where it first rests.
struct Escapement {
  std::size_t apex_row = 0, rest_row = 0;
  Turning apex, rest;
  double falls = 0;  // depth where it has visibly fallen
};
std::optional<Escapement> find_escapement(Rows rows) {
  for (std::size_t k = 1; k + 1 < rows.size(); ++k) {
    if (rows[k].below > rows[k - 1].below || rows[k + 1].below < rows[k].below) continue;
    std::size_t low = k;
    while (low + 1 < rows.size() && rows[low + 1].below >= rows[low].below) ++low;
    if (rows[low].below - rows[k].below < proven_fall) continue;
    Escapement e;
    e.apex_row = k;
    e.rest_row = low;
    e.apex = turning_at<&SweepPoint::below>(rows, k);
    e.rest = turning_at<&SweepPoint::below>(rows, low);
    std::size_t j = k + 1;
    while (rows[j].below < e.apex.y + seen_fall) ++j;
    e.falls = crossing(rows[j - 1].depth, rows[j - 1].below, rows[j].depth, rows[j].below,
                       e.apex.y + seen_fall);
    return e;
  }
  return std::nullopt;
}

// Mean force between two depths, trapezoids; NaN if the rows do not span them.
double mean_force(Rows rows, double from, double to) {
  double sum = 0, span = 0;
  for (std::size_t k = 1; k < rows.size(); ++k) {
    const SweepPoint* a = &rows[k - 1];
    const SweepPoint* b = &rows[k];
    if (a->depth > b->depth) std::swap(a, b);
    const double x0 = std::max(a->depth, from), x1 = std::min(b->depth, to);
    if (x1 <= x0) continue;
    const double slope = (b->force - a->force) / (b->depth - a->depth);
    sum += (x1 - x0) * (a->force + slope * (0.5 * (x0 + x1) - a->depth));
    span += x1 - x0;
  }
  return span > 0.999 * (to - from) ? sum / span : none;
}

// Where the damper has been seen to rise, as a share of the blow.
double find_damper_start(Rows rows, double blow) {
  const double rest = rows[0].q[damper];
  for (std::size_t k = 1; k < rows.size(); ++k) {
    const double risen = rows[k].q[damper] - rest;
    if (risen < seen_rise) continue;
    const double before = rows[k - 1].q[damper] - rest;
    const double below = crossing(rows[k - 1].below, before, rows[k].below, risen, seen_rise);
    return (rows[0].below - below) / blow;
  }
  return none;
}

// Force where toe or tip first touches, drawn on from the two rows before; `k` is the last of them.
double force_before(Rows rows, std::size_t k) {
  if (k == 0) return rows[0].force;
  const auto gap = [&](std::size_t i) { return std::min(rows[i].toe_gap, rows[i].tip_gap); };
  if (gap(k) >= gap(k - 1)) return rows[k].force;
  return crossing(rows[k - 1].force, gap(k - 1), rows[k].force, gap(k), 0);
}

// Whether the jack, its toe at the button, is out from under the knuckle and the lever carries on:
// it has carried the hammer and does no more, or stands far off.
bool jack_is_out(Rows rows) {
  const SweepPoint& end = rows.back();
  if (end.toe_force <= 0 || end.jack_force >= end.lever_force) return false;
  constexpr double far = 0.3e-3;
  return end.jack_gap > far || std::ranges::any_of(rows, [](const SweepPoint& row) {
           return row.toe_force > 0 && row.jack_force > row.lever_force;
         });
}

// What the press down tells.
void read_press(const Note& note, const Layout& layout, const mechanism::Model<double>& model,
                Rows rows, Readings& r) {
  const auto fault = [&](Fault f) { r.faults.push_back(f); };
  r.dip = rows.back().depth;
  r.damper_start = find_damper_start(rows, r.blow);

  const auto escaped = find_escapement(rows);
  const std::size_t end = escaped ? escaped->apex_row : rows.size() - 1;
  double tightest = rows[0].check_gap;
  for (std::size_t k = 0; k <= end; ++k) tightest = std::min(tightest, rows[k].check_gap);
  for (const SweepPoint& row : rows)
    if (row.string_force > 0) {
      fault(Fault::blocked);
      // The jack is out from under the knuckle, or carries less of it. A lever presses but lightly.
      if (row.lever_force > row.jack_force) fault(Fault::lever_carried);
      break;
    }
  if (!escaped && r.faults.empty())
    fault(jack_is_out(rows) ? Fault::lever_carried : Fault::no_escapement);
  if (tightest < 0) fault(Fault::touches_check);
  if (!escaped) return;

  r.let_off = escaped->apex.y;
  r.drop = escaped->rest.y - escaped->apex.y;
  r.aftertouch = r.dip - escaped->falls;
  r.ratio_identity = (r.blow - r.let_off) / escaped->falls;

  // Force: greatest between the first touch of toe or tip and the turning point, over that before.
  std::size_t first = end;  // the last row before
  while (first > 0 && rows[first].toe_force + rows[first].tip_force > 0) --first;
  std::size_t most = first;
  for (std::size_t k = first; k <= end; ++k)
    if (rows[k].force > rows[most].force) most = k;
  r.let_off_bump = turning_at<&SweepPoint::force>(rows, most).y - force_before(rows, first);

  // Local ratio over the way the key's rear end turns, which is the front's but for the wood's
  // bending; trapezoids to where the hammer falls.
  const auto turned = [&](std::size_t k) {
    return note.dimensions.key_front * std::sin(rows[k].q[key_rear]);
  };
  double sum = 0, last = 0;
  for (std::size_t k = 1; k < rows.size(); ++k) {
    const double here = slow::calc_local(note.dimensions, layout, model, rows[k]).ratio;
    if (k == 1) last = here;
    if (rows[k].depth >= 0.2e-3 && r.ratio_start == 0) r.ratio_start = here;
    if (k == first) r.ratio_end = here;
    const double way = rows[k].depth - rows[k - 1].depth;
    const double part = way > 0 ? std::min(1.0, (escaped->falls - rows[k - 1].depth) / way) : 0;
    sum += part * (turned(k) - turned(k - 1)) * (last + 0.5 * part * (here - last));
    last = here;
    if (rows[k].depth > escaped->falls) break;
  }
  // What the lever gives way under the moving hammer, until the jack takes it, is lost.
  const auto lever_angle = [&](std::size_t k) { return rows[k].q[lever] - rows[k].q[wippen]; };
  sum += slow::calc_local(note.dimensions, layout, model, rows[first]).lever_rate *
         (lever_angle(first) - lever_angle(0));
  r.ratio_mean = sum / escaped->falls;
}

// What the rest posture tells.
void read_rest(const Note& note, const Layout& layout, const mechanism::Model<double>& model,
               const slow::Job& job, Readings& r) {
  const SweepPoint& rest = job.rest;
  r.blow = rest.below;
  r.key_height = job.rest_key;
  r.jack_clearance = rest.jack_gap - rest.lever_gap;
  r.jack_position = slow::jack_position(layout, rest);
  r.shank_gap = rest.shank_gap;
  const double rate = slow::calc_local(note.dimensions, layout, model, rest).jack_rate;
  r.lost_motion = std::max(0.0, rest.jack_gap) / rate;
}

// What the trials in real time tell; the check distance is that of a stroke.
void read_trial(const slow::Job& job, Readings& r) {
  r.spring_rise = job.trial.rise;
  r.spring_grade = static_cast<int>(
      std::ranges::count_if(grade_from, [&](double from) { return job.trial.rise >= from; }));
  r.rest_scatter = job.trial.rest_hard - job.trial.rest_soft;
  if (job.trial.jack_out > trapped_angle) r.faults.push_back(Fault::jack_trapped);
  if (!job.trial.finite) r.faults.push_back(Fault::not_found);
}

// One note made ready, and room for its rows.
struct Bench {
  Layout layout;
  mechanism::Model<double> model;
};
Result<Bench> make_bench(const Note& note) {
  if (auto ok = check(note.dimensions); !ok) return tl::unexpected(ok.error());
  auto layout = lay_out(note.dimensions, note.adjustments);
  if (!layout) return tl::unexpected(layout.error());
  auto description = assemble(note.dimensions, note.adjustments);
  if (!description) return tl::unexpected(description.error());
  return Bench{*layout, mechanism::make_model(*description)};
}

constexpr int weigh_room = 64;

Readings read(const Note& note, const Bench& bench, const slow::Job& job, const slow::Wish& wish) {
  Readings r;
  for (double Readings::*made :
       {&Readings::let_off, &Readings::drop, &Readings::dip, &Readings::aftertouch,
        &Readings::let_off_bump, &Readings::static_catch, &Readings::check_distance,
        &Readings::damper_start, &Readings::down_weight, &Readings::up_weight,
        &Readings::ratio_mean, &Readings::ratio_identity, &Readings::spring_rise,
        &Readings::rest_scatter})
    r.*made = none;
  read_rest(note, bench.layout, bench.model, job, r);
  const Rows down = rows_of(job.down), up = rows_of(job.up);
  if (wish.press) {
    read_press(note, bench.layout, bench.model, down, r);
    r.static_catch = slow::static_catch(note.dimensions, bench.layout, down.back());
    r.check_distance = r.static_catch;
  }
  if (wish.weigh) {
    r.down_weight = mean_force(rows_of(job.weigh_down), slow::weigh_from, slow::weigh_to);
    r.up_weight = mean_force(rows_of(job.weigh_up), slow::weigh_from, slow::weigh_to);
  }
  if (wish.trial) read_trial(job, r);
  if (job.failed) r.faults.push_back(Fault::not_found);
  std::ranges::sort(r.faults);
  if (wish.keep_down) r.down.assign(down.begin(), down.end());
  if (wish.keep_up) r.up.assign(up.begin(), up.end());
  return r;
}

// Rows for one note's traces; what is not wished for has no room.
void give_room(const slow::Wish& wish, std::span<SweepPoint> rows, slow::Job& job) {
  SweepPoint* place = rows.data();
  const auto take = [&](bool wanted, int count) {
    if (!wanted) return SweepTrace{};
    SweepTrace t{place, count, 0};
    place += count;
    return t;
  };
  job.down = take(wish.press, most_sweep_rows);
  job.up = take(wish.keep_up, most_sweep_rows);
  job.weigh_down = take(wish.weigh, weigh_room);
  job.weigh_up = take(wish.weigh, weigh_room);
}
std::size_t room_for(const slow::Wish& wish) {
  const int rows = (wish.press ? most_sweep_rows : 0) + (wish.keep_up ? most_sweep_rows : 0) +
                   (wish.weigh ? 2 * weigh_room : 0);
  return static_cast<std::size_t>(rows);
}

}  // namespace

std::vector<Result<Readings>> slow::read_notes(std::span<const Note> notes, const Wish& wish) {
  const std::size_t lanes = std::min<std::size_t>(notes.size(), most_jobs);
  const std::size_t room = room_for(wish);
  std::vector<SweepPoint> rows(lanes * room);
  std::vector<Result<Readings>> out;
  out.reserve(notes.size());
  std::vector<Bench> benches;
  std::vector<std::size_t> places;  // of the benches' notes
  std::array<Job, most_jobs> jobs;
  const auto work = [&] {
    for (std::size_t k = 0; k < benches.size(); ++k) {
      jobs[k] = {};
      jobs[k].model = &benches[k].model;
      jobs[k].sweep = wish.sweep;
      jobs[k].with_trial = wish.trial;
      give_room(wish, std::span(rows).subspan(k * room, room), jobs[k]);
    }
    run(jobs.data(), static_cast<int>(benches.size()));
    for (std::size_t k = 0; k < benches.size(); ++k)
      out[places[k]] = read(notes[places[k]], benches[k], jobs[k], wish);
    benches.clear();
    places.clear();
  };
  for (std::size_t i = 0; i < notes.size(); ++i) {
    auto bench = make_bench(notes[i]);
    if (!bench) {
      out.emplace_back(tl::unexpected(bench.error()));
      continue;
    }
    out.emplace_back(Readings{});
    benches.push_back(std::move(*bench));
    places.push_back(i);
    if (benches.size() == lanes) work();
  }
  if (!benches.empty()) work();
  if (wish.stroke) {
    const Finger blow = standard_finger(Effort::middling, Touch::pressed);
    StrokeOptions caught;
    caught.time = 0.25;
    const auto strokes = calc_strokes(notes, std::span(&blow, 1), caught);
    for (std::size_t i = 0; i < notes.size(); ++i)
      if (out[i] && strokes[i]) out[i]->check_distance = strokes[i]->check_distance;
  }
  return out;
}

std::vector<Result<Readings>> calc_readings(std::span<const Note> notes,
                                            const ReadOptions& options) {
  slow::Wish wish;
  wish.sweep = options.sweep;
  wish.trial = wish.stroke = options.with_blow;
  wish.keep_down = wish.keep_up = options.keep_curves;
  return slow::read_notes(notes, wish);
}

Result<Readings> calc_readings(const Note& note, const ReadOptions& options) {
  return std::move(calc_readings(std::span(&note, 1), options)[0]);
}

}  // namespace batten::action
