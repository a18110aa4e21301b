// Which passes to open: a Lagrange relaxation over every set of them. Internal to
// core/regulation/planning.
#pragma once

#include "core/regulation/planning/time_box_model.hpp"

#include <vector>

namespace batten::time_box {

// Time and memory double with each.
inline constexpr std::size_t most_passes = 16;

// One set with the least cost + price × minutes that any choice with it has.
struct Priced {
  Passes passes = 0;
  double value = 0;
};

// One price of a minute, and what it says of every set.
struct Pricing {
  double price = 0;
  std::vector<double> value;  // per set; infinite where a note leads a pass it has no work in
  Passes best = 0;
  double minutes = 0, cost = 0;  // of the best set's best choice
};

class Sets {
 public:
  explicit Sets(const Model& model);  // of at most most_passes passes
  Pricing price(double price);

  // The price at which the bound on `minutes` is highest (Kelley's cutting planes on the concave
  // dual, at most 16 prices).
  Pricing best_price(double minutes);
  // The prices that mark the curve from nothing to everything, at most `most`.
  std::vector<Pricing> sweep(std::size_t most);

 private:
  Pricing nothing() const;  // done
  const Model& model_;
  std::vector<double> set_up_;  // minutes, per set
  std::vector<double> note_;    // scratch, per set
};

// The `most` sets of least value among those below `limit`, rising.
std::vector<Priced> list_sets(const Pricing& pricing, double limit, std::size_t most);

}  // namespace batten::time_box
