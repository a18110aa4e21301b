// The brief over HTTP: the same as asked at once, kept while nothing changes, accepted once.
#include "app/brief_job.hpp"
#include "app/entries.hpp"
#include "app/readings.hpp"
#include "json/brief_json.hpp"
#include "tests/server_brief/asking.hpp"

#include <cmath>
#include <gmock/gmock.h>

namespace batten::server {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

constexpr const char* identity = "0192f0c1-2222-4aaa-8bbb-0123456789ab";

class BriefAnswers : public AskingTest {
 protected:
  // Less dip than blow, let-off and a ratio near 5 leave room for (trade: dip must exceed
  // (blow − let-off) / ratio).
  void ask_for_too_little_dip() {
    ASSERT_TRUE(choose_setting(desk_, piano_, "dip-target", "9.5"));
    ASSERT_TRUE(choose_setting(desk_, piano_, "blow-target", "47"));
  }
  json brief(std::map<std::string, std::string> query = {}) {
    const Response r = get_brief(with_, request(std::move(query)));
    EXPECT_EQ(r.status, 200) << *r.body;
    return said(r);
  }
  json acceptance(const json& of) {
    return {{"id", identity},
            {"revision", of["revision"]},
            {"which", "cheapest"},
            {"because", "agreed with the owner"}};
  }
};

TEST_F(BriefAnswers, RegisterByRegisterIsTheSameAsAllAtOnceWithoutAMemory) {
  ask_for_too_little_dip();
  const json outline = brief({{"outline", "1"}});
  for (const auto& r : outline["registers"]) {
    const json one = brief({{"where", r["register"]}});
    ASSERT_EQ(one["registers"].size(), 1U);
    EXPECT_EQ(one["registers"][0]["note"], r["note"]);
  }
  json whole = brief();
  const auto plain = make_brief(desk_, piano_, {});
  ASSERT_TRUE(plain) << plain.error().sentence();
  EXPECT_EQ(whole["revision"], entries_kept());
  whole.erase("revision");
  EXPECT_EQ(whole, json::parse(to_json(piano_, *plain)));
}

TEST_F(BriefAnswers, EverySentenceHasItsNumbersBesideIt) {
  ask_for_too_little_dip();
  const json whole = brief();
  EXPECT_FALSE(whole["works"]);
  for (const auto& r : whole["registers"]) {
    EXPECT_FALSE(r["sheet"]["works"]);
    EXPECT_FALSE(r["sheet"]["misses"].empty() && r["sheet"]["faults"].empty());
    for (const auto& miss : r["sheet"]["misses"])
      EXPECT_TRUE(r["bands"].contains(miss["need"].get<std::string>()));
    ASSERT_FALSE(r["departures"].empty());
    for (const auto& way : r["departures"]) {
      EXPECT_THAT((std::vector<std::string>{"dip", "blow", "let-off", "drop", "least"}),
                  ::testing::Contains(way["code"].get<std::string>()));
      // What it changes is the difference between its figures and the sheet's.
      for (const char* name : {"blow", "dip", "let_off", "drop"}) {
        const std::string mm = std::string(name) + "_mm";
        EXPECT_NEAR(way[std::string(name) + "_by_mm"].get<double>(),
                    way["figures"][mm].get<double>() - r["sheet"][mm].get<double>(), 1e-9);
      }
    }
  }
}

TEST_F(BriefAnswers, AnEntryThatTouchesNothingLeavesTheRegistersKnown) {
  const json before = brief({{"where", "C4"}});
  ASSERT_TRUE(remark(desk_, piano_, "", "the lid creaks"));
  json after = brief({{"where", "C4"}});
  EXPECT_EQ(after["revision"], before["revision"].get<int>() + 1);
  EXPECT_EQ(after["registers"], before["registers"]);
  // A target that is another one is asked again.
  ASSERT_TRUE(choose_setting(desk_, piano_, "dip-target", "10.4"));
  after = brief({{"where", "C4"}});
  EXPECT_NEAR(after["registers"][0]["sheet"]["dip_mm"].get<double>(), 10.4, 1e-9);
  EXPECT_GT(after["registers"][0]["sheet"]["aftertouch_mm"].get<double>(),
            before["registers"][0]["sheet"]["aftertouch_mm"].get<double>());
}

TEST_F(BriefAnswers, TheMapsColumnsLieAsTheySay) {
  const Response r = get_brief_map(with_, request({{"where", "C4"}}));
  ASSERT_EQ(r.status, 200) << *r.body;
  const json m = said(r);
  const auto blows = m["blows"].get<std::size_t>(), dips = m["dips"].get<std::size_t>();
  ASSERT_EQ(m["escape_margin_mm"].size(), blows * dips);
  EXPECT_EQ(m["against"], "sheet");  // nothing was read
  const double dip_step = (m["dip_high_mm"].get<double>() - m["dip_low_mm"].get<double>()) /
                          (static_cast<double>(dips) - 1);
  const double blow_step = (m["blow_high_mm"].get<double>() - m["blow_low_mm"].get<double>()) /
                           (static_cast<double>(blows) - 1);
  const auto margin = [&](std::size_t i, std::size_t j) {
    return m["escape_margin_mm"][j * blows + i].get<double>();
  };
  for (std::size_t j = 1; j < dips; ++j)
    for (std::size_t i = 1; i < blows; ++i) {
      // Aftertouch is dip less the depth of escape, which the dip does not change: definition.
      EXPECT_NEAR(margin(i, j) - margin(i, j - 1), dip_step, 0.002);
      // A longer blow needs more key travel, by the action's ratio: 4.5 to 6 in grands (trade).
      const double ratio = blow_step / (margin(i - 1, j) - margin(i, j));
      EXPECT_GT(ratio, 4);
      EXPECT_LT(ratio, 6.5);
      const int faults = m["faults"][j * blows + i];
      EXPECT_EQ((faults & 1) != 0, margin(i, j) <= 0 || std::abs(margin(i, j)) < 5e-4);
    }
  EXPECT_EQ(get_brief_map(with_, request()).status, 422);
  EXPECT_EQ(get_brief_map(with_, request({{"where", "H9"}})).status, 422);
  EXPECT_EQ(get_brief_map(with_, request({{"wo", "C4"}})).status, 400);
}

TEST_F(BriefAnswers, WhatIsAcceptedTwiceIsWrittenOnceAndTold) {
  ask_for_too_little_dip();
  const json before = brief();
  const std::size_t entries = entries_kept();
  const std::string body = acceptance(before).dump();
  const Response first = post_brief(with_, request({}, body));
  ASSERT_EQ(first.status, 200) << *first.body;
  EXPECT_EQ(said(first)["entries"][0]["id"], identity);
  const std::size_t kept = said(first)["entries"].size();
  EXPECT_EQ(entries_kept(), entries + kept);
  EXPECT_EQ(said(first)["revision"], entries + kept);
  ASSERT_EQ(told_.size(), 1U);
  EXPECT_EQ(told_[0].name, "entries");
  EXPECT_EQ(told_[0].piano, to_text(piano_.id));
  EXPECT_EQ(json::parse(told_[0].data)["entries"].size(), kept);

  const Response again = post_brief(with_, request({}, body));
  ASSERT_EQ(again.status, 200) << *again.body;
  EXPECT_EQ(said(again)["entries"], said(first)["entries"]);
  EXPECT_EQ(said(again)["already_there"], kept);
  EXPECT_EQ(entries_kept(), entries + kept);
  EXPECT_EQ(told_.size(), 1U);

  const json after = brief({{"outline", "1"}});
  ASSERT_EQ(after["accepted"].size(), 1U);
  EXPECT_EQ(after["accepted"][0]["because"], "agreed with the owner");
  EXPECT_EQ(after["accepted"][0]["who"], "Mira");
  EXPECT_EQ(after["accepted"][0]["settings"].size(), kept - 1);
  EXPECT_TRUE(brief()["works"]);
  // Taken back, it is no longer on record.
  ASSERT_TRUE(undo_step(desk_, piano_));
  EXPECT_TRUE(brief({{"outline", "1"}})["accepted"].empty());
}

TEST_F(BriefAnswers, WhatWasNotSeenIsNotAccepted) {
  ask_for_too_little_dip();
  const json seen = brief();
  ASSERT_TRUE(choose_setting(desk_, piano_, "blow-target", "46.5"));
  const std::size_t entries = entries_kept();
  EXPECT_EQ(post_brief(with_, request({}, acceptance(seen).dump())).status, 409);
  EXPECT_EQ(entries_kept(), entries);
}

TEST_F(BriefAnswers, BadBodiesAreRefusedWithASentence) {
  const std::size_t entries = entries_kept();
  const std::string id = std::string(R"("id":")") + identity + "\"";
  const std::string bad[] = {
      "",
      "[]",
      "{",
      "{\"which\":\"1\"}",
      "{" + id + "}",
      "{" + id + R"(,"which":1})",
      "{" + id + R"(,"which":"1","revision":"x"})",
      "{" + id + R"(,"which":"1","colour":"red"})",
      R"({"id":"00000000-0000-0000-0000-000000000000","which":"1"})",
      "{" + id + R"(,"which":"1","because":")" + std::string(3000, 'x') + "\"}",
      std::string(4000, '[') + std::string(4000, ']'),
  };
  for (const std::string& body : bad) {
    const Response r = post_brief(with_, request({}, body));
    EXPECT_EQ(r.status, 400) << body.substr(0, 60);
    EXPECT_FALSE(said(r)["problem"]["happened"].get<std::string>().empty());
  }
  EXPECT_EQ(post_brief(with_, request({}, "{" + id + R"(,"which":"77"})")).status, 422);
  EXPECT_EQ(entries_kept(), entries);
  EXPECT_TRUE(told_.empty());
}

}  // namespace
}  // namespace batten::server
