#include "core/regulation/drift/history.hpp"

#include "core/regulation/drift/civil.hpp"
#include "core/regulation/line/line.hpp"
#include "core/regulation/line/string_plane.hpp"
#include "core/regulation/planning/state.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

namespace batten::drift {

namespace {

// What else a turn shifts by more than can be overlooked; the influence of the mechanism
// (docs/theory/action.md) without its figures, so that a piano needs no model to be listed.
struct Also {
  Adjuster adjuster;
  std::array<std::optional<Aim>, 4> aims;
};
constexpr std::array also{
    Also{Adjuster::capstan, {Aim::aftertouch, Aim::damper_start}},
    Also{Adjuster::balance_punchings, {Aim::dip, Aim::blow, Aim::aftertouch}},
    Also{Adjuster::front_punchings, {Aim::aftertouch, Aim::check_distance}},
    Also{Adjuster::jack_button, {Aim::jack_clearance, Aim::let_off}},
    Also{Adjuster::lever_height_button, {Aim::blow, Aim::drop, Aim::aftertouch}},
    Also{Adjuster::repetition_spring, {Aim::drop, Aim::jack_clearance}},
    Also{Adjuster::let_off_button, {Aim::aftertouch}},
};

struct Item {
  std::size_t visit = 0, place = 0;
  const Entry* entry = nullptr;
};

// The visits and their days; entries by visit, in journal order within one.
class Visits {
 public:
  Visits(const Standing& standing, std::int64_t until_ms, History& out) : out_(out) {
    items_.reserve(standing.readings.size() + standing.moves.size());
    add(standing.readings, standing.reading_places, until_ms);
    add(standing.moves, standing.move_places, until_ms);
    std::vector<std::size_t> by_day(out_.visits.size()), rank(out_.visits.size());
    std::iota(by_day.begin(), by_day.end(), std::size_t{0});
    std::ranges::stable_sort(by_day, {}, [&](std::size_t v) { return out_.visits[v].day; });
    std::vector<VisitFacts> sorted;
    for (std::size_t v = 0; v < by_day.size(); ++v) {
      rank[by_day[v]] = v;
      sorted.push_back(out_.visits[by_day[v]]);
    }
    out_.visits = std::move(sorted);
    for (auto& [id, v] : of_) v = rank[v];
    for (Item& item : items_) item.visit = rank[item.visit];
    std::ranges::sort(items_, {}, [](const Item& i) { return std::pair(i.visit, i.place); });
  }
  const std::vector<Item>& items() const { return items_; }
  std::size_t index(const Uuid& id) const { return of_.at(id); }
  bool has(const Uuid& id) const { return of_.contains(id); }

 private:
  void add(const std::vector<Entry>& entries, const std::vector<std::size_t>& places,
           std::int64_t until_ms) {
    for (std::size_t i = 0; i < entries.size(); ++i) {
      const Entry& e = entries[i];
      if (e.at_ms > until_ms || !of_a_note(e)) continue;
      // Entries of a visit mostly stand together.
      if (items_.empty() || e.visit != last_id_) {
        const auto [at, is_new] = of_.try_emplace(e.visit, out_.visits.size());
        if (is_new) out_.visits.push_back({e.visit, 0, {}});
        last_ = at->second;
        last_id_ = e.visit;
      }
      items_.push_back({last_, places[i], &e});
      VisitFacts& visit = out_.visits[last_];
      visit.day = std::max(visit.day, static_cast<double>(e.at_ms) / ms_per_day);
      out_.last_work_ms = std::max(out_.last_work_ms.value_or(e.at_ms), e.at_ms);
    }
  }
  static bool of_a_note(const Entry& e) {
    if (const auto* r = std::get_if<ReadingTaken>(&e.content)) return r->note && aim_of(r->reading);
    const auto* m = std::get_if<MoveMade>(&e.content);
    return m && m->note && index_of(m->adjuster) < note_adjuster_count;
  }

