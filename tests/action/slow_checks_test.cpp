// The trade's checks (ids R and T; sources stand in each row) as assertions.
#include "slow_checks.hpp"

#include <gtest/gtest.h>

namespace batten::action::checks {
namespace {

// Rows that the model misses; docs/theory/action.md says why. A row that comes to hold is taken
// out.
bool known_to_miss(const Check& c) {
  return c.id == "T7" && c.what.find("let-off bump") != std::string::npos;
}

TEST(Trade, ChecksHold) {
  for (const Check& c : slow_checks())
    EXPECT_EQ(c.holds, !known_to_miss(c)) << c.id << ' ' << c.what << "\n  expected " << c.expected
                                          << " (" << c.source << ")\n  obtained " << c.obtained;
}

}  // namespace
}  // namespace batten::action::checks
