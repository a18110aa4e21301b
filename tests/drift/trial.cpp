#include "tests/drift/trial.hpp"

#include "core/journal/fold.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace batten::trial {

namespace {

constexpr double month = 365.2425 / 12, ms_per_day = 86400000.0;
constexpr std::array looked_at{1, 3, 6, 12, 18, 24};

Counted counted(const std::vector<double>& each) {
  Counted c;
  if (each.empty()) return c;
  double sum = 0, square = 0;
  for (const double x : each) {
    sum += x;
    square += x * x;
  }
  const auto n = static_cast<double>(each.size());
  c.mean = sum / n;
  c.error = std::sqrt(std::max(0.0, square / n - c.mean * c.mean) / n);
  return c;
}

double median(std::vector<double> v) {
  if (v.empty()) return 0;
  std::ranges::sort(v);
  return v[v.size() / 2];
}

}  // namespace

Figures try_pianos(const Wanted& wanted) {
  Figures out;
  std::vector<double> whole, readings, errors, biases;
  std::vector<std::vector<double>> whole_at(looked_at.size());
  int within = 0, alarms = 0;
  double share = 0, width = 0, learned = 0;
  for (int p = 0; p < wanted.pianos; ++p) {
    workshop::PastWanted past_wanted;
    past_wanted.visits = wanted.visits;
    past_wanted.tells_life = wanted.tells_life;
    workshop::AgedPast past =
        workshop::live(wanted.law, wanted.first_seed + static_cast<std::uint64_t>(p), past_wanted);
    DriftOptions options;
    options.from_ms = past.end_ms;
    options.months = wanted.months;
    const auto outlook = calc_outlook(past.piano.compass(), fold(past.entries), options);
    if (!outlook) throw std::runtime_error(outlook.error().happened);
    learned += outlook->known_from.learned;

    std::vector<double> truth;
    double covered = 0, asked = 0, of_readings = 0, readings_asked = 0;
    const double from = static_cast<double>(past.end_ms) / ms_per_day;
    for (int k = 0; k <= wanted.months; ++k) {
      past.piano.let_pass(from + k * month);
      truth.push_back(workshop::share_outside(past.piano));
      const OutlookPoint& at = outlook->points[static_cast<std::size_t>(k)];
      const bool inside = truth.back() >= at.low && truth.back() <= at.high;
      if (const auto l = std::ranges::find(looked_at, k); l != looked_at.end())
        whole_at[static_cast<std::size_t>(l - looked_at.begin())].push_back(inside ? 1 : 0);
      if (k == 12) {
        share += truth.back();
        width += at.high - at.low;
      }
      if (k == 0 || k % 6 != 0) continue;
      covered += inside ? 1 : 0;
      asked += 1;
      for (const OutlookReading& r : outlook->readings) {
        const OutlookPoint& point = r.points[static_cast<std::size_t>(k)];
        const double true_share = workshop::share_outside(past.piano, r.reading);
        of_readings += true_share >= point.low && true_share <= point.high ? 1 : 0;
        readings_asked += 1;
      }
    }
    whole.push_back(covered / asked);
    readings.push_back(of_readings / readings_asked);

    std::optional<double> crossing;
    for (int k = 1; k <= wanted.months && !crossing; ++k) {
      const double a = truth[static_cast<std::size_t>(k) - 1],
                   b = truth[static_cast<std::size_t>(k)];
      if (b > outlook->limit && a <= outlook->limit)
        crossing = (k - 1 + (outlook->limit - a) / (b - a)) * month;
    }
    const bool over_already = truth.front() > outlook->limit;
    if (crossing && !over_already) {
      ++out.crossings;
      const double last = wanted.months * month;
      const double said =
          outlook->due.state == DueState::overdue ? 0 : outlook->due.day.value_or(last);
      out.suggested += outlook->due.state == DueState::due_at ? 1 : 0;
      errors.push_back(std::abs(said - *crossing) / *crossing);
      biases.push_back((said - *crossing) / *crossing);
      const bool in_span = *crossing >= outlook->due.low_day.value_or(last + 1) &&
                           *crossing <= outlook->due.high_day.value_or(2 * last);
      within += in_span ? 1 : 0;
    } else if (!over_already && outlook->due.state != DueState::beyond) {
      ++alarms;
    }
  }
  out.whole = counted(whole);
  out.readings = counted(readings);
  for (const auto& list : whole_at) out.whole_at.push_back(counted(list));
  out.median_error = median(errors);
  out.median_bias = median(biases);
  out.span_covers = out.crossings > 0 ? static_cast<double>(within) / out.crossings : 0;
  out.mean_share = share / wanted.pianos;
  out.mean_width = width / wanted.pianos;
  out.mean_learned = learned / wanted.pianos;
  out.false_alarms = static_cast<double>(alarms) / wanted.pianos;
  return out;
}

}  // namespace batten::trial
