// A complaint over HTTP: the same with and without the memory, renewed by every look.
#include "app/complaint_job.hpp"
#include "app/entries.hpp"
#include "app/readings.hpp"
#include "json/complaint_json.hpp"
#include "tests/server_brief/asking.hpp"

#include <algorithm>
#include <gmock/gmock.h>

namespace batten::server {
namespace {

using nlohmann::json;

class ComplaintAnswers : public AskingTest {
 protected:
  json ask(const json& body) {
    const Response r = post_complaint(with_, request({}, body.dump()));
    EXPECT_EQ(r.status, 200) << *r.body;
    return said(r);
  }
  static double chance(const json& found, const std::string& cause) {
    for (const auto& c : found["causes"])
      if (c["cause"] == cause) return c["probability"];
    return -1;
  }
};

TEST_F(ComplaintAnswers, TheMemoryChangesNothing) {
  const json asked{{"note", "C4"}, {"felt", {"double-strikes"}}};
  json cold = ask(asked);
  json warm = ask(asked);
  EXPECT_EQ(cold, warm);
  const auto plain = find_causes(desk_, piano_, {"C4", {"double-strikes"}, {}});
  ASSERT_TRUE(plain);
  EXPECT_EQ(cold["revision"], entries_kept());
  cold.erase("revision");
  EXPECT_EQ(cold, json::parse(to_json(piano_, *plain)));
  // Another note, another table.
  const json other = ask({{"note", "C6"}, {"felt", {"double-strikes"}}});
  EXPECT_EQ(other["note"], "C6");
  EXPECT_NE(other["causes"], warm["causes"]);
}

TEST_F(ComplaintAnswers, ALookRenewsTheRankingAndIsNotWrittenDown) {
  const std::size_t entries = entries_kept();
  const json asked{{"note", "C4"}, {"felt", {"slow-to-return"}}};
  const json before = ask(asked);
  json with_look = asked;
  with_look["looks"] = {{{"look", "key-freedom"}, {"value", 2}}};
  const json after = ask(with_look);
  // Of a key that plainly binds on its pins, that is the likeliest cause (trade).
  EXPECT_GT(chance(after, "key-tight"), chance(before, "key-tight"));
  EXPECT_EQ(after["causes"][0]["cause"], "key-tight");
  EXPECT_EQ(after["seen"].size(), 1U);
  EXPECT_FALSE(after["seen"][0]["from_journal"]);
  for (const auto& next : after["next"]) EXPECT_NE(next["taking"], "key-freedom");
  EXPECT_EQ(entries_kept(), entries);
}

TEST_F(ComplaintAnswers, AReadingOfTheJournalIsTakenAndSaid) {
  // Hardly any drop beside a target of 1.5 mm (trade: too little drop lets the hammer strike
  // twice).
  ASSERT_TRUE(take_reading(desk_, piano_, {"drop", "C4", "0.1", "", ""}));
  const json found = ask({{"note", "C4"}, {"felt", {"double-strikes"}}});
  ASSERT_EQ(found["seen"].size(), 1U);
  EXPECT_TRUE(found["seen"][0]["from_journal"]);
  EXPECT_EQ(found["causes"][0]["cause"], "drop-small");
  const auto& because = found["causes"][0]["because"];
  EXPECT_EQ(because["explained"], json::array({"double-strikes"}));
  ASSERT_EQ(because["looks"].size(), 1U);
  EXPECT_EQ(because["looks"][0]["look"], "drop");
  EXPECT_NEAR(because["looks"][0]["seen"].get<double>(), 0.1, 1e-9);
  EXPECT_LT(because["looks"][0]["given"].get<double>(), because["looks"][0]["sound"].get<double>());
}

TEST_F(ComplaintAnswers, AKeysHeightIsToldBesideItsNeighbours) {
  const auto height = [&](double value, bool beside) {
    json look{{"look", "key-height"}, {"value", value}};
    if (beside) look["beside"] = 64.5;
    return json{{"note", "C4"}, {"felt", {"uneven"}}, {"looks", {look}}}.dump();
  };
  EXPECT_EQ(post_complaint(with_, request({}, height(63.5, false))).status, 422);
  const Response low = post_complaint(with_, request({}, height(63.5, true)));
  ASSERT_EQ(low.status, 200) << *low.body;
  EXPECT_GT(chance(said(low), "balance-punchings-short"),
            chance(said(low), "balance-punchings-over"));
}

TEST_F(ComplaintAnswers, BadBodiesAreRefusedWithASentence) {
  const std::pair<const char*, int> bad[] = {
      {"", 400},
      {"7", 400},
      {R"({"note":4})", 400},
      {R"({"note":"C4","felt":"weak"})", 400},
      {R"({"note":"C4","felt":[1]})", 400},
      {R"({"note":"C4","looks":[{"look":"drop"}]})", 400},
      {R"({"note":"C4","looks":[{"look":"drop","value":[1]}]})", 400},
      {R"({"note":"C4","looks":["drop"]})", 400},
      {R"({"note":"C4","why":true})", 400},
      {R"({"note":"C4"})", 422},                                        // nothing felt or read
      {R"({"note":"H4","felt":["weak"]})", 422},                        // no such note
      {R"({"note":"C4","felt":["purple"]})", 422},                      // no such complaint
      {R"({"note":"C4","looks":[{"look":"aura","value":1}]})", 422},    // no such look
      {R"({"note":"C4","looks":[{"look":"drop","value":900}]})", 422},  // cannot be
      {R"({"note":"C4","looks":[{"look":"dip","value":null}]})", 422},  // can always be read
  };
  for (const auto& [body, status] : bad) {
    const Response r = post_complaint(with_, request({}, body));
    EXPECT_EQ(r.status, status) << body;
    EXPECT_FALSE(said(r)["problem"]["happened"].get<std::string>().empty()) << body;
  }
}

}  // namespace
}  // namespace batten::server
