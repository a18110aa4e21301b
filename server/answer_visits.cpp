#include "app/entries.hpp"
#include "app/visits_job.hpp"
#include "json/visits_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"

namespace batten::server {

Response get_visits(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {}); !known) return refused(known.error());
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    auto now = standing(with.desk, asked.piano);
    if (!now) return tl::unexpected(now.error());
    auto visits = visits_on_record(with.desk, asked.piano, *now);
    if (!visits) return tl::unexpected(visits.error());
    return visits_to_json(asked.piano, *visits, asked.revision);
  });
}

Response get_visits_compared(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {"from", "to"}); !known) return refused(known.error());
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    auto plan = plan_for(with, asked.piano);
    if (!plan) return tl::unexpected(plan.error());
    auto compared = compare_two_visits(with.desk, asked.piano, **plan, request.asked("from"),
                                       request.asked("to"));
    if (!compared) return tl::unexpected(compared.error());
    return to_json(asked.piano, *compared, asked.revision);
  });
}

}  // namespace batten::server
