#include "app/handover_job.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <utility>

namespace batten {

namespace {

void note_who(const std::vector<Entry>& entries, PianoHandover& out) {
  for (const Entry& e : entries) {
    if (e.visit != out.account.visit) continue;
    out.last_ms = std::max(out.last_ms.value_or(e.at_ms), e.at_ms);
    if (!e.who.empty() && std::ranges::find(out.who, e.who) == out.who.end())
      out.who.push_back(e.who);
  }
}

}  // namespace

Result<PianoPlan> plan_after_visit(Desk& desk, const Piano& piano, int visit) {
  return guarded([&]() -> Result<PianoPlan> {
    auto visits = desk.store.visits(piano.id);
    if (!visits) return tl::unexpected(visits.error());
    const auto count = static_cast<int>(visits->size());
    if (visit < 1 || visit > count)
      return problem(fmt::format("There is no visit {}.", visit),
                     fmt::format("Visits are counted from 1, the first, to {}.", count));
    auto entries = desk.store.entries(piano.id);
    if (!entries) return tl::unexpected(entries.error());
    const auto last = visits->begin() + visit;
    std::erase_if(*entries, [&](const Entry& e) {
      return std::find_if(visits->begin(), last, [&](const Visit& v) { return v.id == e.visit; }) ==
             last;
    });
    Standing standing = fold(*entries);
    if (standing.visit != std::prev(last)->id)
      return problem(fmt::format("Nothing is on record of visit {}.", visit),
                     "Name another: batten visits lists them.");
    auto model = model_on_record(standing, piano);
    if (!model) return tl::unexpected(model.error());
    return plan_standing(desk, piano, std::move(standing), model->action);
  });
}

Result<PianoHandover> hand_over(Desk& desk, const Piano& piano, const PianoPlan& plan) {
  return guarded([&]() -> Result<PianoHandover> {
    PianoHandover out;
    out.account = calc_account(plan.standing, plan.plan, plan.model);
    auto visits = desk.store.visits(piano.id);
    if (!visits) return tl::unexpected(visits.error());
    const auto visit = std::ranges::find(*visits, out.account.visit, &Visit::id);
    if (visit != visits->end()) out.visit = *visit;
    note_who(plan.standing.readings, out);
    note_who(plan.standing.moves, out);
    note_who(plan.standing.skips, out);
    for (const Entry& e : plan.standing.remarks)
      if (e.visit == out.account.visit) out.remarks.push_back(e);
    out.profile = plan.profile;
    out.profile_chosen = plan.profile_chosen;
    out.gate = plan.plan.gate;
    out.readings_left = plan.progress.reads_left;
    out.moves_left = plan.progress.moves_left;
    out.minutes_left = plan.progress.minutes_left;
    return out;
  });
}

}  // namespace batten
