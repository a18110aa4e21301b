#include "core/regulation/planning/pace.hpp"

#include "core/regulation/aims/aim.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <variant>
#include <vector>

namespace batten {
namespace {

constexpr double ms_per_minute = 60000;

// What an entry's time was spent on.
using Act = std::variant<Reading, Adjuster>;

// The adjuster in hand.
std::optional<Adjuster> adjuster_of(const Act& act) {
  if (const auto* adjuster = std::get_if<Adjuster>(&act)) return *adjuster;
  const auto aim = aim_of(std::get<Reading>(act));
  return aim ? std::optional(adjuster_for(*aim)) : std::nullopt;
}

// One went on from the other with the same tools in hand.
bool belong_together(const Act& before, const Act& now) {
  if (before == now) return true;
  const auto adjuster = adjuster_of(now);
  return adjuster && adjuster == adjuster_of(before);
}

struct Placed {
  std::size_t place;
  const Entry* entry;
  Act act;
};

// Journal order, which is that of `place`.
std::vector<Placed> list_acts(const Standing& standing) {
  std::vector<Placed> all;
  for (std::size_t i = 0; i < standing.readings.size(); ++i) {
    const Entry& e = standing.readings[i];
    all.push_back({standing.reading_places[i], &e, std::get<ReadingTaken>(e.content).reading});
  }
  for (std::size_t i = 0; i < standing.moves.size(); ++i) {
    const Entry& e = standing.moves[i];
    all.push_back({standing.move_places[i], &e, std::get<MoveMade>(e.content).adjuster});
  }
  std::ranges::sort(all, {}, &Placed::place);
  return all;
}

double median(std::vector<double>& values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::ranges::nth_element(values, middle);
  if (values.size() % 2 == 1) return *middle;
  return (*middle + *std::max_element(values.begin(), middle)) / 2;
}

Pace blend(double guess, std::vector<double> gaps, double guess_weight) {
  if (gaps.empty()) return {guess, 0};
  const double learned = median(gaps);
  const auto count = static_cast<double>(gaps.size());
  if (!(guess > 0)) return {learned, static_cast<int>(gaps.size())};
  const double log_minutes =
      (guess_weight * std::log(guess) + count * std::log(learned)) / (guess_weight + count);
  return {std::exp(log_minutes), static_cast<int>(gaps.size())};
}

template <class Kind>
Pace find(const std::map<Kind, Pace>& paces, Kind kind) {
  const auto found = paces.find(kind);
  return found == paces.end() ? Pace{} : found->second;
}

}  // namespace

Pace Paces::move(Adjuster adjuster) const { return find(moves, adjuster); }
Pace Paces::reading(Reading reading) const { return find(readings, reading); }

Paces learn_paces(const Standing& standing, const WorkingCatalogue& catalogue,
                  const std::string& who, const PaceOptions& options) {
  std::map<Act, std::vector<double>> gaps;
  // Two people at one piano do not wait for each other.
  std::map<std::pair<Uuid, std::string>, Placed> last;
  for (const Placed& now : list_acts(standing)) {
    if (!who.empty() && now.entry->who != who) continue;
    const auto key = std::pair(now.entry->visit, now.entry->who);
    const auto before = last.find(key);
    if (before == last.end()) {
      last.emplace(key, now);
      continue;
    }
    const double gap =
        static_cast<double>(now.entry->at_ms - before->second.entry->at_ms) / ms_per_minute;
    if (gap >= options.shortest_gap && gap <= options.longest_gap &&
        belong_together(before->second.act, now.act))
      gaps[now.act].push_back(gap);
    before->second = now;
  }

  Paces paces;
  for (const AdjusterKind& kind : adjuster_kinds())
    paces.moves[kind.id] =
        blend(catalogue.labour(kind.id).minutes_move, gaps[kind.id], options.guess_weight);
  for (const ReadingKind& kind : reading_kinds())
    paces.readings[kind.id] =
        blend(catalogue.minutes_to_read(kind.id), gaps[kind.id], options.guess_weight);
  return paces;
}

}  // namespace batten
