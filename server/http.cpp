#include "server/http.hpp"

#include "json/journal_json.hpp"

#include <fmt/format.h>

#include <utility>

namespace batten::server {

namespace {

const std::string& in(const std::map<std::string, std::string>& map, const std::string& name) {
  static const std::string nothing;
  const auto found = map.find(name);
  return found == map.end() ? nothing : found->second;
}

}  // namespace

const std::string& Request::part(const std::string& name) const { return in(parts, name); }
const std::string& Request::asked(const std::string& name) const { return in(query, name); }

Response ok(std::string json) {
  Response r;
  r.body = std::make_shared<const std::string>(std::move(json));
  return r;
}

Response file_response(std::string bytes, std::string type, std::string_view name,
                       bool inline_shown) {
  Response r = ok(std::move(bytes));
  r.type = std::move(type);
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_' || c == '.';
  };
  std::string simple, whole;
  for (const char c : name) {
    if (plain(c)) {
      simple += c;
      whole += c;
    } else {
      if (!simple.ends_with('-')) simple += '-';
      whole += fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
  }
  r.headers["Content-Disposition"] =
      fmt::format("{}; filename=\"{}\"; filename*=UTF-8''{}",
                  inline_shown ? "inline" : "attachment", simple, whole);
  return r;
}

Response refused(const Problem& problem, int status) {
  Response r = ok(to_json(problem));
  r.status = status;
  return r;
}

Response not_there(const Problem& problem) { return refused(problem, 404); }

}  // namespace batten::server
