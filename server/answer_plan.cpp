#include "json/plan_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"

namespace batten::server {

namespace {

// Which adjuster at the note is meant: named, or what the plan has there first.
Result<Adjuster> adjuster_asked(const Request& request, const Plan& plan, Key key) {
  const std::string& named = request.asked("adjuster");
  if (named.empty()) {
    const Instruction* first = find_instruction(plan, key, std::nullopt);
    return first != nullptr ? first->adjuster : Adjuster::capstan;
  }
  const auto adjuster = adjuster_by_code(named);
  if (!adjuster || index_of(*adjuster) >= note_adjuster_count)
    return problem("\"" + named + "\" is no adjuster of a note.",
                   "GET /api/catalogue lists them: capstan, let-off-button, ….");
  return *adjuster;
}

}  // namespace

Response get_plan(Answering& with, const Request& request) {
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    if (auto ok = only_asks(request, {"minutes"}); !ok) return tl::unexpected(ok.error());
    auto minutes = asked_minutes(request);
    if (!minutes) return tl::unexpected(minutes.error());
    auto plan = plan_for(with, asked.piano, *minutes);
    if (!plan) return tl::unexpected(plan.error());
    return to_json(asked.piano, **plan, PlanExtract{std::nullopt, *minutes, true, asked.revision});
  });
}

Response get_time(Answering& with, const Request& request) {
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    if (auto ok = only_asks(request, {}); !ok) return tl::unexpected(ok.error());
    auto whole = plan_for(with, asked.piano);
    if (!whole) return tl::unexpected(whole.error());
    auto curve = time_curve(**whole);
    if (!curve) return tl::unexpected(curve.error());
    return time_to_json(**whole, *curve, asked.revision);
  });
}

Response get_why(Answering& with, const Request& request) {
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    if (auto ok = only_asks(request, {"note", "adjuster", "minutes"}); !ok)
      return tl::unexpected(ok.error());
    auto minutes = asked_minutes(request);
    if (!minutes) return tl::unexpected(minutes.error());
    auto key = key_at(asked.piano, request.asked("note"));
    if (!key) return tl::unexpected(key.error());
    auto made = plan_for(with, asked.piano, *minutes);
    if (!made) return tl::unexpected(made.error());
    const Plan& plan = (*made)->plan;
    auto adjuster = adjuster_asked(request, plan, *key);
    if (!adjuster) return tl::unexpected(adjuster.error());
    const Instruction* step = find_instruction(plan, *key, *adjuster);
    const auto reasons = step != nullptr
                             ? reasons_for(plan, (*made)->model, *step)
                             : reasons_for_nothing(plan, (*made)->model, *key, *adjuster);
    return why_to_json(**made, *key, *adjuster, step, reasons);
  });
}

}  // namespace batten::server
