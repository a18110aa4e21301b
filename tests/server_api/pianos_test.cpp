// The piano's own answers, the strip and what to read next.
#include "app/pianos.hpp"

#include "app/entries.hpp"
#include "app/plan_memory.hpp"
#include "app/readings.hpp"
#include "app/setting_guide.hpp"
#include "core/regulation/aims/aim.hpp"
#include "tests/server_api/api_fixture.hpp"

#include <fstream>
#include <gmock/gmock.h>
#include <set>
#include <sstream>

namespace batten::server {
namespace {

using nlohmann::json;

TEST(Pianos, AreAddedOnceAndListed) {
  Api api;
  const std::string body = R"({"id":"00000000-0000-4000-8000-0000000000aa","name":"Hall grand",
    "place":"Hall","lowest":"A0","highest":"C8","sections":"E2 bridge, A#4 strut"})";
  const Heard first = api.post("/api/pianos", body);
  ASSERT_EQ(first.status, 200) << first.body;
  EXPECT_EQ(api.post("/api/pianos", body).body, first.body);
  ASSERT_EQ(api.told.front().name, "pianos");
  const json list = api.get("/api/pianos").json["pianos"];
  ASSERT_EQ(list.size(), 1U);
  EXPECT_EQ(list[0]["name"], "Hall grand");
  EXPECT_EQ(list[0]["visits"], 1);
  EXPECT_EQ(list[0]["entries"], 1);  // the sections
}

TEST(Pianos, AreRefusedWithASentence) {
  Api api;
  api.empty("Studio grand");
  const auto status = [&](const std::string& body) {
    const Heard heard = api.post("/api/pianos", body);
    EXPECT_FALSE(heard.json["problem"]["happened"].get<std::string>().empty()) << body;
    return heard.status;
  };
  EXPECT_EQ(status(R"({"place":"x"})"), 400);
  EXPECT_EQ(status(R"({"name":7})"), 400);
  EXPECT_EQ(status(R"({"name":"x","lowest":"H9"})"), 400);
  EXPECT_EQ(status(R"({"name":"x","lowest":"C4"})"), 400);  // 49 keys are no piano
  EXPECT_EQ(status(R"({"name":"x","colour":"black"})"), 400);
  EXPECT_EQ(status(R"({"name":""})"), 422);
  EXPECT_EQ(status(R"({"name":"studio GRAND"})"), 422);
  EXPECT_EQ(status(R"({"name":"x","sections":"Z9 strut"})"), 422);
  EXPECT_EQ(api.get("/api/pianos").json["pianos"].size(), 1U);
}

TEST(Pianos, BeginVisitsOnce) {
  Api api;
  const Piano piano = api.empty();
  const std::string body = R"({"id":"00000000-0000-4000-8000-0000000000ab","title":"May"})";
  EXPECT_EQ(api.post(Api::at(piano, "/visits"), body).status, 200);
  EXPECT_EQ(api.post(Api::at(piano, "/visits"), body).status, 200);
  EXPECT_EQ(api.get(Api::at(piano)).json["visits"].size(), 2U);
  EXPECT_EQ(api.post(Api::at(piano, "/visits"), R"({"title":""})").status, 400);
  EXPECT_EQ(api.post(Api::at(piano, "/visits"),
                     R"({"id":"00000000-0000-4000-8000-0000000000ab","title":"June"})")
                .status,
            422);
}

TEST(Pianos, TellTheirPreparation) {
  Api api;
  const Piano piano = api.empty();
  json page = api.get(Api::at(piano)).json;
  EXPECT_EQ(page["gate"]["open"], false);
  EXPECT_EQ(page["preparation"].size(), preparation_kinds().size());
  EXPECT_TRUE(page["preparation"][0]["state"].is_null());
  for (const PreparationKind& k : preparation_kinds())
    ASSERT_TRUE(note_preparation(api.desk, piano, k.code, "found", "", ""));
  ASSERT_TRUE(note_preparation(api.desk, piano, "hammers-spaced", "wanting", "C4", ""));
  page = api.get(Api::at(piano)).json;
  EXPECT_EQ(page["gate"]["open"], false);
  for (const json& item : page["preparation"])
    if (item["item"] == "hammers-spaced") {
      EXPECT_EQ(item["wanting_at"], json::array({"C4"}));
    } else {
      EXPECT_EQ(item["passed"], true);
    }
  ASSERT_TRUE(note_preparation(api.desk, piano, "hammers-spaced", "done", "C4", ""));
  EXPECT_EQ(api.get(Api::at(piano)).json["gate"]["open"], true);
}

