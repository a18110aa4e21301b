#include "core/regulation/planning/order.hpp"

#include <algorithm>
#include <cstdint>
#include <limits>

namespace batten {

std::vector<Adjuster> common_order() {
  using enum Adjuster;
  return {balance_punchings, jack_button,    lever_height_button, repetition_spring, capstan,
          front_punchings,   let_off_button, drop_screw,          back_check,        damper_wire};
}

double rework(const UndoneTable& undone, const std::vector<Adjuster>& order) {
  double sum = 0;
  for (std::size_t i = 0; i < order.size(); ++i)
    for (std::size_t j = i + 1; j < order.size(); ++j)
      sum += undone[index_of(order[i])][index_of(order[j])];
  return sum;
}

OrderReport derive_order(const UndoneTable& undone) {
  constexpr std::size_t n = note_adjuster_count;
  constexpr double out_of_step = 1e-3;
  OrderReport report;
  report.common = common_order();
  report.undone = undone;
  std::array<std::size_t, n> place{};
  for (std::size_t i = 0; i < n; ++i) place[index_of(report.common[i])] = i;

  // least[set]: least rework among the adjusters of `set`, done first in the best order of them.
  constexpr std::size_t sets = std::size_t{1} << n;
  std::vector<double> least(sets, std::numeric_limits<double>::infinity());
  std::vector<std::size_t> last(sets, 0);
  least[0] = 0;
  for (std::size_t set = 0; set < sets; ++set)
    for (std::size_t j = 0; j < n; ++j) {
      if ((set >> j & 1) != 0) continue;
      // j follows all of `set` and undoes what they set.
      double cost = least[set];
      for (std::size_t i = 0; i < n; ++i)
        if ((set >> i & 1) != 0) cost += undone[i][j] + (place[i] > place[j] ? out_of_step : 0);
      const std::size_t with = set | std::size_t{1} << j;
      if (cost < least[with]) {
        least[with] = cost;
        last[with] = j;
      }
    }
  for (std::size_t set = sets - 1; set != 0; set &= ~(std::size_t{1} << last[set]))
    report.derived.push_back(static_cast<Adjuster>(last[set]));
  std::reverse(report.derived.begin(), report.derived.end());
  report.rework_derived = rework(undone, report.derived);
  report.rework_common = rework(undone, report.common);
  return report;
}

}  // namespace batten
