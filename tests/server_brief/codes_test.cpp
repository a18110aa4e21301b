// The codes that the front end has words for, as it reads them: data/api-examples/codes.json.
// Written anew with BATTEN_WRITE_EXAMPLES=1.
#include "core/action/words.hpp"
#include "core/regulation/brief/brief.hpp"
#include "core/regulation/brief/words.hpp"
#include "core/regulation/complaint/complaint.hpp"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <cstdlib>
#include <fstream>
#include <sstream>

namespace batten {
namespace {

using Json = nlohmann::ordered_json;

Json codes() {
  Json j;
  for (const auto& k : complaint_kinds()) j["complaints"].push_back(k.code);
  for (const auto& k : look_kinds())
    j["looks"].push_back(
        {{"code", k.code}, {"reading", k.reading.has_value()}, {"can_be_none", !k.none.empty()}});
  for (const auto& k : taking_kinds()) j["takings"].push_back(k.code);
  for (const auto& k : cause_kinds())
    j["causes"].push_back({{"code", k.code}, {"has_remedy", !k.remedy.empty()}});
  for (const auto& k : need_kinds()) j["needs"].push_back(k.code);
  for (const auto& k : want_kinds()) j["wants"].push_back(k.code);
  for (const Way way : {Way::dip, Way::blow, Way::let_off, Way::drop, Way::least})
    j["ways"].push_back(code_of(way));
  using action::Fault;
  for (const Fault f : {Fault::blocked, Fault::lever_carried, Fault::no_escapement,
                        Fault::jack_trapped, Fault::touches_check, Fault::not_found})
    j["faults"].push_back(action::words_of(f).code);
  return j;
}

TEST(Codes, TheCommittedListIsTheCoresOwn) {
  const std::string file = std::string(BATTEN_SOURCE_DIR) + "/data/api-examples/codes.json";
  const std::string now = codes().dump(2) + "\n";
  if (std::getenv("BATTEN_WRITE_EXAMPLES") != nullptr) std::ofstream(file) << now;
  std::ifstream in(file);
  std::stringstream there;
  there << in.rdbuf();
  EXPECT_EQ(there.str(), now);
}

}  // namespace
}  // namespace batten
