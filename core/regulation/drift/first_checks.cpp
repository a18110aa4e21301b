#include "core/keyboard/samples.hpp"
#include "core/regulation/drift/civil.hpp"
#include "core/regulation/drift/drift.hpp"
#include "core/regulation/drift/grounds.hpp"
#include "core/regulation/drift/projection.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <utility>

namespace batten {

namespace {

using namespace drift;

// A dry spell takes a room from 50 to 30 % RH, a wet one to 65 %, long enough for the wood to
// follow: 9 to 6 and to 12 % moisture content (USDA Wood Handbook, table 4-2).
constexpr double dry = -3, wet = 3;
// Estimates, no source: hours of a festival or an examination term; first hours of new felt.
constexpr double heavy_hours = 150, new_felt_hours = 60;
// Moves less than this, in tolerances, are not worth a look; notes a reading names.
constexpr double least = 0.1;
constexpr std::size_t most_notes = 5;
// Lines of our own lists (data/words: drift.list.<spell>.<n>).
constexpr int listed_lines = 6;

struct Change {
  double mean = 0, sd = 0, own_sd = 0;
};

// Share of all new felt's playing-in within the hours, mean over the nodes.
double settled_share(const Reckoned& r, double hours) {
  double sum = 0;
  for (const Node& n : r.nodes) sum += n.weight * (1 - std::exp(-hours / n.drivers.settle_hours));
  return sum;
}

// What is left of playing-in that the hours will bring out, mean over the known notes.
double still_to_settle(const Model& m, const Reckoned& r, double today, double hours) {
  if (r.known == 0) return 0;
  double sum = 0;
  for (const Node& node : r.nodes) {
    const Drivers::At now = m.at(*r.series, node, today);
    const Drivers::At then = m.at(*r.series, node, today, hours);
    for (const NoteBelief& n : node.belief.notes)
      if (n.known)
        sum += node.weight *
               (step_to(n, node.drivers, then).settled - step_to(n, node.drivers, now).settled);
  }
  return sum / r.known;
}

Change change_of(const Model& m, const Reckoned& r, Spell spell, double today) {
  const Effects e = effects(r);
  const Prior& prior = r.series->prior;
  if (spell == Spell::dry || spell == Spell::wet) {
    const double by = spell == Spell::dry ? dry : wet;
    return {by * e.mean(1), std::abs(by) * e.sd(1),
            std::abs(by) * note_share * prior.season.size()};
  }
  const double settles = spell == Spell::new_felt ? settled_share(r, new_felt_hours)
                                                  : still_to_settle(m, r, today, heavy_hours);
  const double wears = (spell == Spell::new_felt ? new_felt_hours : heavy_hours) / 1000;
  return {settles * e.mean(0) + wears * e.mean(2), std::hypot(settles * e.sd(0), wears * e.sd(2)),
          settles * note_share * prior.playing_in.size()};
}

struct Candidate {
  Key key;
  double chance = 0;  // outside after it
};

// Samples first to be read: those likeliest outside; of notes nobody has read, every so-manyth.
std::vector<Key> notes_of(std::vector<Candidate> list) {
  std::vector<Key> keys;
  if (list.empty()) return keys;
  const bool told = std::ranges::any_of(list, [](const Candidate& c) { return c.chance > 0; });
  if (told)
    std::ranges::stable_sort(list, std::greater<>(), &Candidate::chance);
  else {
    std::vector<Candidate> some;
    const std::size_t count = std::min(list.size(), most_notes);
    for (std::size_t i = 0; i < count; ++i)
      some.push_back(list[count > 1 ? i * (list.size() - 1) / (count - 1) : 0]);
    list = std::move(some);
  }
  for (std::size_t i = 0; i < std::min(list.size(), most_notes); ++i) keys.push_back(list[i].key);
  return keys;
}

FirstCheck check_of(const Model& m, const Reckoned& r, Spell spell, double today,
                    const std::vector<Key>& samples) {
  const Normal normal;
  const Change change = change_of(m, r, spell, today);
  FirstCheck c;
  c.reading = r.series->reading;
  c.change = change.mean;
  c.sd = change.sd;
  const double unsure = std::hypot(change.sd, change.own_sd);
  c.in_tolerances = std::hypot(change.mean, unsure) / r.series->notes.front().tolerance;
  Futures futures = draw_futures(m, {today});
  const Projection now = project(m, r, futures);
  std::vector<double> after(r.series->notes.size());
  double newly = 0;
  for (const NoteForecast& f : now.notes) {
    const Note& note = r.series->notes[f.note];
    after[f.note] = normal.outside(f.mean.front() + change.mean, std::hypot(f.sd.front(), unsure),
                                   note.target, note.tolerance);
    newly += std::max(0.0, after[f.note] - f.outside.front());
  }
  if (now.known > 0)
    newly /= now.known;
  else {
    const double tolerance = r.series->notes.front().tolerance, left = r.series->left_sd;
    newly = normal.outside(change.mean, std::hypot(left, unsure), 0, tolerance) -
            normal.outside(0, left, 0, tolerance);
  }
  c.newly_outside = std::max(0.0, newly);
  std::vector<Candidate> candidates, others;
  for (std::size_t i = 0; i < after.size(); ++i) {
    const Key key = r.series->notes[i].key;
    (std::ranges::find(samples, key) != samples.end() ? candidates : others)
        .push_back({key, after[i]});
  }
  // Sharps are no samples.
  c.notes = notes_of(candidates.empty() ? std::move(others) : std::move(candidates));
  return c;
}

}  // namespace

Result<FirstChecks> calc_first_checks(Compass compass, const Standing& standing, Spell spell,
                                      const DriftOptions& options,
                                      const std::vector<std::string>& listed) {
  FirstChecks out;
  out.spell = spell;
  auto history = gather_history(compass, standing, options.from_ms);
  if (!history) return tl::unexpected(history.error());
  Model m;
  m.history = std::move(*history);
  reckon(m);
  out.known_from = grounds_of(m);
  if (spell == Spell::transport || spell == Spell::new_hammers) {
    out.listed = listed;
    out.listed_is_ours = listed.empty();
    if (listed.empty())
      for (int i = 1; i <= listed_lines; ++i)
        out.listed.push_back("drift.list." + std::string(code_of(spell)) + "." + std::to_string(i));
    return out;
  }
  out.moisture = spell == Spell::dry ? dry : spell == Spell::wet ? wet : 0;
  out.hours = spell == Spell::heavy_use  ? heavy_hours
              : spell == Spell::new_felt ? new_felt_hours
                                         : 0;
  const std::vector<Key> samples = propose_samples(m.history.sections);
  const double today = static_cast<double>(options.from_ms) / ms_per_day;
  for (const Reckoned& r : m.readings) {
    FirstCheck c = check_of(m, r, spell, today, samples);
    if (c.in_tolerances >= least) out.checks.push_back(std::move(c));
  }
  std::ranges::stable_sort(out.checks, std::greater<>(), &FirstCheck::in_tolerances);
  return out;
}

}  // namespace batten