// Every example of the guide is taken by the function that takes settings, and every setting of
// the manual's table is in the guide or spelled there by its kind.
TEST(SettingGuide, GivesExamplesThatAreTaken) {
  Api api;
  const Piano piano = api.empty();
  std::set<std::string> names;
  for (const SettingGuide& g : setting_guide()) {
    EXPECT_TRUE(names.insert(g.name).second) << g.name;
    EXPECT_FALSE(g.what.empty()) << g.name;
    if (!g.example.empty()) {
      const auto set = choose_setting(api.desk, piano, g.name, g.example);
      EXPECT_TRUE(set) << g.name << ": " << (set ? "" : set.error().sentence());
    }
    for (const std::string& choice : g.choices)
      EXPECT_TRUE(choose_setting(api.desk, piano, g.name, choice)) << g.name << " " << choice;
  }
  std::ifstream manual(std::string(BATTEN_SOURCE_DIR) + "/docs/manual/settings.md");
  std::string line;
  int rows = 0;
  while (std::getline(manual, line)) {
    if (!line.starts_with("| `")) continue;
    const std::string name = line.substr(3, line.find('`', 3) - 3);
    // Written in families: need-…, dip-tolerance and so on.
    if (name.find("…") != std::string::npos || name.ends_with("-tolerance") ||
        name.ends_with("-minutes") || name.ends_with("-limit") || name.starts_with("-"))
      continue;
    EXPECT_TRUE(names.contains(name)) << name;
    ++rows;
  }
  EXPECT_GT(rows, 15);
}

TEST(Strip, HasAPlaceForEveryKey) {
  Api api;
  const json strip = api.get(Api::at(api.demo(), "/strip")).json;
  EXPECT_EQ(strip["first"], 1);
  EXPECT_EQ(strip["last"], 88);
  ASSERT_EQ(strip["aims"].size(), aim_count);
  for (const char* column : {"notes", "sharp", "served"}) EXPECT_EQ(strip[column].size(), 88U);
  for (const auto& part :
       {strip["string"]["read_mm"], strip["string"]["doubt"], strip["hammer"]["deviation_mm"]})
    EXPECT_EQ(part.size(), 88U);
  for (const auto& aim : strip["aims"])
    for (const char* column : {"read", "mean", "sd", "target", "doubted"})
      EXPECT_EQ(aim[column].size(), 88U);
  // A standard keyboard: A0 is 1, C4 is 40, 36 sharps (docs/notation.md; ISO-less common
  // knowledge).
  EXPECT_EQ(strip["notes"][39], "C4");
  EXPECT_EQ(std::ranges::count(strip["sharp"], json(true)), 36);
  EXPECT_FALSE(strip["moves"].empty());
}

// The strip says what the plan is made from, to four decimals.
TEST(Strip, SaysWhatThePlanBelieves) {
  Api api;
  const Piano& demo = api.demo();
  const json strip = api.get(Api::at(demo, "/strip")).json;
  const auto plan = plan_work(api.desk, demo);
  ASSERT_TRUE(plan);
  const NoteState& c4 = plan->plan.situation.at(Key{40});
  EXPECT_NEAR(strip["aims"]["blow"]["mean"][39].get<double>(), c4.at(Aim::blow), 5.1e-5);
  EXPECT_NEAR(strip["aims"]["let-off"]["sd"][39].get<double>(), c4.sd(Aim::let_off), 5.1e-5);
  EXPECT_NEAR(strip["string"]["fair_mm"][39].get<double>(),
              plan->line->at(Key{40}).string_fair.in(millimetre), 5.1e-5);
  std::size_t turns = 0;
  for (const Pass& pass : plan->plan.passes) turns += static_cast<std::size_t>(pass.moves);
  EXPECT_EQ(strip["moves"].size(), turns);
}

TEST(Strip, MarksDoubtsAndForgetsWhatWasReadBeforeATurn) {
  Api api;
  const Piano& demo = api.demo();
  json strip = api.get(Api::at(demo, "/strip")).json;
  EXPECT_GE(
      std::ranges::count_if(strip["string"]["doubt"], [](const json& d) { return d.is_string(); }),
      1);
  ASSERT_TRUE(take_reading(api.desk, demo, {"let-off", "C4", "2.4", {}, {}}));
  EXPECT_EQ(api.get(Api::at(demo, "/strip")).json["aims"]["let-off"]["read"][39], 2.4);
  ASSERT_TRUE(record_move(api.desk, demo, "let-off-button", "C4", "later let-off 1/16"));
  EXPECT_TRUE(api.get(Api::at(demo, "/strip")).json["aims"]["let-off"]["read"][39].is_null());
}

