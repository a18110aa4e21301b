// The server's answers without its sockets: routes called directly, over a fresh store that may
// hold the demo piano. Identities and clock are the same at every run.
#pragma once

#include "app/desk.hpp"
#include "server/answering.hpp"
#include "server/routes.hpp"
#include "tests/records/samples.hpp"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace batten::server {

struct Heard {
  int status = 0;
  std::string body;
  nlohmann::json json;  // discarded where the body is no JSON
};

class Api {
 public:
  Api();

  // The demo piano, built at the first call.
  const Piano& demo();
  // An empty piano of four sections.
  Piano empty(const std::string& name = "Studio grand");

  Heard ask(Method method, const std::string& path, const std::string& body = {},
            const std::map<std::string, std::string>& query = {}, const std::string& device = {});
  Heard get(const std::string& path, const std::map<std::string, std::string>& query = {}) {
    return ask(Method::get, path, {}, query);
  }
  Heard post(const std::string& path, const std::string& body, const std::string& device = {}) {
    return ask(Method::post, path, body, {}, device);
  }
  static std::string at(const Piano& piano, const std::string& rest = {}) {
    return "/api/pianos/" + to_text(piano.id) + rest;
  }
  // "00000000-0000-4000-8000-0000000000NN": as a page would make them.
  static std::string id(int number);

  const samples::Folder folder;
  Desk desk;
  Cache cache;
  std::vector<Event> told;

 private:
  std::optional<Piano> demo_;
};

}  // namespace batten::server
