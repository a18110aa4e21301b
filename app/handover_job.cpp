#include "app/handover_job.hpp"

#include <algorithm>

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
