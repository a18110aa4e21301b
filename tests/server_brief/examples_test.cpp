// Examples that the front end's tests read: data/api-examples/{brief,complaint}.json. Their members
// are held to what is said now; written anew with BATTEN_WRITE_EXAMPLES=1.
#include "app/entries.hpp"
#include "app/readings.hpp"
#include "tests/server_brief/asking.hpp"

#include <cctype>
#include <cstdlib>
#include <fstream>
#include <set>

namespace batten::server {
namespace {

using Json = nlohmann::ordered_json;

// Where each leaf is, without the places in lists; what may be null or empty is left out.
std::set<std::string> members(const Json& j) {
  std::set<std::string> out;
  const Json flat = j.flatten();
  for (const auto& item : flat.items()) {
    if (item.value().is_null() || item.value().is_structured()) continue;
    std::string name;
    for (const char c : item.key())
      if (std::isdigit(static_cast<unsigned char>(c)) == 0) name += c;
    out.insert(name);
  }
  return out;
}

class BriefExamples : public AskingTest {
 protected:
  static void hold(const std::string& name, const Response& r) {
    ASSERT_EQ(r.status, 200) << *r.body;
    const Json now = Json::parse(*r.body);
    const std::string file =
        std::string(BATTEN_SOURCE_DIR) + "/data/api-examples/" + name + ".json";
    if (std::getenv("BATTEN_WRITE_EXAMPLES") != nullptr) std::ofstream(file) << now.dump(1) << "\n";
    std::ifstream in(file);
    ASSERT_TRUE(in) << "no example " << name;
    EXPECT_EQ(members(Json::parse(in)), members(now)) << name;
  }
};

TEST_F(BriefExamples, HaveTheMembersOfWhatIsSaid) {
  ASSERT_TRUE(choose_setting(desk_, piano_, "dip-target", "9.5"));
  ASSERT_TRUE(choose_setting(desk_, piano_, "blow-target", "47"));
  hold("brief", get_brief(with_, request()));
  ASSERT_TRUE(take_reading(desk_, piano_, {"drop", "C4", "0.9", "", ""}));
  ASSERT_TRUE(take_reading(desk_, piano_, {"dip", "C4", "9.95", "", ""}));
  hold("complaint",
       post_complaint(with_, request({}, R"({"note":"C4","felt":["double-strikes","weak"],)"
                                         R"("looks":[{"look":"key-freedom","value":0}]})")));
}

}  // namespace
}  // namespace batten::server
