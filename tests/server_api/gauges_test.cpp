// Gauges and visits over HTTP: files that say what they are, and refusals that help.
#include "tests/server_api/api_fixture.hpp"

#include <gmock/gmock.h>

namespace batten::server {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

// Media types: IANA registry, application/pdf (RFC 8118), image/svg+xml (W3C), image/vnd.dxf.
TEST(Gauges, FilesSayWhatTheyAre) {
  Api api;
  const Piano& demo = api.demo();
  const Heard pdf = api.get(Api::at(demo, "/template.pdf"), {{"paper", "letter"}});
  EXPECT_EQ(pdf.status, 200);
  EXPECT_THAT(pdf.body, StartsWith("%PDF-1."));
  const Heard svg = api.get(Api::at(demo, "/template.svg"), {{"gauge", "dip"}, {"language", "de"}});
  EXPECT_EQ(svg.status, 200);
  EXPECT_THAT(svg.body, HasSubstr("<title>Lehre für die Spieltiefe"));
  EXPECT_THAT(svg.body, ::testing::Not(HasSubstr("Steighöhe")));
  const Heard dxf = api.get(Api::at(demo, "/template.dxf"));
  EXPECT_EQ(dxf.status, 200);
  EXPECT_THAT(dxf.body, StartsWith("999\r\n"));
}

TEST(Gauges, RefusalsSayWhatThereIs) {
  Api api;
  const Piano& demo = api.demo();
  const Heard unknown = api.get(Api::at(demo, "/template.pdf"), {{"gauge", "strike"}});
  EXPECT_EQ(unknown.status, 422);
  EXPECT_THAT(unknown.body, HasSubstr("lever-height"));
  const Heard none = api.get(Api::at(demo, "/template.svg"), {{"gauge", "sharps-height"}});
  EXPECT_EQ(none.status, 422);
  EXPECT_THAT(none.body, HasSubstr("No target is set"));
  EXPECT_EQ(api.get(Api::at(demo, "/template.svg"), {{"paper", "a5"}}).status, 422);
  EXPECT_EQ(api.get(Api::at(demo, "/template.svg"), {{"minutes", "5"}}).status, 400);
}

TEST(Visits, AreNamedByNumberOrIdentity) {
  Api api;
  const Piano& demo = api.demo();
  const Heard list = api.get(Api::at(demo, "/visits"));
  ASSERT_EQ(list.status, 200);
  const auto visits = nlohmann::json::parse(list.body)["visits"];
  ASSERT_GE(visits.size(), 2U);
  const std::string first = visits[0]["id"], last = visits[visits.size() - 1]["id"];
  const std::string there = Api::at(demo, "/visits/compare");
  const Heard by_number = api.get(there, {{"from", "1"}, {"to", std::to_string(visits.size())}});
  ASSERT_EQ(by_number.status, 200) << by_number.body;
  // Turned round where they are given the wrong way.
  const Heard by_identity = api.get(there, {{"from", last}, {"to", first}});
  EXPECT_EQ(by_identity.body, by_number.body);
  EXPECT_EQ(api.get(there, {{"from", "1"}, {"to", "1"}}).status, 422);
  const Heard none = api.get(there, {{"from", "99"}});
  EXPECT_EQ(none.status, 422);
  EXPECT_THAT(none.body, HasSubstr("1 (the oldest) to " + std::to_string(visits.size())));
}

}  // namespace
}  // namespace batten::server
