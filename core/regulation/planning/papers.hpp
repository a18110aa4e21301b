// Which papers to add or take out so that a stack of punchings changes by an amount.
#pragma once

#include "core/outcome/outcome.hpp"

#include <optional>
#include <string>
#include <vector>

namespace batten {

// Lengths are millimetres and are taken to the nearest micrometre.
struct PaperTask {
  double amount = 0;           // + the stack is to grow, − to shrink; at most 20 either way
  std::vector<double> papers;  // thicknesses to hand, any order, each 0.005 to 20
  // Papers that lie in the stack now, at most 14 (cloth not counted); nothing: unknown.
  std::optional<std::vector<double>> lying = {};
  // How far off the change may be; nothing: half the finest paper.
  std::optional<double> within = {};
};

struct PaperChange {
  std::vector<double> add, take;  // mm, thickest first
  double change = 0;              // sum of add − sum of take
  double off = 0;                 // change − amount asked for
  bool operator==(const PaperChange&) const = default;
};

struct PaperAdvice {
  // The change that handles the fewest papers (added and taken); of those the closest to the
  // amount, then the one that leaves fewer papers in the stack, then the thinner stack, then the
  // one with thicker papers. Empty where the amount is within the tolerance of nothing.
  PaperChange best;
  // Equally few, close and many left: at most three, for when a thickness has run out.
  std::vector<PaperChange> others;
  // With what lies there unknown and an amount below zero `best` takes papers that may not be
  // there; these change one paper for another instead: take one, add one, closest first, at most
  // three.
  std::vector<PaperChange> swaps;
  bool stack_known = false;
};

// Exact over all combinations, each thickness as often as wanted. With the stack known, papers that
// lie there may be taken for others whatever the sign of the amount. Errors: no papers to hand; a
// thickness, amount or tolerance that is not finite or out of range; nothing within the tolerance
// (never with the usual one where the amount is not below zero or the stack is unknown), with the
// nearest that can be had named.
Result<PaperAdvice> choose_papers(const PaperTask& task);

// "add 0.25 + 0.08 mm", "take out 0.13 mm and add 0.08 mm", "leave the papers as they are".
std::string print_papers(const PaperChange& change);
// The best in words; for an unknown stack that shrinks also what to change one paper for.
std::string print_papers(const PaperAdvice& advice);

}  // namespace batten
