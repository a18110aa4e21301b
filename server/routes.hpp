// The route table: every address the server knows, on one screen (routes.cpp).
#pragma once

#include "server/answering.hpp"
#include "server/http.hpp"

#include <cstddef>
#include <span>
#include <string_view>

namespace batten::server {

// Which thread answers. Each has its own open store, so that a plan being made never keeps a
// reading from being written down.
enum class Lane : std::uint8_t {
  desk,   // a few milliseconds: the journal
  plan,   // up to a second: plans, briefs, complaints
  model,  // some milliseconds without the store's help beyond a setting: what-ifs, strokes
};

struct Route {
  Method method = Method::get;
  std::string_view pattern;  // "/api/pianos/{piano}/plan"
  Lane lane = Lane::desk;
  Response (*answer)(Answering& with, const Request& request) = nullptr;
  std::size_t most_body = 0;   // bytes; 0: a body is refused
  std::string_view says = {};  // what it answers, one line; the OpenAPI description's summary
  bool any_body = false;       // whatever media type it is said to be; else JSON
};

std::span<const Route> routes();

// The route that fits, with the path's named parts put into the request. Null: none; `other_method`
// then says whether the path is known under another method (405 instead of 404).
const Route* find_route(std::span<const Route> table, Request& request, bool& other_method);
inline const Route* find_route(Request& request, bool& other_method) {
  return find_route(routes(), request, other_method);
}

}  // namespace batten::server
