#include "app/brief_job.hpp"
#include "json/brief_json.hpp"
#include "json/journal_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"
#include "server/bodies.hpp"
#include "server/body.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace batten::server {

namespace {

constexpr std::size_t most_reason = 2000;  // bytes

std::string entries_json(const std::vector<Entry>& entries) {
  std::string list;
  for (const Entry& e : entries) list += (list.empty() ? "" : ",") + to_json_line(e);
  return list;
}

Response kept(const std::vector<Entry>& entries, std::int64_t revision, bool again) {
  return ok(fmt::format(R"({{"revision":{},"entries":[{}],"already_there":{}}})", revision,
                        entries_json(entries), again ? entries.size() : 0));
}

}  // namespace

Result<Acceptance> acceptance_in(const Request& request) {
  auto body = body_object(request, {"id", "revision", "which", "because"});
  if (!body) return tl::unexpected(body.error());
  Acceptance out;
  auto id = text_in(*body, "id"), which = text_in(*body, "which"),
       because = text_in(*body, "because");
  for (const auto* text : {&id, &which, &because})
    if (!*text) return tl::unexpected(text->error());
  auto identity = parse_uuid(*id);
  if (!identity || identity->is_nil())
    return problem("The acceptance has no identity of its own.",
                   "Send a new UUID as \"id\", so that it may be sent twice.",
                   "No target was changed.");
  out.id = *identity;
  if (const auto n = body->find("revision"); n != body->end() && !n->is_null()) {
    if (!n->is_number_integer())
      return problem("\"revision\" is no whole number.", "Send the one that came with the brief.",
                     "No target was changed.");
    out.revision = n->get<std::int64_t>();
  }
  if (which->empty())
    return problem("No way was chosen.", "Send \"which\": \"cheapest\", or a number for each.",
                   "No target was changed.");
  if (because->size() > most_reason)
    return problem("The reason is too long.", fmt::format("{} bytes are enough.", most_reason),
                   "No target was changed.");
  out.which = std::move(*which);
  out.because = std::move(*because);
  return out;
}

Response get_brief(Answering& with, const Request& request) {
  if (auto fine = only_asks(request, {"where", "outline"}); !fine) return refused(fine.error());
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    BriefMemory& memory = with.cache.briefs;
    if (!request.asked("outline").empty()) {
      auto outline = outline_brief(with.desk, asked.piano, memory);
      if (!outline) return tl::unexpected(outline.error());
      return with_revision(to_json(asked.piano, *outline), asked.revision);
    }
    auto brief = make_brief(with.desk, asked.piano, {request.asked("where")}, &memory);
    if (!brief) return tl::unexpected(brief.error());
    return with_revision(to_json(asked.piano, *brief), asked.revision);
  });
}

Response get_brief_map(Answering& with, const Request& request) {
  if (auto fine = only_asks(request, {"where"}); !fine) return refused(fine.error());
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    auto map = map_brief(with.desk, asked.piano, {request.asked("where")}, with.cache.briefs);
    if (!map) return tl::unexpected(map.error());
    return with_revision(to_json(asked.piano, *map), asked.revision);
  });
}

Response post_brief(Answering& with, const Request& request) {
  return at_piano(with, request, [&](const Asked& asked) {
    auto wanted = acceptance_in(request);
    if (!wanted) return refused(wanted.error());
    auto step = step_of(with.desk, asked.piano, wanted->id);
    if (!step) return refused(step.error(), 422);
    if (!step->empty()) return kept(*step, asked.revision, true);
    if (wanted->revision && *wanted->revision != asked.revision)
      return refused({"Something was written down since this brief was made.",
                      "No target was changed.", "Look at the brief again, then accept."},
                     409);
    auto brief = make_brief(with.desk, asked.piano, {}, &with.cache.briefs);
    if (!brief) return refused(brief.error(), 422);
    auto entries = accept_departures(with.desk, asked.piano, *brief, wanted->which, wanted->because,
                                     wanted->id);
    if (!entries) return refused(entries.error(), 422);
    const std::int64_t revision = asked.revision + static_cast<std::int64_t>(entries->size());
    with.tell(
        {to_text(asked.piano.id), "entries",
         fmt::format(R"({{"piano":"{}","revision":{},"device":"{}","entries":[{}]}})",
                     to_text(asked.piano.id), revision, request.device, entries_json(*entries))});
    return kept(*entries, revision, false);
  });
}

}  // namespace batten::server
