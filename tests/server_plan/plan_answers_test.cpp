// Plan, time curve and reasons of the demo piano as the server says them.
#include "app/plan_job.hpp"
#include "tests/server_api/api_fixture.hpp"

#include <cmath>
#include <set>

namespace batten::server {
namespace {

using Json = nlohmann::json;

// The demo is built once: its plan is asked for all along.
class PlanAnswers : public ::testing::Test {
 protected:
  static void SetUpTestSuite() { api_ = std::make_unique<Api>(); }
  static void TearDownTestSuite() { api_.reset(); }
  static Heard get(const std::string& rest, const std::map<std::string, std::string>& query = {}) {
    return api_->get(Api::at(api_->demo(), rest), query);
  }
  static std::unique_ptr<Api> api_;
};
std::unique_ptr<Api> PlanAnswers::api_;

// Codes are the catalogue's, so that a front end can say everything in words of its own.
TEST_F(PlanAnswers, StepsCarryCodesAndNumbersOnly) {
  const Heard said = get("/plan");
  ASSERT_EQ(said.status, 200) << said.body;
  ASSERT_FALSE(said.json["passes"].empty());
  for (const Json& pass : said.json["passes"]) {
    const auto adjuster = adjuster_by_code(pass["adjuster"].get<std::string>());
    ASSERT_TRUE(adjuster);
    EXPECT_EQ(pass["strain"], kind_of(*adjuster).strain);
    EXPECT_EQ(pass["cautions"].size(), kind_of(*adjuster).cautions.size());
    EXPECT_EQ(pass["thread"].is_null(), kind_of(*adjuster).unit != MoveUnit::turns);
    for (const Json& step : pass["steps"]) {
      EXPECT_FALSE(step.contains("words"));
      EXPECT_EQ(step["adjuster"], pass["adjuster"]);
      if (step["kind"] != "turn") continue;
      // A whole number of the least steps a hand can make.
      const double count = step["amount"].get<double>() / pass["least_step"].get<double>();
      EXPECT_NEAR(count, std::round(count), 1e-6) << step.dump();
      EXPECT_NE(count, 0);
    }
  }
}

TEST_F(PlanAnswers, IsThePlanOfTheCommandLine) {
  const Heard said = get("/plan");
  const auto plan = plan_work(api_->desk, api_->demo());
  ASSERT_TRUE(plan);
  EXPECT_NEAR(said.json["minutes"].get<double>(), plan->plan.minutes, 1e-9);
  ASSERT_EQ(said.json["passes"].size(), plan->plan.passes.size());
  std::size_t steps = 0;
  for (const Pass& pass : plan->plan.passes) steps += pass.steps.size();
  std::size_t told = 0;
  for (const Json& pass : said.json["passes"]) told += pass["steps"].size();
  EXPECT_EQ(told, steps);
  RecordProperty("plan_bytes", static_cast<int>(said.body.size()));
  // About half a kilobyte a step.
  EXPECT_LT(said.body.size(), 600 * steps);
}

TEST_F(PlanAnswers, MinutesCutIt) {
  const Heard whole = get("/plan"), hour = get("/plan", {{"minutes", "60"}});
  ASSERT_EQ(hour.status, 200);
  EXPECT_LE(hour.json["minutes"].get<double>(), 60 + 1e-6);
  EXPECT_EQ(hour.json["minutes_there_are"], 60);
  EXPECT_FALSE(hour.json["left_for_time"].empty());
  EXPECT_GT(hour.json["unevenness_after"], whole.json["unevenness_after"]);
}

TEST_F(PlanAnswers, TheCurveFallsFromNothingDoneToAllDone) {
  const Heard said = get("/time"), whole = get("/plan");
  ASSERT_EQ(said.status, 200) << said.body;
  const Json& points = said.json["points"];
  ASSERT_GE(points.size(), 20U);
  ASSERT_LE(points.size(), 40U);
  // Both to four decimals.
  EXPECT_NEAR(points.front()["unevenness"], whole.json["unevenness"], 1e-4);
  EXPECT_NEAR(points.back()["unevenness"], whole.json["unevenness_after"], 1e-4);
  EXPECT_EQ(points.back()["passes"].size(), whole.json["passes"].size());
  for (std::size_t i = 1; i < points.size(); ++i)
    EXPECT_GT(points[i]["minutes"], points[i - 1]["minutes"]);
}

TEST_F(PlanAnswers, WhyHasFactsBesideItsSentences) {
  const Heard plan = get("/plan");
  const Json* turn = nullptr;
  for (const Json& pass : plan.json["passes"])
    for (const Json& step : pass["steps"])
      if (turn == nullptr && step["kind"] == "turn") turn = &step;
  ASSERT_NE(turn, nullptr);
  const Heard said = get("/why", {{"note", (*turn)["note"]}, {"adjuster", (*turn)["adjuster"]}});
  ASSERT_EQ(said.status, 200) << said.body;
  std::set<std::string> codes;
  for (const Json& one : said.json["because"]) {
    codes.insert(one["code"].get<std::string>());
    EXPECT_FALSE(one["heading"].get<std::string>().empty());
    EXPECT_FALSE(one["text"].get<std::string>().empty());
    if (one["code"] == "off") {
      EXPECT_NEAR(one["value"], (*turn)["before"], 1e-4);
    }
  }
  for (const char* code : {"off", "purpose", "turn-does", "also-moves", "order", "afterwards"})
    EXPECT_TRUE(codes.contains(code)) << code;
}

TEST_F(PlanAnswers, BadQuestionsAreRefusedWithWhatToDo) {
  const std::vector<std::pair<std::string, std::map<std::string, std::string>>> asked{
      {"/plan", {{"minutes", "-3"}}},
      {"/plan", {{"minutes", "later"}}},
      {"/plan", {{"days", "2"}}},
      {"/time", {{"minutes", "3"}}},
      {"/why", {{"note", "H9"}}},
      {"/why", {}},
      {"/why", {{"note", "C4"}, {"adjuster", "shift-stop"}}},
  };
  for (const auto& [rest, query] : asked) {
    const Heard said = get(rest, query);
    EXPECT_EQ(said.status, 422) << rest;
    EXPECT_FALSE(said.json["problem"]["happened"].get<std::string>().empty()) << rest;
    EXPECT_FALSE(said.json["problem"]["todo"].get<std::string>().empty()) << rest;
  }
}

}  // namespace
}  // namespace batten::server
