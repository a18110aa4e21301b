#include "server/http.hpp"

#include "json/journal_json.hpp"

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

Response refused(const Problem& problem, int status) {
  Response r = ok(to_json(problem));
  r.status = status;
  return r;
}

Response not_there(const Problem& problem) { return refused(problem, 404); }

}  // namespace batten::server
