#include "tests/server_api/api_fixture.hpp"

#include "app/pianos.hpp"
#include "workshop/demo.hpp"

#include <fmt/format.h>

#include <memory>

namespace batten::server {

namespace {

Desk desk_in(const samples::Folder& folder) {
  Desk desk = *open_desk(folder / "journal.store", "Mira");
  // 26 November 2026, 10:00 UTC; a second at each look.
  auto clock = std::make_shared<std::int64_t>(1'795'687'200'000);
  desk.now_ms = [clock] { return *clock += 1000; };
  auto count = std::make_shared<std::uint32_t>(0);
  desk.new_id = [count] {
    Uuid id;
    id.bytes[0] = 0xba;
    id.bytes[6] = 0x40;
    id.bytes[8] = 0x80;
    const std::uint32_t n = ++*count;
    for (std::size_t i = 0; i < 4; ++i)
      id.bytes[15 - i] = static_cast<std::uint8_t>((n >> (8 * i)) & 0xffU);
    return id;
  };
  return desk;
}

}  // namespace

Api::Api() : desk(desk_in(folder)), cache(8U << 20U) {}

const Piano& Api::demo() {
  if (!demo_) demo_ = *workshop::build_demo(desk);
  return *demo_;
}

Piano Api::empty(const std::string& name) {
  return *add_piano(desk, {name, "Room 4", {}, "E2 bridge, A#4 strut, D6 strut"});
}

std::string Api::id(int number) { return fmt::format("00000000-0000-4000-8000-{:012x}", number); }

Heard Api::ask(Method method, const std::string& path, const std::string& body,
               const std::map<std::string, std::string>& query, const std::string& device) {
  Request request;
  request.method = method;
  request.path = path;
  request.query = query;
  request.body = body;
  request.device = device;
  bool other = false;
  const Route* route = find_route(request, other);
  if (route == nullptr) return {other ? 405 : 404, {}, {}};
  Answering with{desk, cache, [this](Event event) { told.push_back(std::move(event)); }};
  const Response said = route->answer(with, request);
  return {said.status, *said.body, nlohmann::json::parse(*said.body, nullptr, false)};
}

}  // namespace batten::server
