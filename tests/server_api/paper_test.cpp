// Handover and bench sheets over HTTP: the pages as blocks, files, and what was typed back.
#include "app/bench_job.hpp"
#include "tests/server_api/api_fixture.hpp"

#include <fstream>
#include <map>
#include <set>
#include <sstream>

namespace batten::server {
namespace {

using Json = nlohmann::json;

std::set<std::string> members(const Json& object) {
  std::set<std::string> names;
  for (const auto& item : object.items()) names.insert(item.key());
  return names;
}

Json example_of(const std::string& name) {
  std::ifstream in(std::string(BATTEN_SOURCE_DIR) + "/data/api-examples/" + name + ".json");
  std::stringstream text;
  text << in.rdbuf();
  return Json::parse(text.str());
}
std::map<std::string, std::set<std::string>> page_members(const std::string& example) {
  const Json j = example_of(example);
  return {{"owner", members(j.at("owner"))}, {"file", members(j.at("file"))}};
}

// What each kind of block has, as data/api-examples shows it to who reads the pages.
std::map<std::string, std::set<std::string>> shapes(const std::string& example) {
  const Json j = example_of(example);
  std::map<std::string, std::set<std::string>> all;
  for (const char* page : {"owner", "file"})
    for (const Json& block : j.at(page).at("blocks"))
      all[block.at("kind").get<std::string>()] = members(block);
  return all;
}

void same_blocks(const Json& said, const std::string& example) {
  const auto known = shapes(example);
  const auto pages = page_members(example);
  for (const char* name : {"owner", "file"}) {
    const Json& page = said.at(name);
    EXPECT_EQ(members(page), pages.at(name));
    std::set<std::string> kinds;
    for (const Json& block : page.at("blocks")) {
      const auto kind = block.at("kind").get<std::string>();
      kinds.insert(kind);
      ASSERT_TRUE(known.contains(kind)) << kind;
      EXPECT_EQ(members(block), known.at(kind)) << kind;
      if (kind != "table" && kind != "figures") continue;
      for (const Json& row : block.at("rows"))
        EXPECT_EQ(row.at("cells").size(), block.at("columns").size()) << row.dump();
    }
    EXPECT_TRUE(kinds.contains("heading"));
    EXPECT_TRUE(kinds.contains(std::string(name) == "owner" ? "caution" : "table")) << name;
  }
}

TEST(Paper, PagesAreBlocksOfTheKindsShown) {
  Api api;
  const std::string at = Api::at(api.demo(), "/handover");
  const Heard english = api.get(at, {{"language", "en"}});
  ASSERT_EQ(english.status, 200) << english.body;
  same_blocks(english.json, "handover-page");
  const Heard german = api.get(at, {{"language", "de"}, {"inches", "1"}});
  ASSERT_EQ(german.status, 200) << german.body;
  same_blocks(german.json, "handover-page-de");
  EXPECT_NE(german.body.find("Was gefunden wurde"), std::string::npos);
  EXPECT_EQ(german.body.find("What was found"), std::string::npos);
  EXPECT_NE(api.get(at, {{"language", "fr"}}).status, 200);
  EXPECT_EQ(api.get(at, {{"inches", "2"}}).status, 422);
}

TEST(Paper, FilesAreFiles) {
  Api api;
  for (const char* path : {"/handover.pdf", "/sheet.pdf"}) {
    const Heard file =
        api.get(Api::at(api.demo(), path), {{"language", "de"}, {"paper", "letter"}});
    ASSERT_EQ(file.status, 200) << file.body.substr(0, 300);
    EXPECT_TRUE(file.body.starts_with("%PDF-")) << path;
  }
  EXPECT_EQ(api.get(Api::at(api.demo(), "/sheet.pdf"), {{"pass", "pedalling"}}).status, 400);
  EXPECT_EQ(api.get(Api::at(api.demo(), "/handover.pdf"), {{"part", "third"}}).status, 400);
}

TEST(Paper, WhatWasTypedBackIsWrittenAndTold) {
  Api api;
  const Piano& demo = api.demo();
  auto paper = bench_paper(api.desk, demo, {}, std::nullopt, false);
  ASSERT_TRUE(paper) << paper.error().sentence();
  const std::string code = paper->passes.front().code;
  const std::string path = Api::at(demo, "/back");
  const Heard bad = api.post(path, Json{{"code", code}, {"lines", {"1 - ", "x"}}}.dump());
  EXPECT_EQ(bad.status, 422);
  ASSERT_EQ(bad.json.at("lines").size(), 2U) << bad.body;
  EXPECT_EQ(members(bad.json.at("lines")[0]),
            (std::set<std::string>{"line", "text", "happened", "todo"}));
  EXPECT_TRUE(bad.json.at("problem").contains("happened"));
  const std::size_t told = api.told.size();
  const Heard good =
      api.post(path, Json{{"code", code}, {"lines", {"1 - the hall was needed"}}}.dump());
  ASSERT_EQ(good.status, 200) << good.body;
  EXPECT_EQ(good.json.at("written"), 1);
  EXPECT_EQ(members(good.json),
            (std::set<std::string>{"revision", "written", "already_there", "lines"}));
  EXPECT_EQ(members(good.json.at("lines")[0]), (std::set<std::string>{"line", "note", "words"}));
  EXPECT_GT(api.told.size(), told);
  EXPECT_EQ(api.post(path, R"({"code": "LO-1-A", "lines": "3"})").status, 400);
}

}  // namespace
}  // namespace batten::server
