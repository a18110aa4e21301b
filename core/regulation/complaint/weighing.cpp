#include "core/regulation/complaint/weighing.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace batten::complaint {

namespace {

using Entry = ComplaintTable::Entry;

// One look in so many is misread or written under the wrong note; one in so many that can be read
// is said to be unreadable, and the other way round (estimates).
constexpr double slips = 0.01, said_unreadable = 0.02, read_though_unreadable = 0.04;
// A fault that is not in the list leaves so many readings as they should be, and spoils so many
// altogether (estimates).
constexpr double left_alone = 0.65, spoilt = 0.05;

std::size_t at(Look look) { return static_cast<std::size_t>(look); }

double normal(double x, double mean, double sd) {
  const double z = (x - mean) / sd;
  return std::exp(-0.5 * z * z) / (sd * std::sqrt(2 * std::numbers::pi));
}
double below(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

// Density of a figure or chance of a grade when the truth is spread about `mean`.
double of_figure(const LookKind& kind, double value, double mean, double sd) {
  if (kind.unit != ReadingUnit::grade) return normal(value, mean, sd);
  // Whole grades; the lowest and the highest take all that lies beyond.
  const double low = value <= kind.possible_low ? 0 : below((value - 0.5 - mean) / sd);
  const double high = value >= kind.possible_high ? 1 : below((value + 0.5 - mean) / sd);
  return high - low;
}

double wide_of(const ComplaintTable& table, Look look) {
  const Entry& other = table.entries[table.entries.size() - 2];
  assert(other.cause == Cause::something_else);
  return other.spread[at(look)];
}

}  // namespace

double leftover(Look look) {
  switch (look) {
    case Look::blow:
      return 0.3;
    case Look::key_height:
      return 0.07;
    case Look::dip:
      return 0.1;
    case Look::let_off:
      return 0.13;
    case Look::drop:
      return 0.17;
    case Look::aftertouch:
      return 0.18;
    case Look::check_distance:
      return 0.8;
    case Look::jack_clearance:
      return 0.045;
    case Look::jack_position:
      return 0.11;
    case Look::spring_rise:
      return 0.22;
    case Look::down_weight:
    case Look::up_weight:
      return 1.3;
    case Look::damper_start:
      return 0.03;
    case Look::hammer_centre_friction:
      return 0.5;
    case Look::key_freedom:
    case Look::wippen_freedom:
    case Look::jack_freedom:
    case Look::lever_freedom:
    case Look::hammer_play:
    case Look::knuckle_wear:
      return 0.15;
  }
  assert(false);
  return 1;
}

double calc_likelihood(const ComplaintTable& table, const Entry& entry, const Seen& seen) {
  const LookKind& kind = kind_of(seen.look);
  const std::size_t k = at(seen.look);
  const double mean = entry.expected[k], wide = wide_of(table, seen.look);
  const bool other = entry.cause == Cause::something_else;
  // Where a reading can always be taken, or never (no damper), there is nothing to be told by that.
  const bool never = std::isnan(table.sound[k]);
  const double unreadable = never               ? 0.5
                            : kind.none.empty() ? 0
                            : other             ? spoilt
                            : std::isnan(mean)  ? 1 - read_though_unreadable
                                                : said_unreadable;
  if (!seen.readable) return std::max(unreadable, 1e-6);
  if (never) return 0.5;
  const auto about = [&](double centre, double spread) {
    return of_figure(kind, seen.value, centre, std::hypot(spread, seen.uncertainty));
  };
  const double slip = about(table.sound[k], 3 * wide);
  double honest = slip;
  if (other)
    honest = left_alone * about(table.sound[k], leftover(seen.look)) +
             (1 - left_alone) * about(table.sound[k], wide);
  else if (!std::isnan(mean))
    honest = about(mean, entry.spread[k]);
  return (1 - unreadable) * ((1 - slips) * honest + slips * slip) + 1e-12;
}

double calc_log_mention(const Entry& entry, const std::array<bool, complaint_count>& felt) {
  double sum = 0;
  for (std::size_t k = 0; k < complaint_count; ++k)
    sum += felt[k] ? std::log(entry.mention[k]) : std::log1p(-entry.mention[k]);
  return sum;
}

namespace {

// A look's span is cut into so many cells, and those gathered into bins: narrow ones where outcomes
// are likely, because that is where causes must be told apart.
constexpr std::size_t cells = 192;

// Cell by cell the bin it goes to, rising from 0 to bins - 1: half of the bins by what is likely,
// half evenly over the span.
std::array<std::size_t, cells> gather(const std::array<double, cells>& likely) {
  double sum = 0;
  for (const double p : likely) sum += p;
  std::array<std::size_t, cells> bin{};
  double reached = 0;
  for (std::size_t c = 0; c < cells; ++c) {
    reached += 0.5 * likely[c] / sum + 0.5 / static_cast<double>(cells);
    bin[c] = std::min(bins - 1, static_cast<std::size_t>(reached * static_cast<double>(bins)));
  }
  return bin;
}

void fill_figures(ComplaintTable& table, Look look) {
  const std::size_t n = table.entries.size(), k = at(look);
  Seen seen{look, true, 0, kind_of(look).usual_uncertainty};
  double low = table.sound[k], high = low;
  for (const Entry& e : table.entries) {
    if (std::isnan(e.expected[k]) || e.cause == Cause::something_else) continue;
    const double reach = 3 * std::hypot(e.spread[k], seen.uncertainty);
    low = std::min(low, e.expected[k] - reach);
    high = std::max(high, e.expected[k] + reach);
  }
  const double step = (high - low) / static_cast<double>(cells);
  std::vector<double> chance(cells * n);
  std::array<double, cells> likely{};
  for (std::size_t c = 0; c < cells; ++c) {
    seen.value = low + (static_cast<double>(c) + 0.5) * step;
    for (std::size_t i = 0; i < n; ++i) {
      const Entry& e = table.entries[i];
      chance[c * n + i] = step * calc_likelihood(table, e, seen);
      likely[c] += e.weight * chance[c * n + i];
    }
  }
  const auto bin = gather(likely);
  float* rows = &table.outcomes[k * (bins + 1) * n];
  for (std::size_t c = 0; c < cells; ++c)
    for (std::size_t i = 0; i < n; ++i)
      rows[bin[c] * n + i] += static_cast<float>(chance[c * n + i]);
}

void fill_grades(ComplaintTable& table, Look look) {
  const std::size_t n = table.entries.size();
  const LookKind& kind = kind_of(look);
  float* rows = &table.outcomes[at(look) * (bins + 1) * n];
  for (int grade = 0; grade <= static_cast<int>(kind.possible_high); ++grade) {
    const Seen seen{look, true, static_cast<double>(grade), kind.usual_uncertainty};
    for (std::size_t i = 0; i < n; ++i)
      rows[static_cast<std::size_t>(grade) * n + i] =
          static_cast<float>(calc_likelihood(table, table.entries[i], seen));
  }
}

}  // namespace

void fill_outcomes(ComplaintTable& table) {
  const std::size_t n = table.entries.size();
  table.outcomes.assign(look_count * (bins + 1) * n, 0);
  for (const LookKind& kind : look_kinds()) {
    const std::size_t k = at(kind.id);
    if (std::isnan(table.sound[k])) continue;
    if (kind.unit == ReadingUnit::grade)
      fill_grades(table, kind.id);
    else
      fill_figures(table, kind.id);
    if (kind.none.empty()) continue;
    const Seen none{kind.id, false, 0, kind.usual_uncertainty};
    for (std::size_t i = 0; i < n; ++i)
      table.outcomes[(k * (bins + 1) + bins) * n + i] =
          static_cast<float>(calc_likelihood(table, table.entries[i], none));
  }
}

namespace {

// bits of chances that need not sum to one, times their sum.
double weighed_entropy(const std::array<double, cause_count>& chances) {
  double sum = 0, bits = 0;
  for (const double p : chances)
    if (p > 0) {
      sum += p;
      bits -= p * std::log2(p);
    }
  return sum > 0 ? bits + sum * std::log2(sum) : 0;
}

}  // namespace

double calc_entropy(const ComplaintTable& table, std::span<const double> chances) {
  std::array<double, cause_count> of{};
  for (std::size_t i = 0; i < chances.size(); ++i)
    of[static_cast<std::size_t>(table.entries[i].cause)] += chances[i];
  return weighed_entropy(of);
}

namespace {

// Sums over all outcomes of the looks left, one within the other.
class Outlook {
 public:
  // Of three figures together so many bins are taken as one: up to 0.1 bits less are seen in them,
  // and a ranking stays within milliseconds.
  Outlook(const ComplaintTable& table, std::size_t merged) : table_(table), merged_(merged) {}

