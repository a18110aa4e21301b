// Any way of cutting a device's entries into requests, repeating and losing answers leaves the same
// journal: every entry once.
#include "app/entries.hpp"
#include "tests/server_api/api_fixture.hpp"

#include <fmt/format.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <set>

namespace batten::server {
namespace {

std::string entry(int id) {
  switch (id % 4) {
    case 0:
      return fmt::format(R"({{"id":"{}","kind":"remark","text":"number {}"}})", Api::id(id), id);
    case 1:
      return fmt::format(
          R"({{"id":"{}","kind":"reading","reading":"let-off","note":"{}","value":"2.1"}})",
          Api::id(id), 20 + id);
    case 2:
      return fmt::format(
          R"({{"id":"{}","kind":"move","adjuster":"capstan","note":"{}","amount":"raise 1/64"}})",
          Api::id(id), 20 + id);
    default:
      return fmt::format(R"({{"id":"{}","kind":"setting","name":"grade","value":"{}"}})",
                         Api::id(id), id % 8 == 3 ? "stage" : "lesson");
  }
}

RC_GTEST_PROP(Repeats, LeaveEveryEntryOnce, ()) {
  Api api;
  const Piano piano = api.empty();
  const std::size_t before = history(api.desk, piano)->size();
  const auto requests = *rc::gen::resize(
      8, rc::gen::container<std::vector<std::vector<int>>>(
             rc::gen::nonEmpty(rc::gen::container<std::vector<int>>(rc::gen::inRange(1, 25)))));
  std::set<int> sent;
  std::vector<int> order;
  for (const auto& ids : requests) {
    std::string body;
    std::size_t known = 0;
    for (const int id : ids) {
      body += (body.empty() ? "" : ",") + entry(id);
      if (sent.insert(id).second)
        order.push_back(id);
      else
        ++known;
    }
    const Heard heard = api.post(Api::at(piano, "/entries"), R"({"entries":[)" + body + "]}");
    RC_ASSERT(heard.status == 200);
    RC_ASSERT(heard.json["already_there"].get<std::size_t>() == known);
    RC_ASSERT(heard.json["entries"].size() == ids.size());
    RC_ASSERT(heard.json["revision"].get<std::size_t>() == before + sent.size());
  }
  const auto lines = *history(api.desk, piano);
  RC_ASSERT(lines.size() == before + order.size());
  for (std::size_t i = 0; i < order.size(); ++i)
    RC_ASSERT(to_text(lines[before + i].entry.id) == Api::id(order[i]));
}

}  // namespace
}  // namespace batten::server
