// Answerers asked without a socket.
#pragma once

#include "server/answers.hpp"
#include "tests/app/desk_fixture.hpp"

#include <nlohmann/json.hpp>

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace batten::server {

class AskingTest : public DeskTest {
 protected:
  Request request(std::map<std::string, std::string> query = {}, std::string body = {}) const {
    Request r;
    r.path = "/api/pianos/" + to_text(piano_.id);
    r.parts = {{"piano", to_text(piano_.id)}};
    r.query = std::move(query);
    r.body = std::move(body);
    return r;
  }
  static nlohmann::json said(const Response& r) { return nlohmann::json::parse(*r.body); }

  Cache cache_{1 << 20};
  std::vector<Event> told_;
  Answering with_{desk_, cache_, [this](Event e) { told_.push_back(std::move(e)); }};
};

}  // namespace batten::server
