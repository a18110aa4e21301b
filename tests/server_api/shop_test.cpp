// The workshop, bundles and backups over HTTP.
#include "exchange/bundle.hpp"
#include "tests/server_api/api_fixture.hpp"

#include <filesystem>
#include <fstream>
#include <gmock/gmock.h>

namespace batten::server {
namespace {

using nlohmann::json;
using testing::HasSubstr;

// 1 × 1 pixel: signature, IHDR (PNG, W3C, 11.2.2); the rest is not looked at.
const std::string small_png("\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\0\1\0\0\0\1\x08\0\0\0\0", 29);

json setting(const json& shop, const std::string& name) {
  for (const json& one : shop["settings"])
    if (one["name"] == name) return one;
  return {};
}

// Members, through objects and the first of each list; null fits everything.
void same_members(const json& said, const json& example, const std::string& where) {
  if (said.is_null() || example.is_null()) return;
  ASSERT_STREQ(said.type_name(), example.type_name()) << where;
  if (said.is_array() && !said.empty() && !example.empty())
    return same_members(said[0], example[0], where + "[]");
  if (!said.is_object()) return;
  for (const auto& [name, value] : said.items()) {
    ASSERT_TRUE(example.contains(name)) << where << "." << name;
    same_members(value, example[name], where + "." + name);
  }
  EXPECT_EQ(said.size(), example.size()) << where;
}

void expect_like_example(const std::string& name, const Heard& heard) {
  ASSERT_EQ(heard.status, 200) << heard.body;
  std::ifstream in(std::filesystem::path(BATTEN_SOURCE_DIR) / "data/api-examples" /
                   (name + ".json"));
  same_members(heard.json, json::parse(in), name);
}

TEST(Shop, AnswersAreLikeTheirExamples) {
  Api api;
  const Piano piano = api.empty();
  ASSERT_EQ(api.ask(Method::put, "/api/shop/logo", small_png).status, 200);
  expect_like_example("backups", api.post("/api/backups", "{}"));
  expect_like_example("shop", api.get("/api/shop"));
  expect_like_example("bundle-taken",
                      api.post("/api/bundles", api.get(Api::at(piano, "/bundle.json")).body));
}

TEST(Shop, IsChosenAndToldWhole) {
  Api api;
  EXPECT_EQ(setting(api.get("/api/shop").json, "paper")["value"], nullptr);
  const Heard chosen = api.post("/api/shop", R"({"name":"paper","value":"Letter"})");
  ASSERT_EQ(chosen.status, 200) << chosen.body;
  EXPECT_EQ(setting(chosen.json, "paper")["value"], "letter");
  EXPECT_EQ(setting(api.get("/api/shop").json, "paper")["value"], "letter");
  EXPECT_EQ(setting(api.post("/api/shop", R"({"name":"paper","value":""})").json, "paper")["value"],
            nullptr);
  EXPECT_EQ(api.post("/api/shop", R"({"name":"paper","value":"a5"})").status, 422);
  EXPECT_EQ(api.post("/api/shop", R"({"name":"colour","value":"red"})").status, 422);
  EXPECT_EQ(api.post("/api/shop", R"({"name":"paper","value":7})").status, 400);
  EXPECT_EQ(api.get("/api/shop", {{"x", "1"}}).status, 400);
}

TEST(Shop, ADeviceDoesNotChooseWhereFilesAreWritten) {
  Api api;
  const std::string body = R"({"name":"backup-folder","value":"/tmp/batten-nowhere"})";
  EXPECT_EQ(api.post("/api/shop", body, "Tablet").status, 403);
  EXPECT_EQ(setting(api.get("/api/shop").json, "backup-folder")["value"], nullptr);
  EXPECT_EQ(api.post("/api/shop", body).status, 200);
  EXPECT_EQ(api.post("/api/shop", R"({"name":"paper","value":"a4"})", "Tablet").status, 200);
}

TEST(Shop, ChangesThePagesThatWereMadeBefore) {
  Api api;
  const std::string page = Api::at(api.demo(), "/handover");
  const Heard english = api.get(page);
  ASSERT_EQ(english.status, 200) << english.body;
  ASSERT_EQ(api.post("/api/shop", R"({"name":"language","value":"de"})").status, 200);
  EXPECT_NE(api.get(page).body, english.body);
  ASSERT_EQ(api.post("/api/shop", R"({"name":"language","value":""})").status, 200);
  EXPECT_EQ(api.get(page).body, english.body);
}

TEST(Logo, IsKeptToTheByteAndOnlyAPicture) {
  Api api;
  EXPECT_EQ(api.get("/api/shop/logo").status, 404);
  const Heard kept = api.ask(Method::put, "/api/shop/logo", small_png);
  ASSERT_EQ(kept.status, 200) << kept.body;
  EXPECT_EQ(kept.json["logo"]["media_type"], "image/png");
  EXPECT_EQ(api.get("/api/shop/logo", {{"turn", "1"}}).body, small_png);
  EXPECT_EQ(api.ask(Method::put, "/api/shop/logo", "<svg/>").status, 422);
  EXPECT_EQ(api.get("/api/shop/logo").body, small_png);
  EXPECT_EQ(api.ask(Method::remove, "/api/shop/logo").json["logo"], nullptr);
  EXPECT_EQ(api.get("/api/shop/logo").status, 404);
}

TEST(Bundles, GoFromOneServerToAnother) {
  Api here, there;
  const Piano piano = here.empty();
  const Heard file = here.get(Api::at(piano, "/bundle.json"));
  ASSERT_EQ(file.status, 200);
  ASSERT_TRUE(read_bundle(file.body));
  const Heard taken = there.post("/api/bundles", file.body);
  ASSERT_EQ(taken.status, 200) << taken.body;
  EXPECT_EQ(taken.json["piano"]["name"], "Studio grand");
  EXPECT_EQ(taken.json["piano_added"], true);
  EXPECT_EQ(taken.json["revision"], 1);
  // Every device hears of it: a piano more, and what is new at it.
  ASSERT_EQ(there.told.size(), 2U);
  EXPECT_EQ(there.told[0].name, "pianos");
  EXPECT_EQ(there.told[1].piano, to_text(piano.id));
  EXPECT_EQ(there.get(Api::at(piano, "/bundle.json")).body, file.body);
  const Heard again = there.post("/api/bundles", file.body);
  EXPECT_EQ(again.json["entries_already_there"], 1);
  EXPECT_EQ(there.told.size(), 2U);
  EXPECT_EQ(there.post("/api/bundles", file.body.substr(0, 300)).status, 422);
  EXPECT_EQ(there.post("/api/bundles", "{}").status, 422);
}

TEST(Bundles, TakeTheNameAskedFor) {
  Api here, there;
  const Piano piano = here.empty();
  const std::string file = here.get(Api::at(piano, "/bundle.json")).body;
  Piano other = samples::piano();
  other.name = "Studio grand";
  ASSERT_TRUE(there.desk.store.add_piano(other));
  EXPECT_EQ(there.ask(Method::post, "/api/bundles", file, {{"as", "STUDIO grand"}}).status, 422);
  const Heard taken = there.ask(Method::post, "/api/bundles", file, {{"as", "Aula"}});
  EXPECT_EQ(taken.json["piano"]["name"], "Aula");
  EXPECT_EQ(taken.json["called"], "Studio grand");
}

// As entries sent by a device do not either.
TEST(Bundles, OfADeviceTryOutNoNamesOfFiles) {
  Api here, there;
  const Piano piano = here.empty();
  auto whole = here.desk.store.whole(piano.id).value();
  Entry profile = whole.entries.front().entry;
  profile.id = samples::identity(77, 2);
  const auto bundle_with = [&](const std::string& value) {
    profile.content = SettingChosen{"action-profile", value};
    auto more = whole;
    more.entries.push_back({profile, more.entries.back().stamp + 1});
    return write_bundle(more);
  };
  EXPECT_EQ(there.post("/api/bundles", bundle_with("/etc/passwd"), "Tablet").status, 422);
  EXPECT_TRUE(there.desk.store.pianos().empty());
  EXPECT_EQ(there.post("/api/bundles", bundle_with("medium"), "Tablet").status, 200);
  EXPECT_EQ(here.post("/api/bundles", bundle_with("/home/ada/own.json")).status, 200);
  // Known here: no news.
  EXPECT_EQ(here.post("/api/bundles", bundle_with("/home/ada/own.json"), "Tablet").status, 200);
}

TEST(Backups, AreMadeAndListed) {
  Api api;
  api.empty();
  EXPECT_EQ(api.get("/api/backups").json["backups"].size(), 0U);
  EXPECT_EQ(api.get("/api/shop").json["backup"]["last_at"], nullptr);
  const Heard made = api.post("/api/backups", "{}");
  ASSERT_EQ(made.status, 200) << made.body;
  ASSERT_EQ(made.json["backups"].size(), 1U);
  EXPECT_TRUE(std::filesystem::exists(std::filesystem::path(made.json["folder"]) /
                                      std::string(made.json["backups"][0]["file"])));
  EXPECT_THAT(std::string(api.get("/api/shop").json["backup"]["last_at"]),
              HasSubstr("2026-11-26T10:00"));
  ASSERT_EQ(api.post("/api/shop", R"({"name":"backup-folder","value":"none"})").status, 200);
  EXPECT_EQ(api.get("/api/shop").json["backup"], nullptr);
}

// Places in the journal are by arrival, the order is that of reading: what a file brings from an
// earlier day is asked for as new, and stands where it belongs.
TEST(Bundles, BringEntriesThatAreNewThoughTheyAreOld) {
  Api here, there;
  const Piano piano = here.empty();
  auto whole = here.desk.store.whole(piano.id).value();
  ASSERT_TRUE(there.desk.store.merge(whole));
  Entry old = whole.entries.front().entry;
  old.id = samples::identity(77, 1);
  old.at_ms = 1'700'000'000'000;
  old.content = Remark{{}, "from last year"};
  whole.entries.insert(whole.entries.begin(), {old, old.at_ms});
  ASSERT_EQ(there.post("/api/bundles", write_bundle(whole)).status, 200);
  const json rest = there.get(Api::at(piano, "/journal"), {{"since", "1"}}).json;
  ASSERT_EQ(rest["entries"].size(), 1U);
  EXPECT_EQ(rest["entries"][0]["text"], "from last year");
  EXPECT_EQ(rest["entries"][0]["place"], 2);
  const json all = there.get(Api::at(piano, "/journal")).json;
  EXPECT_EQ(all["entries"][0]["text"], "from last year");
  EXPECT_EQ(all["revision"], 2);
}

}  // namespace
}  // namespace batten::server
