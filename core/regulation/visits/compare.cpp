#include "core/regulation/visits/visits.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace batten {
namespace {

// As in core/regulation/account: half of what can just be told apart by a gauge.
constexpr double shift_share = 0.25;

// A value on its way through moves; the uncertainty of each turn counts with its own.
struct Carried {
  double value = 0, var = 0;
};

// What is known of one aim of one note.
struct Track {
  std::optional<Carried> left;  // at the end of the first visit, carried on
  bool lost = false;            // shifted by something the model does not carry
  double shifted = 0;           // by others in the second visit, absolute; begun again when found
  bool turned = false;          // likewise: its own adjuster
  std::optional<Carried> found;
  Carried moved;                // since it was found, by the model
  bool worked = false;          // turned, or shifted that far, since it was found
  bool blind = false;           // worked by something the model does not carry, and not read since
  std::optional<Carried> last;  // reading since the last move that matters
};

class Tracks {
 public:
  Tracks(const Situation& s, const ActionModel& model) : s_(s), model_(model), of_(s.notes.size()) {
    for (std::size_t i = 0; i < s.notes.size(); ++i)
      for (const Aim aim : all_aims)
        if (const auto t = s.catalogue.tolerance(reading_of(aim, s.notes[i].key)))
          limit_[index_of(aim)] = shift_share * std::max(t->neighbours, 1e-9);
  }

  const Track& of(const NoteState& note, Aim aim) const {
    return of_[position(note.key)][index_of(aim)];
  }

  void read_first(const ReadingTaken& r) {
    if (const auto seen = see(r)) {
      Track& t = track(*r.note, seen->aim);
      t.left = Carried{seen->value, variance(*seen, r)};
      t.lost = false;
    }
  }
  void read_second(const ReadingTaken& r) {
    const auto seen = see(r);
    if (!seen) return;
    Track& t = track(*r.note, seen->aim);
    const Carried value{seen->value, variance(*seen, r)};
    if (t.found) {
      t.last = value;
      t.blind = false;
    } else if (!t.turned && t.shifted <= limit_[index_of(seen->aim)]) {
      t.found = value;
      t.shifted = 0;
    }
  }

  // Of the first visit or one between.
  void move_before(const MoveMade& m) {
    each_effect(
        m,
        [](Track& t, double change, double var, bool, double) {
          if (!t.left) return;
          t.left->value += change;
          t.left->var += var;
        },
        [](Track& t) { t.lost = true; });
  }
  void move_second(const MoveMade& m) {
    each_effect(
        m,
        [](Track& t, double change, double var, bool own, double limit) {
          if (!t.found) {
            t.turned = t.turned || own;
            t.shifted += std::abs(change);
            // What little was shifted before the first look is no wandering.
            if (t.left) t.left->value += change;
            return;
          }
          t.moved.value += change;
          t.moved.var += var;
          t.shifted += std::abs(change);
          t.worked = t.worked || own || t.shifted > limit;
          if (t.last) {
            t.last->value += change;
            t.last->var += var;
          }
        },
        [](Track& t) {
          t.turned = t.turned || !t.found;
          t.worked = t.blind = true;
          t.last.reset();
        });
  }

 private:
  std::size_t position(Key key) const { return static_cast<std::size_t>(s_.compass.position(key)); }
  Track& track(Key key, Aim aim) { return of_[position(key)][index_of(aim)]; }

  std::optional<SeenAim> see(const ReadingTaken& r) const {
    if (!r.note || !s_.compass.contains(*r.note)) return std::nullopt;
    return seen_as_aim(s_, r);
  }
  // A grade is the nearest whole number (GUM 4.3.7).
  static double variance(const SeenAim& seen, const ReadingTaken& r) {
    const double rounding = kind_of(r.reading).unit == ReadingUnit::grade ? 1.0 / 12 : 0;
    return seen.sd * seen.sd + rounding;
  }

