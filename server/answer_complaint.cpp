#include "app/complaint_job.hpp"
#include "json/complaint_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"
#include "server/bodies.hpp"
#include "server/body.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <string>
#include <utility>

namespace batten::server {

namespace {

// More than there are, each twice.
constexpr std::size_t most = 2 * look_count;

Problem wrong(std::string happened, std::string todo) {
  return {std::move(happened), {}, std::move(todo)};
}

// A field of a look as it is written; empty where it is neither number nor text.
std::string written(const nlohmann::json& look, const char* field) {
  const auto found = look.find(field);
  if (found == look.end()) return {};
  if (found->is_number()) return fmt::format("{}", found->get<double>());
  return found->is_string() ? found->get<std::string>() : std::string();
}

// {"look": "drop", "value": "0.4 mm" | 0.4 | null for what cannot be read}, as words; "beside":
// what the notes beside it read.
Result<std::string> read_look(const nlohmann::json& look) {
  const auto bad = [] {
    return tl::unexpected(wrong("A look is not understood.",
                                R"(Send {"look": "drop", "value": "0.4 mm"}; null where it cannot )"
                                "be read."));
  };
  if (!look.is_object()) return bad();
  auto code = text_in(look, "look");
  const auto value = look.find("value");
  if (!code || code->empty() || value == look.end()) return bad();
  if (value->is_null()) return *code + " none";
  const std::string text = written(look, "value"), beside = written(look, "beside");
  if (text.empty()) return bad();
  return *code + " " + text + (beside.empty() ? "" : " beside " + beside);
}

}  // namespace

Result<ComplaintRequest> complaint_in(const Request& request) {
  auto body = body_object(request, {"note", "felt", "looks"});
  if (!body) return tl::unexpected(body.error());
  ComplaintRequest out;
  auto note = text_in(*body, "note");
  if (!note) return tl::unexpected(note.error());
  out.note = std::move(*note);
  const auto felt = body->find("felt"), looks = body->find("looks");
  for (const auto& list : {felt, looks})
    if (list != body->end() && (!list->is_array() || list->size() > most))
      return tl::unexpected(wrong("\"felt\" and \"looks\" are short lists.",
                                  R"(Send {"note": "C4", "felt": ["weak"], "looks": []}.)"));
  if (felt != body->end())
    for (const auto& code : *felt) {
      if (!code.is_string())
        return tl::unexpected(wrong("What is felt is told by its code.",
                                    R"(Send "felt": ["weak"]; see /api/catalogue.)"));
      out.felt.push_back(code.get<std::string>());
    }
  if (looks != body->end())
    for (const auto& look : *looks) {
      auto words = read_look(look);
      if (!words) return tl::unexpected(words.error());
      out.looks.push_back(std::move(*words));
    }
  return out;
}

Response post_complaint(Answering& with, const Request& request) {
  return at_piano(with, request, [&](const Asked& asked) {
    auto complaint = complaint_in(request);
    if (!complaint) return refused(complaint.error());
    auto found = find_causes(with.desk, asked.piano, *complaint, &with.cache.complaints);
    if (!found) return refused(found.error(), 422);
    return ok(with_revision(to_json(asked.piano, *found), asked.revision));
  });
}

}  // namespace batten::server
