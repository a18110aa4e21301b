// data/api-examples: what the server says of the demo piano. Their shape – members and kinds of
// value – is compared, not their numbers. BATTEN_WRITE_EXAMPLES=1 writes them anew.
#include "tests/server_api/api_fixture.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <sstream>

namespace batten::server {
namespace {

using Json = nlohmann::ordered_json;

// "object{a,b}", … down to the leaves; null fits everything, and in a list one shape for all.
void same_shape(const Json& here, const Json& there, const std::string& where) {
  if (here.is_null() || there.is_null()) return;
  const auto kind = [](const Json& j) { return j.is_number() ? "number" : j.type_name(); };
  ASSERT_STREQ(kind(here), kind(there)) << where;
  if (here.is_object()) {
    for (const auto& item : here.items())
      EXPECT_TRUE(there.contains(item.key())) << where << "." << item.key() << " is new";
    for (const auto& item : there.items()) {
      ASSERT_TRUE(here.contains(item.key())) << where << "." << item.key() << " is gone";
      same_shape(here.at(item.key()), item.value(), where + "." + item.key());
    }
  } else if (here.is_array()) {
    for (std::size_t i = 0; i < std::min(here.size(), there.size()); ++i)
      same_shape(here[i], there[i], where + "[" + std::to_string(i) + "]");
  }
}

std::filesystem::path file_of(const std::string& name) {
  return std::filesystem::path(BATTEN_SOURCE_DIR) / "data/api-examples" / (name + ".json");
}

// Lists of plain values on one line, everything else a line each.
std::string readable(const Json& j, const std::string& indent = {}) {
  const bool plain = std::ranges::none_of(j, [](const Json& e) { return e.is_structured(); });
  if (!j.is_structured() || j.empty() || (j.is_array() && plain)) return j.dump();
  std::string text = j.is_array() ? "[" : "{";
  for (const auto& item : j.items()) {
    text += (text.size() > 1 ? ",\n " : "\n ") + indent;
    if (j.is_object()) text += Json(item.key()).dump() + ": ";
    text += readable(item.value(), indent + " ");
  }
  return text + "\n" + indent + (j.is_array() ? "]" : "}");
}

// The first of long lists of objects tell what the others are like.
Json shortened(Json j, std::size_t most) {
  if (!j.is_structured()) return j;
  if (j.is_array() && !j.empty() && j.front().is_object() && j.size() > most)
    j.erase(j.begin() + static_cast<std::ptrdiff_t>(most), j.end());
  for (auto& e : j) e = shortened(std::move(e), most);
  return j;
}

void compare(const std::string& name, const Heard& heard, int status = 200,
             std::size_t most = 1000) {
  ASSERT_EQ(heard.status, status) << name << ": " << heard.body;
  const Json said = Json::parse(heard.body);
  if (std::getenv("BATTEN_WRITE_EXAMPLES") != nullptr) {
    std::ofstream(file_of(name)) << readable(shortened(said, most)) << "\n";
    return;
  }
  std::ifstream in(file_of(name));
  ASSERT_TRUE(in) << "no example " << name;
  std::stringstream text;
  text << in.rdbuf();
  same_shape(said, Json::parse(text.str()), name);
}

TEST(Examples, AreWhatTheServerSays) {
  Api api;
  const Piano& demo = api.demo();
  compare("catalogue", api.get("/api/catalogue"));
  api.get("/api/studio");  // from now on the list says when each is due
  compare("pianos", api.get("/api/pianos"));
  compare("piano", api.get(Api::at(demo)));
  compare("journal", api.get(Api::at(demo, "/journal"), {{"since", "300"}}), 200, 12);
  compare("strip", api.get(Api::at(demo, "/strip")));
  compare("line", api.get(Api::at(demo, "/line")), 200, 12);
  compare("read-next", api.get(Api::at(demo, "/read-next")));
  if (const Heard plan = api.get(Api::at(demo, "/plan")); plan.status != 501)
    compare("plan", plan, 200, 12);
}

TEST(Examples, OfDriftAreWhatTheServerSays) {
  Api api;
  const Piano& demo = api.demo();
  compare("drift", api.get(Api::at(demo, "/drift")), 200, 3);
  compare("first-checks", api.get(Api::at(demo, "/first-checks"), {{"after", "dry"}}), 200, 3);
  EXPECT_EQ(api.get(Api::at(demo, "/drift"), {{"limit", "0"}}).status, 400);
  EXPECT_EQ(api.get(Api::at(demo, "/drift"), {{"months", "99"}}).status, 400);
  EXPECT_EQ(api.get(Api::at(demo, "/first-checks"), {{"after", "flood"}}).status, 400);
}

TEST(Examples, OfVisitsAndGaugesAreWhatTheServerSays) {
  Api api;
  const Piano& demo = api.demo();
  compare("visits", api.get(Api::at(demo, "/visits")));
  compare("visits-compare", api.get(Api::at(demo, "/visits/compare")), 200, 6);
  compare("templates", api.get(Api::at(demo, "/templates")));
}

TEST(Examples, OfTheStudioAreWhatTheServerSays) {
  Api api;
  const std::string demo = to_text(api.demo().id);
  api.empty();
  compare("studio", api.get("/api/studio", {{"hours", "8"}, {"fixed", demo}}));
}

TEST(Examples, OfANoteAreWhatTheServerSays) {
  Api api;
  const std::string note = Api::at(api.demo(), "/notes/C4");
  compare("note", api.get(note));
  compare("what-if", api.post(note + "/what-if", R"({"moves": {"capstan": 0.15}, "frames": 6})"));
  compare("strokes", api.post(note + "/strokes", R"({"moves": {"capstan": 0.15}})"));
}

// One of each kind, sent and said again; what is refused, and what is there with other content.
TEST(Examples, OfWritingAreWhatTheServerSays) {
  Api api;
  const Piano& demo = api.demo();
  std::ifstream in(file_of("entries-sent"));
  ASSERT_TRUE(in);
  std::stringstream text;
  text << in.rdbuf();
  const std::string sent = text.str();
  compare("entries", api.post(Api::at(demo, "/entries"), sent));
  std::string other = sent;
  other.replace(other.find("45.2"), 4, "45.3");
  compare("conflict", api.post(Api::at(demo, "/entries"), other), 409);
  compare("refused", api.post(Api::at(demo, "/entries"), "{\"entries\": []}"), 400);
  compare("visit", api.post(Api::at(demo, "/visits"),
                            R"({"id": "00000000-0000-4000-8000-00000000000f", "title": "May"})"));
  compare("piano-added", api.post("/api/pianos", R"({"name": "Studio grand", "place": "Room 4",
    "sections": "E2 bridge, A#4 strut, D6 strut"})"));
}

}  // namespace
}  // namespace batten::server
