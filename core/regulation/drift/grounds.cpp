#include "core/regulation/drift/grounds.hpp"

#include <algorithm>
#include <cmath>

namespace batten::drift {

OutlookGrounds grounds_of(const Model& m) {
  OutlookGrounds g;
  std::vector<bool> read(m.history.visits.size());
  double learned = 0, count = 0;
  for (const Reckoned& r : m.readings) {
    for (const Event& e : r.series->events)
      if (e.kind == Event::Kind::read) read[e.visit] = true;
    if (r.known == 0) continue;
    g.pairs += r.nodes.front().belief.pairs;
    const Effects now = effects(r);
    const Effects before = effects_before(r);
    for (Eigen::Index i = 0; i < 3; ++i)
      learned += 1 - std::min(1.0, std::pow(now.sd(i) / before.sd(i), 2));
    count += 3;
  }
  for (const bool has : read) g.visits += has ? 1 : 0;
  g.humidities = static_cast<int>(m.history.humidities.size());
  g.learned = count > 0 ? learned / count : 0;
  g.new_felt_known = !m.history.settings.new_felt.empty();
  g.playing_hours_known = m.history.settings.playing_hours_known;
  g.climate_known = m.history.settings.climate.has_value();
  return g;
}

}  // namespace batten::drift
