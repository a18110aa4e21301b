#include "server/reception.hpp"

#include "server/secrets.hpp"

#include <array>
#include <utility>

namespace batten::server {

namespace {

std::optional<Method> method_of(std::string_view name) {
  if (name == "GET" || name == "HEAD") return Method::get;
  if (name == "POST") return Method::post;
  if (name == "PUT") return Method::put;
  if (name == "DELETE") return Method::remove;
  return std::nullopt;
}

constexpr std::array<std::pair<Method, const char*>, 4> methods{{{Method::get, "GET, HEAD"},
                                                                 {Method::post, "POST"},
                                                                 {Method::put, "PUT"},
                                                                 {Method::remove, "DELETE"}}};

Decision answer(Response response) {
  Decision d;
  d.answer = std::move(response);
  return d;
}

Response refuse(int status, const char* happened, const char* todo,
                const char* kept = "Nothing was changed.") {
  return refused({happened, kept, todo}, status);
}

Response busy() {
  Response r =
      refuse(503, "The server has too much to do at the moment.", "Try again in a second.");
  r.headers["Retry-After"] = "1";
  return r;
}

Response wrong_method(const std::string& allowed) {
  Response r = refuse(405, "That cannot be done with this address.", "See docs/api.");
  r.headers["Allow"] = allowed;
  return r;
}

}  // namespace

Reception::Reception(Parts parts)
    : parts_(std::move(parts)), token_(random_token()), pairing_(parts_.now_ms) {}

Response Reception::cannot_read(int status) {
  switch (status) {
    case 408:
      return refuse(408, "The request took too long to arrive.", "Send it again.");
    case 413:
      return refuse(413, "The request holds more than this address takes.", "Send less at once.");
    case 414:
      return refuse(414, "The address is too long.", "Ask for less at once.");
    case 431:
      return refuse(431, "The request's head is too long.", "Remove cookies or other head lines.");
    case 503:
      return busy();
    default:
      return refuse(400, "The request is not HTTP as it should be.",
                    "Use a browser or a program that speaks HTTP/1.1.");
  }
}

std::string Reception::allowed(std::span<const Route> routes, const Request& request) const {
  std::string all;
  for (const auto& [method, name] : methods) {
    Request tried = request;
    tried.method = method;
    bool other = false;
    if (find_route(routes, tried, other) != nullptr)
      all += (all.empty() ? "" : ", ") + std::string(name);
  }
  return all;
}

std::optional<Response> Reception::check_writing(const Head& head, bool needs_token,
                                                 bool any_body) const {
  if (needs_token && !same_secret(head.token, token_)) {
    Response r = refuse(403, "The request does not carry this session's token.",
                        "Load the page again, or ask /api/session for the token.");
    r.headers["X-Batten-Why"] = "token";  // so that a page can fetch it and send again
    return r;
  }
  if (!any_body && !is_json(head.content_type))
    return refuse(415, "The request's body is not said to be JSON.",
                  "Send it with Content-Type: application/json.");
  return std::nullopt;
}

Decision Reception::decide(const Head& head, const Door& door) {
  if (head.target.size() > parts_.limits.target) return answer(cannot_read(414));
  auto target = parse_target(head.target);
  if (!target)
    return answer(refuse(400, "The address cannot be read.",
                         "Write it without \"..\", double or encoded slashes."));
  const bool is_api = target->path == "/api" || target->path.starts_with("/api/");
  if (auto refusal = check_origin(head, door, is_api)) return answer(std::move(*refusal));

  Request request;
  request.path = std::move(target->path);
  request.query = std::move(target->query);
  const auto method = method_of(head.method);
  if (method) request.method = *method;
  if (!is_api) {
    if (!method || *method != Method::get) return answer(wrong_method("GET, HEAD"));
    if (auto file = parts_.site.find(request.path, head.known_tag)) return answer(std::move(*file));
    return answer(
        refuse(404, "There is no such page.", "Open the address without what follows /."));
  }

  std::string device;
  if (head.paired_only && request.path != "/api/hello" && request.path != "/api/pair") {
    const auto guest = parts_.guests.find(cookie(head.cookie, device_cookie));
    if (!guest)
      return answer(refuse(401, "This device is not paired with the piano's machine.",
                           "Pair it with the code that machine shows."));
    note_seen(*guest);
    request.device = guest->name;
    device = to_text(guest->id);
  }
  for (const std::span<const Route> table : {own_routes(), parts_.routes}) {
    bool other_method = !method;
    const Route* const route = method ? find_route(table, request, other_method) : nullptr;
    if (route == nullptr) {
      const std::string known = other_method ? allowed(table, request) : "";
      if (!known.empty()) return answer(wrong_method(known));
      continue;
    }
    if (route->method != Method::get)
      if (auto refusal = check_writing(head, request.path != "/api/pair",
                                       route->any_body || route->most_body == 0))
        return answer(std::move(*refusal));
    if (head.length.value_or(0) > route->most_body) return answer(cannot_read(413));
    Decision d = route->answer == nullptr ? own(head, *route, std::move(request))
                                          : in_lane(*route, std::move(request));
    d.device = device;
    d.most_body = route->most_body;
    return d;
  }
  return answer(refuse(404, "There is no such address.", "See docs/api for those there are."));
}

Decision Reception::in_lane(const Route& route, Request request) {
  Decision d;
  d.request = std::move(request);
  d.work = [this, &route](Request&& whole, const Reply& reply) {
    const std::size_t most = parts_.limits.answer;
    const bool taken = parts_.lanes.submit(route.lane, [&route, reply, most,
                                                        asked = std::move(whole)](Answering& with) {
      Response response;
      try {
        response = route.answer(with, asked);
      } catch (const std::exception& failure) {
        response = refused(explain(failure), 500);
      }
      if (response.body->size() > most)
        response = refuse(500, "The answer is too long to be sent.", "Ask for less at once.", "");
      reply(std::move(response));
    });
    if (!taken) reply(busy());
  };
  return d;
}

}  // namespace batten::server