  History& out_;
  std::vector<Item> items_;
  std::map<Uuid, std::size_t> of_;
  Uuid last_id_;
  std::size_t last_ = 0;
};

// Hammer heights count as blows under the strings as they are known now. Those over a bench only in
// the visit whose transfers tie it to the strings: a bench is set up anew each time.
class Sight {
 public:
  Sight(Compass compass, const Standing& standing, const std::vector<Item>& items) {
    situation_.compass = compass;
    const bool hammers = std::ranges::any_of(items, [](const Item& i) {
      const auto* r = std::get_if<ReadingTaken>(&i.entry->content);
      return r && r->reading == Reading::hammer_height;
    });
    if (!hammers || !standing.settings.contains("sections")) return;
    auto line = line_settings(compass, standing.settings);
    if (!line) return;
    auto plane = calc_string_plane(compass, *line, standing);
    if (!plane) return;
    situation_.plane = std::move(*plane);
    ready_ = situation_.plane.transfer.ready;
    bench_ = line->hammers_on_bench;
    for (const Entry& e : standing.readings)
      if (std::get<ReadingTaken>(e.content).reading == Reading::datum_transfer)
        bench_visit_ = e.visit;
  }

  std::optional<SeenAim> see(const Entry& e) const {
    const auto& r = std::get<ReadingTaken>(e.content);
    if (r.reading == Reading::hammer_height && (!ready_ || (bench_ && e.visit != bench_visit_)))
      return std::nullopt;
    return seen_as_aim(situation_, r);
  }