  template <class Shifted, class Lost>
  void each_effect(const MoveMade& m, Shifted shifted, Lost lost) {
    if (index_of(m.adjuster) >= note_adjuster_count || !m.note) return;
    if (!s_.compass.contains(*m.note)) return;
    const UnitEffect unit = unit_effect(model_, s_.responses, s_.at(*m.note), m.adjuster);
    for (const Aim aim : all_aims) {
      const bool own = aim != Aim::aftertouch && adjuster_for(aim) == m.adjuster;
      const double change = unit.change(static_cast<Eigen::Index>(aim)) * m.amount;
      if (!own && change == 0) continue;
      shifted(track(*m.note, aim), change, std::pow(change * unit.share_sd, 2), own,
              limit_[index_of(aim)]);
    }
    // A spring may let the hammer sag and fall past its drop screw: known when read again.
    if (m.adjuster == Adjuster::repetition_spring)
      for (const Aim aim : {Aim::spring_rise, Aim::blow, Aim::drop, Aim::jack_clearance})
        lost(track(*m.note, aim));
    // A sharp stands over the naturals beside it.
    if (m.adjuster == Adjuster::balance_punchings && is_natural(*m.note))
      for (const int side : {-1, 1}) {
        const Key key{m.note->number + side};
        if (s_.compass.contains(key) && is_sharp(key)) lost(track(key, Aim::key_height));
      }
  }

  const Situation& s_;
  const ActionModel& model_;
  std::vector<std::array<Track, aim_count>> of_;
  std::array<double, aim_count> limit_{};
};

using Event = std::pair<std::size_t, const Entry*>;  // place in the journal

std::vector<Event> events_of(const Standing& standing) {
  std::vector<Event> events;
  for (std::size_t i = 0; i < standing.readings.size(); ++i)
    events.emplace_back(standing.reading_places[i], &standing.readings[i]);
  for (std::size_t i = 0; i < standing.moves.size(); ++i)
    events.emplace_back(standing.move_places[i], &standing.moves[i]);
  return events;
}

// Visit by visit, in journal order within each.
Tracks follow(const Standing& standing, const Situation& s, const ActionModel& model,
              const std::vector<Uuid>& order, const Uuid& from, const Uuid& to) {
  std::map<Uuid, std::size_t> place;
  for (std::size_t i = 0; i < order.size(); ++i) place[order[i]] = i;
  const std::size_t first = place.at(from), second = place.at(to);
  auto events = events_of(standing);
  std::erase_if(events, [&](const Event& e) {
    const auto at = place.find(e.second->visit);
    return at == place.end() || at->second < first || at->second > second;
  });
  std::ranges::sort(events, {},
                    [&](const Event& e) { return std::pair(place.at(e.second->visit), e.first); });
  // A bench is set up anew each time: only hammer heights of the visit that tied it count.
  std::optional<Uuid> bench;
  for (const Entry& e : standing.readings)
    if (std::get<ReadingTaken>(e.content).reading == Reading::datum_transfer) bench = e.visit;
  Tracks tracks(s, model);
  for (const auto& [_, entry] : events) {
    const std::size_t at = place.at(entry->visit);
    if (const auto* m = std::get_if<MoveMade>(&entry->content)) {
      at < second ? tracks.move_before(*m) : tracks.move_second(*m);
      continue;
    }
    const auto& r = std::get<ReadingTaken>(entry->content);
    if (r.reading == Reading::hammer_height && s.line.hammers_on_bench && bench != entry->visit)
      continue;
    if (at == first) tracks.read_first(r);
    if (at == second) tracks.read_second(r);
  }
  return tracks;
}

void add_note(const Track& t, Key key, ReadingCompared& out) {
  if (!t.found) return;
  if (t.left && !t.lost)
    out.alone.push_back(
        {key, t.found->value - t.left->value, std::sqrt(t.found->var + t.left->var)});
  if (!t.worked || t.blind) return;
  if (t.last)
    out.worked.push_back(
        {key, t.last->value - t.found->value, std::sqrt(t.last->var + t.found->var)});
  else if (t.moved.var > 0)
    out.worked.push_back({key, t.moved.value, std::sqrt(t.moved.var)});
}

std::vector<Shift> shifts_of(const std::vector<NoteDifference>& notes, const Situation& s) {
  std::vector<Shift> shifts;
  if (notes.empty()) return shifts;
  shifts.push_back(shift_of(notes));
  const auto& sections = s.targets.sections;
  if (sections.size() < 2) return shifts;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    std::vector<NoteDifference> here;
    for (const NoteDifference& n : notes)
      if (sections[i].contains(n.key)) here.push_back(n);
    if (here.size() < 2) continue;
    shifts.push_back(shift_of(here));
    shifts.back().section = i;
  }
  return shifts;
}