  void look_ahead(std::span<const Look> looks, std::span<const double> chances) {
    if (looks.empty()) return count(chances);
    if (std::isnan(table_.sound[at(looks[0])])) return look_ahead(looks.subspan(1), chances);
    const std::size_t n = table_.entries.size();
    const float* row = &table_.outcomes[at(looks[0]) * (bins + 1) * n];
    // Grades have few bins, none of them empty enough to be merged.
    const std::size_t step = kind_of(looks[0]).unit == ReadingUnit::grade ? 1 : merged_;
    std::vector<double> then(n);
    for (std::size_t b = 0; b <= bins;) {
      const std::size_t end = b < bins ? std::min(bins, b + step) : bins + 1;
      double sum = 0;
      for (std::size_t i = 0; i < n; ++i) {
        float chance = 0;
        for (std::size_t k = b; k < end; ++k) chance += row[k * n + i];
        then[i] = chances[i] * static_cast<double>(chance);
        sum += then[i];
      }
      b = end;
      // An outcome this unlikely adds nothing that could be seen.
      if (sum > 1e-4) look_ahead(looks.subspan(1), then);
    }
  }
  // Bins do not quite hold all that may come: their chances are brought to one.
  double entropy() const { return sum_ > 0 ? bits_ / sum_ : 0; }

 private:
  void count(std::span<const double> chances) {
    std::array<double, cause_count> of{};
    for (std::size_t i = 0; i < chances.size(); ++i)
      of[static_cast<std::size_t>(table_.entries[i].cause)] += chances[i];
    for (const double p : of) sum_ += p;
    bits_ += weighed_entropy(of);
  }

  const ComplaintTable& table_;
  std::size_t merged_;
  double bits_ = 0, sum_ = 0;
};

}  // namespace

double calc_entropy_after(const ComplaintTable& table, std::span<const Look> looks,
                          std::span<const double> chances) {
  const auto figures = std::ranges::count_if(
      looks, [](Look look) { return kind_of(look).unit != ReadingUnit::grade; });
  Outlook outlook(table, figures >= 3 ? 2 : 1);
  outlook.look_ahead(looks, chances);
  return outlook.entropy();
}

}  // namespace batten::complaint