 private:
  Situation situation_;
  bool ready_ = false, bench_ = false;
  Uuid bench_visit_;
};

double median(std::vector<double> v) {
  const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

// The aftertouch without a target of its own is to be what it was left at, within the usual.
double aftertouch_target(const Series& s) {
  const ReadingKind& kind = kind_of(Reading::aftertouch);
  const double low = *kind.usual_low, high = *kind.usual_high;
  std::map<std::uint32_t, double> last;
  for (const Event& e : s.events)
    if (e.kind == Event::Kind::read) last[e.note] = e.value;
  std::vector<double> values;
  for (const auto& [note, value] : last) values.push_back(value);
  return values.empty() ? (low + high) / 2 : std::clamp(median(std::move(values)), low, high);
}

// Where every key of every reading stands.
class Places {
 public:
  Places(const Targets& targets, History& out) : out_(out) {
    for (auto& row : of_) row.assign(static_cast<std::size_t>(out.compass.count()), {});
    for (const ReadingKind& kind : reading_kinds()) {
      const auto prior = prior_of(kind.id);
      const auto aim = aim_of(kind.id);
      const auto tolerance = out.catalogue.tolerance(kind.id);
      if (!prior || !aim || !tolerance) continue;
      Series series;
      series.reading = kind.id;
      series.prior = *prior;
      for (int i = 0; i < out.compass.count(); ++i) {
        const Key key = out.compass.at(i);
        if (reading_of(*aim, key) != kind.id || !out.equipment.asks(kind.id, key)) continue;
        const auto target = targets.at(*aim, key);
        if (!target && *aim != Aim::aftertouch) continue;
        of_[index_of(*aim)][static_cast<std::size_t>(i)] = {
            {out.series.size(), static_cast<std::uint32_t>(series.notes.size())}};
        const int section = section_of(out.sections, key);
        series.notes.push_back({key, static_cast<std::size_t>(std::max(0, section)),
                                target.value_or(0), tolerance->absolute});
        open_ = open_ || !target;
      }
      if (!series.notes.empty()) out.series.push_back(std::move(series));
    }
  }

  void add(Key key, Aim aim, std::size_t visit, Event event) {
    const auto& at = of_[index_of(aim)][static_cast<std::size_t>(out_.compass.position(key))];
    if (!at) return;
    event.note = at->second;
    event.visit = static_cast<std::uint32_t>(visit);
    out_.series[at->first].events.push_back(event);
  }

  void fill_open_targets() {
    if (!open_) return;
    for (Series& s : out_.series) {
      if (s.reading != Reading::aftertouch) continue;
      const double target = aftertouch_target(s);
      for (Note& n : s.notes) n.target = target;
    }
  }

 private:
  using At = std::optional<std::pair<std::size_t, std::uint32_t>>;
  History& out_;
  std::array<std::vector<At>, aim_count> of_;
  bool open_ = false;
};

// A grade is the nearest whole number: GUM 4.3.7.
double rounding(Reading reading) {
  return kind_of(reading).unit == ReadingUnit::grade ? 1.0 / 12 : 0;
}

void add_move(const MoveMade& m, std::size_t visit, Places& places, const History& h) {
  if (!h.compass.contains(*m.note)) return;
  places.add(*m.note, aim_for(m.adjuster), visit, {Event::Kind::set, 0, 0, 0, 0});
  for (const Also& a : also)
    if (a.adjuster == m.adjuster)
      for (const auto& aim : a.aims)
        if (aim) places.add(*m.note, *aim, visit, {Event::Kind::disturbed, 0, 0, 0, 0});
}

// By what was read where it was left, less what the gauge adds; eight notes' worth of prior.
double left_sd(const Series& s) {
  constexpr double prior_notes = 8;
  const double tolerance = s.notes.front().tolerance;
  const double prior = left_spread * tolerance;
  double sum = prior_notes * prior * prior, count = prior_notes;
  std::vector<const Event*> open(s.notes.size());  // moved in this visit, and read since or not
  std::vector<std::uint32_t> touched;
  const auto close = [&] {
    for (const std::uint32_t note : touched) {
      const Event& e = *open[note];
      if (e.kind == Event::Kind::read) {
        const double off = e.value - s.notes[note].target;
        sum += std::min(off * off, 4 * tolerance * tolerance) - e.var;
        count += 1;
      }
      open[note] = nullptr;
    }
    touched.clear();
  };
  std::uint32_t visit = 0;
  for (const Event& e : s.events) {
    if (e.visit != visit) close();
    visit = e.visit;
    if (e.kind == Event::Kind::read && open[e.note] == nullptr) continue;
    if (open[e.note] == nullptr) touched.push_back(e.note);
    open[e.note] = &e;
  }
  close();
  return std::sqrt(
      std::clamp(sum / count, 0.04 * tolerance * tolerance, 2.25 * tolerance * tolerance));
}

void gather_room(const Standing& standing, std::int64_t until_ms, const Visits& visits,
                 History& out) {
  std::vector<std::pair<double, int>> sums(out.visits.size());
  for (const Entry& e : standing.readings) {
    const auto& r = std::get<ReadingTaken>(e.content);
    if (r.reading != Reading::humidity || e.at_ms > until_ms) continue;
    if (!visits.has(e.visit)) {
      out.humidities.push_back({static_cast<double>(e.at_ms) / ms_per_day, r.value});
      continue;
    }
    auto& [sum, count] = sums[visits.index(e.visit)];
    sum += r.value;
    ++count;
  }
  for (std::size_t v = 0; v < sums.size(); ++v) {
    if (sums[v].second == 0) continue;
    out.visits[v].humidity = sums[v].first / sums[v].second;
    out.humidities.push_back({out.visits[v].day, *out.visits[v].humidity});
  }
}

}  // namespace

Result<History> gather_history(Compass compass, const Standing& standing, std::int64_t until_ms) {
  History out;
  out.compass = compass;
  out.sections = {{compass.lowest, compass.highest}};
  if (const auto layout = standing.settings.find("sections"); layout != standing.settings.end()) {
    auto sections = parse_sections(layout->second, compass);
    if (!sections) return tl::unexpected(sections.error());
    out.sections = std::move(*sections);
  }
  auto settings = drift_settings(standing.settings);
  if (!settings) return tl::unexpected(settings.error());
  out.settings = std::move(*settings);
  auto catalogue = working_catalogue(standing.settings);
  if (!catalogue) return tl::unexpected(catalogue.error());
  out.catalogue = std::move(*catalogue);
  auto equipment = equipment_on_record(compass, standing.settings);
  if (!equipment) return tl::unexpected(equipment.error());
  out.equipment = std::move(*equipment);
  auto targets = targets_on_record(compass, out.sections, standing.settings);
  if (!targets) return tl::unexpected(targets.error());

  const Visits visits(standing, until_ms, out);
  const Sight sight(compass, standing, visits.items());
  Places places(*targets, out);
  for (const Item& item : visits.items()) {
    const std::size_t visit = item.visit;
    if (const auto* m = std::get_if<MoveMade>(&item.entry->content)) {
      add_move(*m, visit, places, out);
      continue;
    }
    const auto& r = std::get<ReadingTaken>(item.entry->content);
    if (!compass.contains(*r.note)) continue;
    if (const auto seen = sight.see(*item.entry))
      places.add(*r.note, seen->aim, visit,
                 {Event::Kind::read, 0, 0, seen->value, seen->sd * seen->sd + rounding(r.reading)});
  }
  places.fill_open_targets();
  for (Series& s : out.series) s.left_sd = left_sd(s);
  gather_room(standing, until_ms, visits, out);
  return out;
}

}  // namespace batten::drift