TEST(Strip, OfAPianoWithoutSectionsSaysWhatIsLacking) {
  Api api;
  const Piano piano = *add_piano(api.desk, {"New", "", {}, ""});
  const Heard strip = api.get(Api::at(piano, "/strip"));
  ASSERT_EQ(strip.status, 200) << strip.body;
  EXPECT_EQ(strip.json["notes"].size(), 88U);
  EXPECT_THAT(strip.json["lacking"]["happened"].get<std::string>(), testing::HasSubstr("section"));
  EXPECT_EQ(api.get(Api::at(piano, "/read-next")).json["suggestions"].size(), 0U);
}

TEST(ReadNext, BeginsWithDoubtsAndThenWhatTellsMost) {
  Api api;
  const Piano& demo = api.demo();
  const json next = api.get(Api::at(demo, "/read-next"), {{"reading", "string-height"}}).json;
  ASSERT_FALSE(next["suggestions"].empty());
  EXPECT_EQ(next["suggestions"][0]["why"], "settles-doubt");
  for (const json& s : next["suggestions"]) EXPECT_EQ(s["reading"], "string-height");
  EXPECT_EQ(api.get(Api::at(demo, "/read-next"), {{"reading", "charm"}}).status, 400);
  EXPECT_EQ(api.get(Api::at(demo, "/read-next"), {{"speed", "1"}}).status, 400);
}

TEST(ReadNext, OfAnEmptyPianoAsksForTheSamplesAndCounts) {
  Api api;
  const Piano piano = api.empty();
  json next = api.get(Api::at(piano, "/read-next"), {{"reading", "dip"}}).json;
  ASSERT_FALSE(next["suggestions"].empty());
  const std::string first = next["suggestions"][0]["note"];
  ASSERT_TRUE(take_reading(api.desk, piano, {"dip", first, "10.1", {}, {}}));
  next = api.get(Api::at(piano, "/read-next"), {{"reading", "dip"}}).json;
  EXPECT_NE(next["suggestions"][0]["note"], first);
  for (const json& p : next["progress"])
    if (p["reading"] == "dip") {
      EXPECT_EQ(p["asked"], 52);  // naturals of 88 keys
      EXPECT_EQ(p["read"], 1);
    }
}

TEST(Journal, IsReadFromWhereOneLeftOff) {
  Api api;
  const Piano piano = api.empty();
  ASSERT_TRUE(take_reading(api.desk, piano, {"blow", "C4", "45.2", {}, {}}));
  const json all = api.get(Api::at(piano, "/journal")).json;
  EXPECT_EQ(all["revision"], 2);
  EXPECT_EQ(all["entries"].size(), 2U);
  const json rest = api.get(Api::at(piano, "/journal"), {{"since", "1"}}).json;
  ASSERT_EQ(rest["entries"].size(), 1U);
  EXPECT_EQ(rest["entries"][0]["reading"], "blow");
  EXPECT_EQ(rest["entries"][0]["place"], 2);
  EXPECT_EQ(api.get(Api::at(piano, "/journal"), {{"since", "9"}}).json["entries"].size(), 0U);
  for (const char* wrong : {"-1", "x", "1e3", "99999999999999999999"})
    EXPECT_EQ(api.get(Api::at(piano, "/journal"), {{"since", wrong}}).status, 400) << wrong;
}

TEST(PlanMemory, MakesAPlanOnceForEachStateOfTheJournal) {
  Api api;
  const Piano& demo = api.demo();
  PlanMemory& plans = api.cache.plans;
  const auto first = *plans.plan(api.desk, demo);
  EXPECT_EQ(*plans.plan(api.desk, demo), first);
  EXPECT_NE(*plans.plan(api.desk, demo, {60.0}), first);
  ASSERT_TRUE(take_reading(api.desk, demo, {"let-off", "C4", "2.4", {}, {}}));
  const auto second = *plans.plan(api.desk, demo);
  EXPECT_NE(second, first);
  // The same as made without memory.
  const auto fresh = *plan_work(api.desk, demo);
  EXPECT_EQ(second->plan.minutes, fresh.plan.minutes);
  EXPECT_EQ(second->model.at(Key{40}).influence, fresh.model.at(Key{40}).influence);
  // A new target means a new model, a new remark does not.
  const auto model = *plans.model(fresh.standing, demo);
  ASSERT_TRUE(remark(api.desk, demo, "", "rain"));
  EXPECT_EQ(*plans.model(*standing(api.desk, demo), demo), model);
  ASSERT_TRUE(choose_setting(api.desk, demo, "dip-target", "10.2"));
  EXPECT_NE(*plans.model(*standing(api.desk, demo), demo), model);
}

}  // namespace
}  // namespace batten::server
