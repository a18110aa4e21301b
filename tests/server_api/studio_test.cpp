// When pianos are due, over HTTP.
#include "app/readings.hpp"
#include "tests/server_api/api_fixture.hpp"

namespace batten::server {
namespace {

using nlohmann::json;

TEST(StudioAnswer, ListsEveryPiano) {
  Api api;
  const Piano& demo = api.demo();
  api.empty();
  const Heard heard = api.get("/api/studio");
  ASSERT_EQ(heard.status, 200) << heard.body;
  ASSERT_EQ(heard.json["pianos"].size(), 2U);
  const json first = heard.json["pianos"][0], second = heard.json["pianos"][1];
  EXPECT_EQ(first["id"], to_text(demo.id));
  EXPECT_EQ(first["visits"], 5);
  EXPECT_GT(first["minutes"], 60);
  EXPECT_EQ(second["due"]["state"], "unknown");
  EXPECT_TRUE(second["minutes"].is_null());
  EXPECT_TRUE(heard.json["day"].is_null());
}

TEST(StudioAnswer, PlansADay) {
  Api api;
  const std::string demo = to_text(api.demo().id);
  const Heard day = api.get("/api/studio", {{"hours", "9"}, {"fixed", demo}});
  ASSERT_EQ(day.status, 200) << day.body;
  ASSERT_EQ(day.json["day"]["stops"].size(), 1U);
  EXPECT_EQ(day.json["day"]["stops"][0]["why"], "fixed");
  EXPECT_EQ(day.json["day"]["minutes_there_are"], 540);
  EXPECT_EQ(api.get("/api/studio", {{"hours", "soon"}}).status, 400);
  EXPECT_EQ(api.get("/api/studio", {{"fixed", demo}}).status, 400);
  EXPECT_EQ(api.get("/api/studio", {{"hours", "9"}, {"fixed", "hall"}}).status, 400);
  EXPECT_EQ(api.get("/api/studio", {{"hours", "0.2"}, {"fixed", demo}}).status, 422);
  EXPECT_EQ(api.get("/api/studio", {{"minutes", "9"}}).status, 400);
}

// The quick list makes no outlook; it says what the studio's list has left.
TEST(StudioAnswer, TheListOfPianosSaysWhatIsKept) {
  Api api;
  const Piano& demo = api.demo();
  EXPECT_TRUE(api.get("/api/pianos").json["pianos"][0]["due"].is_null());
  api.get("/api/studio");
  const json kept = api.get("/api/pianos").json["pianos"][0];
  EXPECT_TRUE(kept["due"]["state"].is_string());
  EXPECT_TRUE(kept["last_done"].is_string());
  ASSERT_TRUE(take_reading(api.desk, demo, {"let-off", "C4", "2.4", {}, {}}));
  EXPECT_TRUE(api.get("/api/pianos").json["pianos"][0]["due"].is_null());
}

TEST(StudioAnswer, GivesCalendars) {
  Api api;
  const Piano& demo = api.demo();
  const Piano empty = api.empty();
  const Heard all = api.get("/api/due.ics", {{"language", "de"}});
  ASSERT_EQ(all.status, 200) << all.body;
  EXPECT_EQ(all.body.rfind("BEGIN:VCALENDAR\r\n", 0), 0U);
  EXPECT_NE(all.body.find("Regulierung fällig"), std::string::npos);
  const Heard one = api.get(Api::at(demo, "/due.ics"));
  ASSERT_EQ(one.status, 200) << one.body;
  EXPECT_NE(one.body.find("next-visit-" + to_text(demo.id)), std::string::npos);
  EXPECT_EQ(api.get(Api::at(empty, "/due.ics")).status, 422);
  EXPECT_EQ(api.get("/api/due.ics", {{"language", "xx"}}).status, 400);
}

}  // namespace
}  // namespace batten::server
