// A hidden piano answers, and its gauge keeps saying that the hammer stands too high. However often
// the advice is followed, the true aftertouch must never fall below what the jack needs.
#include "tests/line/journal_page.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace batten {
namespace {

using namespace line_test;

double between(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 1001) / 1000.0;
}

RC_GTEST_PROP(EscapementLoop, FollowingAdviceNeverTakesTheEscapementAway, ()) {
  // Laws of the hidden piano: any action and any capstan the tool says it reckons with.
  const double ratio = between(4.5, 6.8), crown_per_turn = between(7.5, 10.5);
  double aftertouch = between(0.3, 2.0);
  Page page = level_page();
  page.aftertouch("E4", 1.4);  // a generous neighbour, read first
  if (*rc::gen::arbitrary<bool>() || aftertouch < 0.8) page.aftertouch("C4", aftertouch);

  int lowered = 0;
  for (int round = 0; round < 12; ++round) {
    if (*rc::gen::inRange(0, 5) == 0) {  // somebody adds a paper under the key's front, and says so
      const double paper = between(0.02, 0.3);
      page.turned("C4", paper, Adjuster::front_punchings);
      aftertouch -= paper;
    }
    if (*rc::gen::inRange(0, 6) == 0) page.aftertouch("C4", std::max(0.0, aftertouch));
    if (*rc::gen::inRange(0, 8) == 0) page.new_visit().pass_gate();
    page.hammer("C4", 154 + between(0.2, 1.6));  // strings at 200, blow 46: the line is at 154
    const NoteLine n = at(page.line(), "C4");
    if (n.verdict != Verdict::move) continue;
    RC_ASSERT(n.turns < Turns());
    page.turned("C4", n.turns.in(turn));
    aftertouch += n.turns.in(turn)*crown_per_turn / ratio;
    ++lowered;
    RC_ASSERT(aftertouch >= 0.5 - 1e-9);
  }
  RC_CLASSIFY(lowered > 0, "lowered");
  RC_CLASSIFY(lowered > 2, "lowered more than twice");
}

}  // namespace
}  // namespace batten
