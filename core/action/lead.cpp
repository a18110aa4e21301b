#include "core/action/slow.hpp"

#include <cmath>
#include <string>

namespace batten::action {

Result<double> solve_lead(const Note& note, double balance_weight) {
  constexpr double heaviest = 0.3;  // kg, as Dimensions::lead_mass may be
  constexpr double close = 1e-5;    // N, a thousandth of a gram-force
  constexpr double gravity = 9.80665;
  const auto read = [&](const Note& n) -> Result<double> {
    slow::Wish wish;
    wish.press = false;
    const auto r = slow::read_notes(std::span(&n, 1), wish);
    if (!r[0]) return tl::unexpected(r[0].error());
    return (r[0]->down_weight + r[0]->up_weight) / 2;
  };
  Note trial = note;
  double& lead = trial.dimensions.lead_mass;
  lead = 0;  // so that the key comes up whatever it was given
  double slope = -gravity * note.dimensions.lead_place / note.dimensions.key_front;
  double last = 0, last_weight = 0;
  for (int round = 0; round < 8; ++round) {
    const auto weight = read(trial);
    if (!weight) return tl::unexpected(weight.error());
    if (std::abs(*weight - balance_weight) < close) return lead;
    if (round > 0 && lead != last) slope = (*weight - last_weight) / (lead - last);
    last = lead;
    last_weight = *weight;
    const double next = lead - (*weight - balance_weight) / slope;
    if (std::isnan(next)) break;
    if (std::abs(next) > heaviest)
      return problem("The balance weight wanted would need " +
                         std::to_string(std::lround(next * 1000)) + " g of lead; at most " +
                         std::to_string(std::lround(heaviest * 1000)) + " g can be placed.",
                     "Ask for another balance weight or change the hammer's mass.");
    lead = next;
  }
  return problem("No lead gives the balance weight wanted.",
                 "Look at the friction and the springs: the key does not move freely.");
}

}  // namespace batten::action
