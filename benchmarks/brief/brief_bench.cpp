// The brief of the medium profile. Target: the map over blow and dip, 40 x 40 at three registers,
// in 500 ms. Beside it the same figures without any curve between: every point regulated and struck
// by itself, 32 of them, and what 4800 would cost by that. The answers are held to each other.
#include "core/action/prepare.hpp"
#include "core/action/strokes.hpp"
#include "core/regulation/brief/map.hpp"
#include "profiles/profile_file.hpp"

#include <benchmark/benchmark.h>

#include <cmath>
#include <optional>
#include <vector>

namespace {

using namespace batten;

std::optional<action::Profile> medium() {
  for (const StoredProfile& stored : stored_profiles())
    if (stored.name == "medium")
      if (auto file = parse_profile(stored.text, stored.name)) return file->profile;
  return std::nullopt;
}

BriefTask task_of(const action::Profile& profile, const std::map<std::string, std::string>& sheet) {
  BriefTask task;
  task.profile = &profile;
  task.targets =
      *targets_on_record(task.compass, {{task.compass.lowest, task.compass.highest}}, sheet);
  task.wishes = *brief_wishes(sheet);
  task.registers = {{Key{13}, "bass"}, {Key{40}, "middle"}, {Key{76}, "treble"}};
  return task;
}

constexpr int direct_side_blow = 8, direct_side_dip = 4;

// Points of the middle register: regulated with a deep key where the dip lets nothing go, as the
// map counts the missing depth.
struct Direct {
  double blow, dip, margin, timing;
};
std::vector<Direct> solve_directly(const action::Profile& profile, const BriefTask& task,
                                   const MapAxes& axes) {
  const auto prepared = action::prepare_note(profile, Key{40});
  if (!prepared) return {};
  std::vector<action::Dimensions> dimensions;
  std::vector<action::Wanted> wanted;
  for (int i = 0; i < direct_side_blow; ++i)
    for (int j = 0; j < direct_side_dip; ++j) {
      action::Wanted w = wanted_at(profile, task.targets, Key{40});
      w.blow =
          1e-3 * (axes.blow_low + (axes.blow_high - axes.blow_low) * i / (direct_side_blow - 1));
      w.dip = 1e-3 * (10.5 + (axes.dip_high - 10.5) * j / (direct_side_dip - 1));
      dimensions.push_back(prepared->note.dimensions);
      wanted.push_back(w);
    }
  const auto regulated = solve_regulation(dimensions, wanted);
  std::vector<action::Note> notes;
  std::vector<Direct> out;
  for (std::size_t k = 0; k < regulated.size(); ++k) {
    if (!regulated[k]) return {};
    notes.push_back({dimensions[k], regulated[k]->adjustments});
    out.push_back(
        {wanted[k].blow * 1e3, wanted[k].dip * 1e3, regulated[k]->readings.aftertouch * 1e3, 0});
  }
  using action::Effort;
  constexpr double times[] = {0.20, 0.13, 0.09};
  for (const Effort effort : {Effort::soft, Effort::middling, Effort::loud}) {
    const action::Finger finger = standard_finger(effort, action::Touch::pressed);
    action::StrokeOptions options;
    options.time = times[static_cast<int>(effort)];
    const auto strokes = calc_strokes(notes, std::span(&finger, 1), options);
    for (std::size_t k = 0; k < strokes.size(); ++k)
      if (effort == Effort::middling && strokes[k])
        out[k].timing = (strokes[k]->key_bottom - strokes[k]->string) * 1e3;
  }
  return out;
}

const MapPoint& nearest(const BriefMap& map, double blow, double dip) {
  const auto place = [](double value, double low, double high, int count) {
    return static_cast<int>(std::lround((value - low) / (high - low) * (count - 1)));
  };
  return map.at(place(blow, map.axes.blow_low, map.axes.blow_high, map.axes.blows),
                place(dip, map.axes.dip_low, map.axes.dip_high, map.axes.dips));
}

// Within what half a field of the map changes.
bool agree(const std::vector<BriefMap>& maps, const std::vector<Direct>& direct) {
  if (maps.size() != 3 || direct.empty()) return false;
  for (const Direct& d : direct) {
    const MapPoint& p = nearest(maps[1], d.blow, d.dip);
    if (!(std::abs(p.escape_margin - d.margin) < 0.08 &&
          std::abs(p.bottom_less_string[1] - d.timing) < 0.25))
      return false;
  }
  return true;
}

void map_40_by_40_three_registers(benchmark::State& state) {
  const auto profile = medium();
  if (!profile) return state.SkipWithError("no profile");
  const BriefTask task = task_of(*profile, {});
  const auto direct = solve_directly(*profile, task, {});
  for (auto _ : state) {
    const auto maps = calc_brief_maps(task, {});
    if (!maps || !agree(*maps, direct)) return state.SkipWithError("the map is wrong");
  }
}

void reference_points_one_by_one(benchmark::State& state) {
  const auto profile = medium();
  if (!profile) return state.SkipWithError("no profile");
  const BriefTask task = task_of(*profile, {});
  const auto maps = calc_brief_maps(task, {});
  if (!maps) return state.SkipWithError("no map");
  for (auto _ : state)
    if (!agree(*maps, solve_directly(*profile, task, {})))
      return state.SkipWithError("the points are wrong");
  // Seconds a whole map at three registers would take so.
  constexpr double shares = 3.0 * 40 * 40 / (direct_side_blow * direct_side_dip);
  state.counters["whole_map_s"] =
      benchmark::Counter(static_cast<double>(state.iterations()) / shares,
                         benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

void brief_that_works_three_registers(benchmark::State& state) {
  const auto profile = medium();
  if (!profile) return state.SkipWithError("no profile");
  const BriefTask task = task_of(*profile, {});
  for (auto _ : state) {
    const auto brief = calc_brief(task);
    if (!brief || !brief->works()) return state.SkipWithError("the profile's figures do not work");
  }
}

void brief_with_departures_three_registers(benchmark::State& state) {
  const auto profile = medium();
  if (!profile) return state.SkipWithError("no profile");
  const BriefTask task = task_of(*profile, {{"dip-target", "9.6"}});
  for (auto _ : state) {
    const auto brief = calc_brief(task);
    if (!brief) return state.SkipWithError("no brief");
    for (const RegisterBrief& r : brief->registers)
      if (r.departures.empty()) return state.SkipWithError("no way out was found");
  }
}

BENCHMARK(map_40_by_40_three_registers)->Unit(benchmark::kMillisecond);
BENCHMARK(reference_points_one_by_one)->Unit(benchmark::kMillisecond);
BENCHMARK(brief_that_works_three_registers)->Unit(benchmark::kMillisecond);
BENCHMARK(brief_with_departures_three_registers)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
