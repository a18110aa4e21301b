// docs/api/openapi.json against the route table, both ways, and its bodies against what is read.
#include "server/entry_body.hpp"
#include "server/reception.hpp"
#include "server/routes.hpp"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <functional>
#include <set>
#include <string>

namespace batten::server {
namespace {

using nlohmann::json;

const std::filesystem::path source(BATTEN_SOURCE_DIR);

json described() {
  std::ifstream in(source / "docs/api/openapi.json");
  return json::parse(in);
}

std::string method(const Route& r) {
  switch (r.method) {
    case Method::get:
      return "get";
    case Method::post:
      return "post";
    case Method::put:
      return "put";
    case Method::remove:
      break;
  }
  return "delete";
}

TEST(OpenApi, DescribesEveryRouteAndNoOther) {
  const json api = described();
  std::set<std::string> told, there;
  for (const auto& [path, item] : api["paths"].items())
    for (const auto& [name, operation] : item.items())
      if (name != "parameters") told.insert(name + " " + path);
  for (const auto& table : {routes(), own_routes()})
    for (const Route& r : table) there.insert(method(r) + " " + std::string(r.pattern));
  EXPECT_EQ(told, there);
}

TEST(OpenApi, SaysOfEachWhatTheTableSays) {
  const json api = described();
  for (const auto& table : {routes(), own_routes()})
    for (const Route& r : table) {
      const json& item = api["paths"][std::string(r.pattern)];
      EXPECT_EQ(item[method(r)]["summary"], r.says) << r.pattern;
      // A body is described where one is taken; two take none that matters.
      if (r.most_body == 0) {
        EXPECT_FALSE(item[method(r)].contains("requestBody")) << r.pattern;
      }
      std::size_t named = 0;
      for (std::size_t i = r.pattern.find('{'); i != std::string_view::npos;
           i = r.pattern.find('{', i + 1))
        ++named;
      EXPECT_EQ(item.contains("parameters") ? item["parameters"].size() : 0U, named) << r.pattern;
    }
}

TEST(OpenApi, PointsAtThingsThatAreThere) {
  const json api = described();
  EXPECT_EQ(api["openapi"], "3.1.0");
  std::function<void(const json&)> walk = [&](const json& j) {
    if (j.is_object())
      for (const auto& [name, value] : j.items()) {
        if (name == "$ref") {
          EXPECT_TRUE(api.contains(json::json_pointer(value.get<std::string>().substr(1))))
              << value;
        } else if (name == "externalValue") {
          EXPECT_TRUE(std::filesystem::exists(source / "docs/api" / value.get<std::string>()))
              << value;
        }
        walk(value);
      }
    if (j.is_array())
      for (const json& e : j) walk(e);
  };
  walk(api);
}

// A body with exactly what the description requires of each kind is read; without one of the
// required members, or with one more, it is not.
TEST(OpenApi, RequiresWhatIsRequired) {
  const json api = described();
  const json& kinds =
      api["components"]["schemas"]["Entries"]["properties"]["entries"]["items"]["oneOf"];
  ASSERT_EQ(kinds.size(), 7U);
  const auto reads = [](const json& entry) {
    Request request;
    request.body = json{{"entries", {entry}}}.dump();
    return entries_in(request).has_value();
  };
  for (const json& kind : kinds) {
    json entry = json::object();
    for (const auto& name : kind["required"]) {
      const std::string member = name;
      const json& property = kind["properties"][member];
      const bool id = property.contains("format");
      entry[member] = property.contains("const") ? property["const"]
                      : id                       ? json("00000000-0000-4000-8000-000000000001")
                                                 : json("x");
    }
    EXPECT_TRUE(reads(entry)) << entry;
    for (const auto& name : kind["required"]) {
      json without = entry;
      without.erase(name.get<std::string>());
      EXPECT_FALSE(reads(without)) << without;
    }
    json more = entry;
    more["colour"] = "x";
    EXPECT_FALSE(reads(more)) << more;
    for (const auto& [name, property] : kind["properties"].items())
      if (!entry.contains(name)) {
        json with = entry;
        with[name] = name == "at_ms" ? json(1'795'687'200'000) : json("x");
        EXPECT_TRUE(reads(with)) << with;
      }
  }
}

}  // namespace
}  // namespace batten::server
