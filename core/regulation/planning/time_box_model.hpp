// The time box, stripped to what matters to its solution. Internal to core/regulation/planning.
#pragma once

#include "core/regulation/planning/time_box.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace batten::time_box {

// Passes of the model are those that cost something to set up (what they need included) or that a
// note leads; they are numbered anew. The others are always open.
using Passes = std::uint32_t;

struct Option {
  Passes passes = 0;
  double minutes = 0, cost = 0;
  std::size_t bundle = 0;  // in the task
};

struct Model {
  // Rising minutes, then rising cost; none that another makes pointless.
  std::vector<std::vector<Option>> notes;
  std::vector<Passes> leads;  // per note
  std::size_t pass_count = 0;
  std::vector<double> price;  // of each pass set up, in the task's numbering
  std::vector<Passes> opens;  // per pass of the model: what must be set up, task's numbering
  Passes all() const { return static_cast<Passes>((std::uint64_t{1} << pass_count) - 1); }
  // Minutes to set up for work in these passes.
  double set_up(Passes passes) const;
  // May a note be treated so when just these passes are worked in?
  static bool allowed(const Option& option, Passes passes, Passes leads) {
    return (option.passes & ~passes) == 0 && ((option.passes ^ passes) & leads) == 0;
  }
};

// The place of what stands for "nothing done": no passes, no minutes. There is always one.
std::size_t idle(const std::vector<Option>& options);

Model make_model(const TimeBoxTask& task);
// As it is given back: `options` are places in model.notes, one per note.
TimeBoxChoice as_choice(const TimeBoxTask& task, const Model& model,
                        const std::vector<std::size_t>& options);

// The passes fixed, what remains is a knapsack with one choice per note. This is its relaxation:
// each note's lower convex hull of cost over minutes, and the steps along all of them, the steepest
// first.
struct Step {
  double minutes = 0, gain = 0;  // > 0 both
  double steepness = 0;          // gain a minute
  std::uint32_t note = 0;
  std::uint32_t to = 0;  // place in model.notes[note]
};
struct Frontier {
  Passes passes = 0;
  bool possible = false;            // false: a note leads a pass it has no work in
  double minutes = 0, cost = 0;     // at its foot: setting up, and every note's quickest option
  std::vector<std::uint32_t> foot;  // per note
  std::vector<Step> steps;
};
Frontier calc_frontier(const Model& model, Passes passes);

struct Filling {
  bool fits = false;
  double cost = 0, minutes = 0;
  double bound = 0;  // of any choice with these passes
  double price = 0;  // cost a minute is worth where the time runs out (Lagrange multiplier)
};
// Goes up the steps as far as the minutes reach; steps that no longer fit are left out, later ones
// that do are taken.
Filling fill(const Frontier& frontier, double minutes);
// The same, with the options it chose.
std::vector<std::size_t> fill_options(const Frontier& frontier, double minutes);

// Searches around the relaxation: options whose reduced cost exceeds what the best known choice
// leaves open (`below`) cannot be in a better one; over what is left, all undominated combinations,
// at most `most_states` at a time.
struct Improved {
  bool found = false;   // one better than `below`
  bool proven = false;  // nothing (else) below was cut off
  double cost = 0;
  std::vector<std::size_t> options;
};
Improved improve(const Model& model, const Frontier& frontier, double minutes, double below,
                 std::size_t most_states);

}  // namespace batten::time_box
