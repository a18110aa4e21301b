#include "core/regulation/studio/day.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

namespace batten {

namespace {

constexpr std::size_t most_pianos = 2000;
constexpr double longest_day = 24 * 60;

// Rounded up, so that a day that fits in whole minutes fits.
std::size_t whole(double minutes) {
  return static_cast<std::size_t>(std::ceil(std::max(0.0, minutes) - 1e-9));
}

struct Place {
  std::vector<std::size_t> pianos;  // as given
  bool fixed = false;               // one of them is
};

std::vector<Place> places_of(std::span<const DayPiano> pianos) {
  std::vector<Place> places;
  std::map<std::string, std::size_t> named;
  for (std::size_t i = 0; i < pianos.size(); ++i) {
    std::size_t at = places.size();
    if (!pianos[i].place.empty()) at = named.try_emplace(pianos[i].place, at).first->second;
    if (at == places.size()) places.emplace_back();
    places[at].pianos.push_back(i);
    places[at].fixed = places[at].fixed || pianos[i].fixed;
  }
  return places;
}

// Most worth in at most so many minutes, and of equals the fewest.
struct Best {
  double worth = -std::numeric_limits<double>::infinity();
  std::size_t used = 0;
  bool better_than(const Best& other) const {
    return worth > other.worth || (worth == other.worth && used < other.used);
  }
  Best with(double more, std::size_t cost) const { return {worth + more, used + cost}; }
};

// A knapsack by places: the first piano of a place costs the way there, the next only going beside
// it. `closed_` is the best before the place, `open` with one of its pianos at least.
class Choice {
 public:
  explicit Choice(std::size_t minutes) : closed_(minutes + 1, Best{0, 0}) {}

  void add(std::span<const DayPiano> pianos, const std::vector<std::size_t>& of_place,
           std::size_t way, std::size_t beside) {
    std::vector<Best> open(closed_.size());
    for (const std::size_t i : of_place) {
      Layer layer{i, whole(pianos[i].minutes) + way, whole(pianos[i].minutes) + beside, {}};
      layer.step.assign(closed_.size(), Step::passed);
      for (std::size_t c = closed_.size(); c-- > 0;) {
        Best best = open[c];
        const auto offer = [&](const Best& from, std::size_t cost, Step step) {
          const Best taken = from.with(pianos[i].worth, cost);
          if (!taken.better_than(best)) return;
          best = taken;
          layer.step[c] = step;
        };
        if (c >= layer.as_first) offer(closed_[c - layer.as_first], layer.as_first, Step::first);
        if (c >= layer.as_next) offer(open[c - layer.as_next], layer.as_next, Step::next);
        open[c] = best;
      }
      layers_.push_back(std::move(layer));
    }
    Layer end{none, 0, 0, {}};
    end.step.assign(closed_.size(), Step::passed);
    for (std::size_t c = 0; c < closed_.size(); ++c)
      if (open[c].better_than(closed_[c])) {
        closed_[c] = open[c];
        end.step[c] = Step::first;
      }
    end.as_next = of_place.size();
    layers_.push_back(std::move(end));
  }

  // Those chosen, in no order.
  std::vector<std::size_t> chosen() const {
    std::vector<std::size_t> list;
    std::size_t c = closed_.size() - 1;
    for (std::size_t at = layers_.size(); at > 0;) {
      const Layer& end = layers_[--at];
      const std::size_t begin = at - end.as_next;
      if (end.step[c] == Step::first)
        while (at > begin) {
          const Layer& layer = layers_[--at];
          if (layer.step[c] == Step::passed) continue;
          list.push_back(layer.piano);
          const bool first = layer.step[c] == Step::first;
          c -= first ? layer.as_first : layer.as_next;
          if (first) break;
        }
      at = begin;
    }
    return list;
  }

