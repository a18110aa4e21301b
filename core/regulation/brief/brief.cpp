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

Result<RegisterBrief> calc_register_brief(const BriefTask& task, std::size_t index) {
  assert(index < task.registers.size());
  auto bench = brief::make_bench(task, task.registers[index]);
  if (!bench) return tl::unexpected(bench.error());
  return brief_of(*bench, task.wishes,
                  index < task.today.size() ? task.today[index] : std::optional<BriefPoint>{});
}

Result<void> share_departures(const BriefTask& task, Brief& brief) {
  std::vector<brief::Bench> benches;
  for (const RegisterBrief& r : brief.registers) {
    auto bench = brief::make_bench(task, r.where);
    if (!bench) return tl::unexpected(bench.error());
    benches.push_back(std::move(*bench));
  }
  brief::share_least(benches, brief);
  return {};
}

Result<Brief> calc_brief(const BriefTask& task) {
  assert(task.today.empty() || task.today.size() == task.registers.size());
  if (task.registers.empty()) {
    BriefTask with_registers = task;
    with_registers.registers = usual_registers(task.compass, task.targets.sections);
    return calc_brief(with_registers);
  }
  Brief out;
  out.compass = task.compass;
  out.targets = task.targets;
  out.wishes = task.wishes;
  for (std::size_t i = 0; i < task.registers.size(); ++i) {
    auto one = calc_register_brief(task, i);
    if (!one) return tl::unexpected(one.error());
    out.registers.push_back(std::move(*one));
  }
  if (auto shared = share_departures(task, out); !shared) return tl::unexpected(shared.error());
  return out;
}

}  // namespace batten