void count_registers(const std::map<Key, std::pair<int, double>>& notes, const Situation& s,
                     AdjusterCompared& out) {
  const auto& sections = s.targets.sections;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    RegisterMoves r{i, sections[i].first, sections[i].last, 0, 0, 0};
    for (const auto& [key, moved] : notes) {
      if (!sections[i].contains(key)) continue;
      r.moves += moved.first;
      ++r.notes;
      r.mean += moved.second;
    }
    if (r.notes == 0) continue;
    r.mean /= r.notes;
    out.by_register.push_back(r);
  }
}

std::vector<AdjusterCompared> adjusters_of(const Standing& standing, const Situation& s,
                                           const Uuid& visit) {
  std::map<Adjuster, AdjusterCompared> all;
  std::map<Adjuster, std::map<Key, std::pair<int, double>>> notes;
  for (const Entry& e : standing.moves) {
    if (e.visit != visit) continue;
    const auto& m = std::get<MoveMade>(e.content);
    AdjusterCompared& a = all[m.adjuster];
    a.adjuster = m.adjuster;
    a.reading = kind_of(m.adjuster).sets;
    ++a.moves;
    (m.amount < 0 ? a.negative : a.positive) += std::abs(m.amount);
    if (!m.note) continue;
    auto& [count, sum] = notes[m.adjuster][*m.note];
    ++count;
    sum += m.amount;
  }
  std::vector<AdjusterCompared> out;
  for (auto& [adjuster, a] : all) {
    a.notes = static_cast<int>(notes[adjuster].size());
    count_registers(notes[adjuster], s, a);
    out.push_back(std::move(a));
  }
  return out;
}

}  // namespace

VisitsCompared compare_visits(const Standing& standing, const Situation& situation,
                              const ActionModel& model, const std::vector<Uuid>& order,
                              const Uuid& from, const Uuid& to) {
  const Tracks tracks = follow(standing, situation, model, order, from, to);
  VisitsCompared out;
  for (const ReadingKind& kind : reading_kinds()) {
    const auto aim = aim_of(kind.id);
    const auto tolerance = situation.catalogue.tolerance(kind.id);
    if (!aim || !tolerance) continue;
    ReadingCompared r;
    r.reading = kind.id;
    r.adjuster = adjuster_for(*aim);
    r.tolerance = tolerance->absolute;
    r.neighbour_tolerance = tolerance->neighbours;
    for (const NoteState& note : situation.notes)
      if (reading_of(*aim, note.key) == kind.id) add_note(tracks.of(note, *aim), note.key, r);
    r.by_itself = shifts_of(r.alone, situation);
    r.changed = shifts_of(r.worked, situation);
    if (!r.by_itself.empty() || !r.changed.empty()) out.readings.push_back(std::move(r));
  }
  std::vector<std::vector<Shift>*> alone, worked;
  for (ReadingCompared& r : out.readings) {
    alone.push_back(&r.by_itself);
    worked.push_back(&r.changed);
  }
  out.looks = mark_findings(alone) + mark_findings(worked);
  out.adjusters = adjusters_of(standing, situation, to);
  return out;
}

}  // namespace batten
