#include "core/regulation/brief/brief.hpp"

#include "core/regulation/brief/departures.hpp"
#include "core/regulation/brief/shared_least.hpp"

#include <cassert>

namespace batten {

namespace {

RegisterBrief brief_of(const brief::Bench& bench, const BriefWishes& wishes,
                       const std::optional<BriefPoint>& today) {
  RegisterBrief out;
  out.where = bench.where;
  auto surface = std::make_shared<EscapeSurface>(brief::calc_surface(bench, true));
  std::vector<BriefPoint> points{bench.sheet};
  if (today) points.push_back(*today);
  auto figures =
      brief::calc_figures(bench, points, surface->found ? &surface->adjustments : nullptr);
  for (BriefFigures& f : figures) brief::add_repetition(f);
  out.sheet = figures[0];
  if (today) out.today = figures[1];
  if (!out.sheet.works()) {
    auto ways = brief::find_departures(bench, *surface, wishes, out.sheet,
                                       out.today && out.today->read ? *out.today : out.sheet);
    out.departures = std::move(ways.departures);
    out.unmet = std::move(ways.unmet);
  }
  out.bands = bench.bands;
  out.surface = std::move(surface);
  return out;
}

}  // namespace

Result<Brief> calc_brief(const BriefTask& task) {
  assert(task.today.empty() || task.today.size() == task.registers.size());
  Brief out;
  out.compass = task.compass;
  out.targets = task.targets;
  out.wishes = task.wishes;
  const std::vector<Register> registers = task.registers.empty()
                                              ? usual_registers(task.compass, task.targets.sections)
                                              : task.registers;
  std::vector<brief::Bench> benches;
  for (std::size_t i = 0; i < registers.size(); ++i) {
    auto bench = brief::make_bench(task, registers[i]);
    if (!bench) return tl::unexpected(bench.error());
    out.registers.push_back(brief_of(
        *bench, task.wishes, i < task.today.size() ? task.today[i] : std::optional<BriefPoint>{}));
    benches.push_back(std::move(*bench));
  }
  brief::share_least(benches, out);
  return out;
}

}  // namespace batten