 private:
  static constexpr std::size_t none = std::numeric_limits<std::size_t>::max();
  enum class Step : std::uint8_t { passed, first, next };
  // One piano, or the end of a place, whose `as_next` counts its pianos.
  struct Layer {
    std::size_t piano, as_first, as_next;
    std::vector<Step> step;
  };
  std::vector<Best> closed_;
  std::vector<Layer> layers_;
};

double rate(const DayPiano& p) { return p.worth / std::max(1.0, p.minutes); }

// Into the order of the day.
void put_in_order(std::span<const DayPiano> pianos, const std::vector<Place>& places,
                  const std::vector<bool>& taken, const DayOptions& options, Day& day) {
  struct Round {
    std::vector<std::size_t> pianos;
    bool fixed;
    double rate;
  };
  std::vector<Round> rounds;
  for (const Place& place : places) {
    Round round{{}, place.fixed, 0};
    double worth = 0, minutes = 0;
    for (const std::size_t i : place.pianos) {
      if (!taken[i]) continue;
      round.pianos.push_back(i);
      worth += pianos[i].worth;
      minutes += pianos[i].minutes;
    }
    if (round.pianos.empty()) continue;
    round.rate = worth / std::max(1.0, minutes);
    std::ranges::stable_sort(round.pianos, [&](std::size_t a, std::size_t b) {
      return std::pair(pianos[a].fixed, rate(pianos[a])) >
             std::pair(pianos[b].fixed, rate(pianos[b]));
    });
    rounds.push_back(std::move(round));
  }
  std::ranges::stable_sort(rounds, [](const Round& a, const Round& b) {
    return std::pair(a.fixed, a.rate) > std::pair(b.fixed, b.rate);
  });
  for (const Round& round : rounds)
    for (const std::size_t i : round.pianos) {
      const double between = i == round.pianos.front() ? options.to_a_place : options.beside;
      day.stops.push_back({i, between});
      day.minutes += between + pianos[i].minutes;
      day.worth += pianos[i].worth;
    }
}

}  // namespace

Result<Day> plan_day(std::span<const DayPiano> pianos, const DayOptions& options) {
  if (!(options.minutes >= 1) || options.minutes > longest_day)
    return problem("A day's work is between a minute and 24 hours.", "Give the hours there are.");
  if (pianos.size() > most_pianos)
    return problem("More than 2,000 pianos are no day's choice.", "Name fewer.");
  const std::vector<Place> places = places_of(pianos);
  std::vector<bool> taken(pianos.size(), false);
  const std::size_t way = whole(options.to_a_place), beside = whole(options.beside);
  std::size_t promised = 0;
  for (const Place& place : places) {
    bool first = true;
    for (const std::size_t i : place.pianos) {
      if (!pianos[i].fixed) continue;
      promised += whole(pianos[i].minutes) + (first ? way : beside);
      first = false;
      taken[i] = true;
    }
  }
  const auto there_are = static_cast<std::size_t>(options.minutes);
  if (promised > there_are)
    return problem("The pianos promised need " + std::to_string(promised) + " min, and there are " +
                       std::to_string(there_are) + ".",
                   "Give more hours, or promise fewer.");

  Choice choice(there_are - promised);
  for (const Place& place : places) {
    std::vector<std::size_t> open;
    for (const std::size_t i : place.pianos)
      if (!pianos[i].fixed && pianos[i].worth > 0) open.push_back(i);
    if (!open.empty()) choice.add(pianos, open, place.fixed ? beside : way, beside);
  }
  for (const std::size_t i : choice.chosen()) taken[i] = true;

  Day day;
  put_in_order(pianos, places, taken, options, day);
  for (const Place& place : places)
    for (const std::size_t i : place.pianos) {
      if (taken[i]) continue;
      const std::size_t alone = whole(pianos[i].minutes) + (place.fixed ? beside : way);
      day.left_out.push_back({i, promised + alone > there_are ? DayLeftOut::Why::too_long
                                                              : DayLeftOut::Why::less_worth});
    }
  std::ranges::sort(day.left_out, {}, &DayLeftOut::piano);
  return day;
}

}  // namespace batten
