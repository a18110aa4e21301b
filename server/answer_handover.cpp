#include "app/handover_job.hpp"
#include "json/handover_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"

namespace batten::server {

Response get_handover(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {}); !known) return refused(known.error());
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    auto plan = plan_for(with, asked.piano);
    if (!plan) return tl::unexpected(plan.error());
    auto handover = hand_over(with.desk, asked.piano, **plan);
    if (!handover) return tl::unexpected(handover.error());
    return to_json(asked.piano, *handover, asked.revision);
  });
}

}  // namespace batten::server
