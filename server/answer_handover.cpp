#include "app/handover_job.hpp"
#include "app/handover_page.hpp"
#include "json/handover_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"
#include "server/asked_page.hpp"

namespace batten::server {

Response get_handover(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {"language", "inches"}); !known)
    return refused(known.error());
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    auto page = asked_page(request);
    if (!page) return tl::unexpected(page.error());
    auto choices = page_choices(with.desk, *page);
    if (!choices) return tl::unexpected(choices.error());
    auto plan = plan_for(with, asked.piano);
    if (!plan) return tl::unexpected(plan.error());
    auto handover = hand_over(with.desk, asked.piano, **plan);
    if (!handover) return tl::unexpected(handover.error());
    auto facts = handover_facts(with.desk, asked.piano, **plan, *handover);
    if (!facts) return tl::unexpected(facts.error());
    return to_json(asked.piano, *handover, asked.revision,
                   compose_owner_page(*facts, choices->style),
                   compose_file_sheet(*facts, choices->style));
  });
}

}  // namespace batten::server
