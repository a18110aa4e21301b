#include "server/body.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>

namespace batten::server {

namespace {

constexpr const char* nothing_done = "Nothing was changed.";
// {"looks":[{…}]} is three.
constexpr int deepest = 8;

// Counted before anything is built, so that what is only brackets costs nothing.
bool too_deep(std::string_view text) {
  int depth = 0;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted) {
      if (c == '\\') ++i;
      quoted = c != '"';
    } else if (c == '"') {
      quoted = true;
    } else if (c == '[' || c == '{') {
      if (++depth > deepest) return true;
    } else if (c == ']' || c == '}') {
      --depth;
    }
  }
  return false;
}

}  // namespace

Result<nlohmann::json> body_object(const Request& request,
                                   std::initializer_list<std::string_view> known) {
  if (too_deep(request.body))
    return problem("The request is nested too deep.", "Send what docs/api describes.",
                   nothing_done);
  auto body = nlohmann::json::parse(request.body, nullptr, false);
  if (body.is_discarded() || !body.is_object())
    return problem("The request is no JSON object.", "Send what docs/api describes.", nothing_done);
  for (const auto& item : body.items()) {
    if (std::ranges::find(known, item.key()) != known.end()) continue;
    std::string there;
    for (const std::string_view k : known)
      there += fmt::format("{}{}", there.empty() ? "" : ", ", k);
    return problem(fmt::format("\"{}\" is not known here.", item.key()),
                   fmt::format("There is: {}.", there), nothing_done);
  }
  return body;
}

Result<std::string> text_in(const nlohmann::json& object, const std::string& field) {
  const auto found = object.find(field);
  if (found == object.end() || found->is_null()) return std::string();
  if (!found->is_string())
    return problem(fmt::format("\"{}\" is not text.", field), "Send it in quotes.", nothing_done);
  return found->get<std::string>();
}

std::string with_revision(const std::string& json, std::int64_t revision) {
  const auto open = json.find('{');
  if (open == std::string::npos) return json;
  return fmt::format("{{\"revision\":{},{}", revision, json.substr(open + 1));
}

}  // namespace batten::server
