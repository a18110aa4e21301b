// Complaints about notes whose fault is known: other pianos than the one the table is of, other
// notes, frictions, felts and players, hands that leave something, gauges that err. Shared by the
// tests and by the program that writes docs/theory/complaint-figures.md.
#pragma once

#include "core/regulation/complaint/complaint.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

namespace batten::trial {

// What is wrong with the note.
enum class Kind : std::uint8_t {
  single,    // one cause of the list, drawn by its weight
  two,       // two causes of the list
  unlisted,  // one that is not in the list
  none,      // nothing: somebody complains all the same
};

struct Plan {
  int cases = 200;  // with at least one complaint
  std::uint64_t first_seed = 500'000;
  Kind kind = Kind::single;
  std::vector<int> keys{16, 40, 64};
  int readings = 3;         // the most taken, each the first that the diagnosis suggests
  double sure = 0.95;       // no further reading once the leader is as likely as this
  bool one_figure = false;  // a reading is one figure, not all that come of one handling
  double geometry_piano = 0.03, geometry_note = 0.007;  // shares, uniform either way
};

// What stood after a number of readings.
struct Step {
  int rank = 0;  // of the true cause, 1 first; of two the better one; 0: none of the list is true
  Cause leader = Cause::no_fault;
  double probability = 0;  // the leader's
  double truth = 0;        // the true causes'
  bool known = false;
  double entropy = 0;           // bits
  std::vector<Look> next;       // taken next
  double expected_entropy = 0;  // after it
};

struct Case {
  std::vector<Cause> truth;  // none for unlisted faults and for none at all
  int unlisted = -1;         // which
  double size = 0;           // share of sizes below the first cause's
  std::vector<Complaint> felt;
  std::vector<Step> steps;  // readings taken: 0, 1, …
};

// Faults that are not in the list.
inline constexpr int unlisted_count = 8;
const char* unlisted_name(int which);

std::vector<Case> try_cases(const Plan& plan);

// A share and its standard error; 0 of n or n of n: 1/n stands for the error.
struct Share {
  double mean = 0, error = 0;
  int of = 0;
};
template <class Cases, class Test>
Share share_of(const Cases& cases, Test test);
Share share(int yes, int of);

template <class Cases, class Test>
Share share_of(const Cases& cases, Test test) {
  int yes = 0;
  for (const auto& c : cases) yes += test(c) ? 1 : 0;
  return share(yes, static_cast<int>(cases.size()));
}

}  // namespace batten::trial
