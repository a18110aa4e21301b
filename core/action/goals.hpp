// What regulation aims at: which reading is brought about by which adjuster, and the solver that
// steps toward all of them.
#pragma once

#include "core/action/regulate.hpp"

#include <cstdint>
#include <span>
#include <string>

namespace batten::action::goals {

// One reading, its adjuster, and how far that can go (m; the catalogue knows no travel: estimates
// wide enough for any action in use).
struct Goal {
  const char* name = "";
  double Readings::*reading = nullptr;
  double Wanted::*wanted_member = nullptr;
  double Adjustments::*adjuster = nullptr;
  double least = 0, most = 0;
  double farthest = 0;  // m moved at once: where it trips the jack or carries the hammer, little
  double tolerance = 10e-6;
  double scale = 1;  // makes metres of the reading, so that all steps are alike
  const char* todo = "";
  int index = 0;

  double wanted(const Wanted& w) const { return w.*wanted_member; }
  // A note without damper has no damper start.
  bool asked(const Dimensions& d) const;
  // A difference as people read it.
  std::string text(double difference) const;
};

inline constexpr int count = 9;
// d check distance / d back check (computed with the default dimensions; only a start).
inline constexpr double catch_slope = -6.33;
// Slow readings are sought to this share of their tolerance's metres.
inline constexpr double near = 4e-6;

std::span<const Goal> all();
double value(const Goal& goal, const Readings& readings);
bool has_damper(const Dimensions& dimensions);

// Some of the goals, by the bits of their indices.
struct Set {
  unsigned bits = 0;
  bool has(const Goal& g) const { return ((bits >> g.index) & 1U) != 0; }
};
// In the trade's order: key height, jack position, lever height, blow; then let-off, drop, dip,
// check, damper.
inline constexpr Set at_rest{0x00f}, tripping{0x13f}, every{0x1ff};

// Newton's method with Broyden's corrections (Math. Comp. 19 (1965) 577) to an influence matrix
// that starts from the default dimensions'.
class Solver {
 public:
  Solver();
  // Takes in a reading at the adjustments.
  void look(const Dimensions& dimensions, const Wanted& wanted, const Adjustments& adjustments,
            const Readings& readings);
  // The next look is not to be compared with the last: something else has changed between.
  void forget() { known_ = false; }
  double miss(const Goal& goal) const { return miss_[goal.index] / goal.scale; }
  // Largest miss among the set, m.
  double worst(Set set) const;
  // Whether all of the set are within tolerance.
  bool within(Set set) const;
  // Moves the set's adjusters, none farther than the last looks can be trusted.
  void step(Set set, Adjustments& adjustments);

 private:
  double slope_[count][count];  // d reading / d adjuster, rows scaled
  double miss_[count] = {}, value_[count] = {}, at_[count] = {};
  bool asked_[count] = {};
  bool known_ = false;
};

}  // namespace batten::action::goals
