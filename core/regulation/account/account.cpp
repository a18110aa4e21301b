#include "core/regulation/account/account.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

namespace batten {

namespace {

constexpr auto at(Aim aim) { return static_cast<Eigen::Index>(aim); }

// A reading is no longer what was found once others' moves have shifted it by this share of its
// tolerance against neighbours (ours: half of what can just be told apart by a gauge).
constexpr double shift_share = 0.25;

// What has happened to one aim of one note in this visit, so far.
struct Track {
  std::optional<double> first;
  double first_sd = 0, last = 0, last_sd = 0;
  bool as_found = false, shifted_after = false;
  double shifted = 0, shifted_since = 0;  // by others' moves: in all, since it was last read
  bool turned = false, turned_since = false;
};

class Tracks {
 public:
  Tracks(const Situation& s, const ActionModel& model)
      : s_(s), model_(model), of_note_(s.notes.size()) {}

  const Track& of(const NoteState& note, Aim aim) const {
    return of_note_[index(note.key)][index_of(aim)];
  }

  void read(const ReadingTaken& r) {
    if (!r.note || !s_.compass.contains(*r.note)) return;
    const auto seen = seen_as_aim(s_, r);
    if (!seen) return;
    Track& t = track(*r.note, seen->aim);
    if (t.first)
      t.shifted_after = t.shifted_after || !still(s_.at(*r.note), seen->aim);
    else {
      t.first = seen->value;
      t.first_sd = seen->sd;
      t.as_found = !t.turned && !too_far(t.shifted, *r.note, seen->aim);
    }
    t.last = seen->value;
    t.last_sd = seen->sd;
    t.shifted_since = 0;
    t.turned_since = false;
  }

  void move(const MoveMade& m) {
    if (index_of(m.adjuster) >= note_adjuster_count || !m.note) return;
    if (!s_.compass.contains(*m.note)) return;
    const NoteState& note = s_.at(*m.note);
    const AimVector change = unit_effect(model_, s_.responses, note, m.adjuster).change * m.amount;
    for (const Aim aim : all_aims) {
      Track& t = track(note.key, aim);
      if (aim != Aim::aftertouch && adjuster_for(aim) == m.adjuster)
        t.turned = t.turned_since = true;
      else
        shift(t, change(at(aim)));
    }
    // A spring may let the hammer sag, and fall past its drop screw: both are known when read
    // again.
    if (m.adjuster == Adjuster::repetition_spring)
      for (const Aim aim : {Aim::blow, Aim::drop, Aim::jack_clearance}) {
        Track& t = track(note.key, aim);
        t.turned = t.turned_since = true;
      }
    if (m.adjuster == Adjuster::balance_punchings) carry_to_sharps(note.key, change);
  }

  // Since it was last read.
  bool still(const NoteState& note, Aim aim) const {
    const Track& t = of(note, aim);
    return !t.turned_since && !too_far(t.shifted_since, note.key, aim);
  }

 private:
  std::size_t index(Key key) const { return static_cast<std::size_t>(s_.compass.position(key)); }
  Track& track(Key key, Aim aim) { return of_note_[index(key)][index_of(aim)]; }

  static void shift(Track& t, double by) {
    t.shifted += std::abs(by);
    t.shifted_since += std::abs(by);
  }
  bool too_far(double shifted, Key key, Aim aim) const {
    const auto tolerance = s_.catalogue.tolerance(reading_of(aim, key));
    return tolerance && shifted > shift_share * std::max(tolerance->neighbours, 1e-9);
  }
  // A sharp stands over the naturals beside it.
  void carry_to_sharps(Key natural, const AimVector& change) {
    if (is_sharp(natural)) return;
    for (const int side : {-1, 1}) {
      const Key key{natural.number + side};
      if (s_.compass.contains(key) && is_sharp(key))
        shift(track(key, Aim::key_height), change(at(Aim::key_height)) / 2);
    }
  }

  const Situation& s_;
  const ActionModel& model_;
  std::vector<std::array<Track, aim_count>> of_note_;
};

Tracks follow(const Standing& standing, const Situation& s, const ActionModel& model) {
  std::vector<std::pair<std::size_t, const Entry*>> events;
  for (std::size_t i = 0; i < standing.readings.size(); ++i)
    events.emplace_back(standing.reading_places[i], &standing.readings[i]);
  for (std::size_t i = 0; i < standing.moves.size(); ++i)
    events.emplace_back(standing.move_places[i], &standing.moves[i]);
  std::ranges::sort(events);
  Tracks tracks(s, model);
  for (const auto& [place, entry] : events) {
    if (entry->visit != standing.visit) continue;
    if (const auto* r = std::get_if<ReadingTaken>(&entry->content)) tracks.read(*r);
    if (const auto* m = std::get_if<MoveMade>(&entry->content)) tracks.move(*m);
  }
  return tracks;
}

// A grade without a tolerance is right when it is the same grade.
double or_same_grade(double tolerance) { return tolerance > 0 ? tolerance : 0.5; }

std::optional<NoteAccount> account_of(const Situation& s, const ActionModel& model,
                                      const NoteState& note, Aim aim, const Tracks& tracks) {
  NoteAccount a;
  a.key = note.key;
  a.aim = aim;
  a.reading = reading_of(aim, note.key);
  const auto target = wanted(s, model, note.key, aim);
  const auto tolerance = s.catalogue.tolerance(a.reading);
  if (!target || !tolerance || !s.equipment.asks(a.reading, note.key)) return std::nullopt;
  a.target = *target;
  a.tolerance = or_same_grade(tolerance->absolute);
  a.neighbour_tolerance = or_same_grade(tolerance->neighbours);
  const Track& t = tracks.of(note, aim);
  a.first = t.first;
  a.first_sd = t.first_sd;
  a.as_found = t.as_found;
  if (!note.read[index_of(aim)]) return a;
  a.basis = !t.first ? Basis::earlier : tracks.still(note, aim) ? Basis::read : Basis::reckoned;
  a.doubted = note.doubted[index_of(aim)];
  a.shifted = t.first && (t.shifted_after || !tracks.still(note, aim));
  const bool as_read = a.basis == Basis::read && !a.doubted;
  a.now = as_read ? t.last : note.at(aim);
  a.now_sd = as_read ? t.last_sd : note.sd(aim);
  return a;
}

ReadingAccount summary(Reading reading, const std::vector<NoteAccount>& all) {
  ReadingAccount r;
  r.reading = reading;
  std::vector<const NoteAccount*> found, now, both;
  for (const NoteAccount& n : all) {
    if (n.reading != reading) continue;
    ++r.asked;
    r.read += n.first ? 1 : 0;
    r.as_found += n.as_found ? 1 : 0;
    r.now_read += n.basis == Basis::read ? 1 : 0;
    r.now_reckoned += n.basis == Basis::reckoned ? 1 : 0;
    r.only_earlier += n.basis == Basis::earlier ? 1 : 0;
    if (n.as_found) found.push_back(&n);
    if (n.known()) now.push_back(&n);
    if (n.as_found && n.known()) both.push_back(&n);
  }
  r.found = spread_of(found, true);
  r.now = spread_of(now, false);
  r.compared_found = spread_of(both, true);
  r.compared_now = spread_of(both, false);
  return r;
}

void count_moves(const Standing& standing, Account& out) {
  for (const Entry& e : standing.moves) {
    if (e.visit != standing.visit) continue;
    const auto& m = std::get<MoveMade>(e.content);
    auto one = std::ranges::find_if(out.moves_of_note, [&](const NoteMoves& n) {
      return n.adjuster == m.adjuster && n.key == m.note;
    });
    if (one == out.moves_of_note.end()) {
      out.moves_of_note.push_back({m.adjuster, m.note, 0, 0});
      one = out.moves_of_note.end() - 1;
    }
    ++one->moves;
    one->amount += m.amount;
    auto sum = std::ranges::find(out.moves, m.adjuster, &AdjusterAccount::adjuster);
    if (sum == out.moves.end()) {
      out.moves.push_back({m.adjuster, 0, 0, 0, 0});
      sum = out.moves.end() - 1;
    }
    ++sum->moves;
    sum->notes += one->moves == 1 ? 1 : 0;
    (m.amount < 0 ? sum->negative : sum->positive) += std::abs(m.amount);
  }
  std::ranges::sort(out.moves, {}, &AdjusterAccount::adjuster);
  std::ranges::sort(out.moves_of_note, [](const NoteMoves& a, const NoteMoves& b) {
    return std::pair(a.adjuster, a.key) < std::pair(b.adjuster, b.key);
  });
}

bool is_other(Reading reading) {
  return !aim_of(reading) && reading != Reading::string_height &&
         reading != Reading::hammer_height && reading != Reading::datum_transfer;
}

void gather_others(const Standing& standing, Account& out) {
  for (const Entry& e : standing.readings) {
    if (e.visit != standing.visit) continue;
    const auto& r = std::get<ReadingTaken>(e.content);
    if (!is_other(r.reading)) continue;
    auto one = std::ranges::find_if(out.others, [&](const OtherAccount& o) {
      return o.reading == r.reading && o.key == r.note;
    });
    if (one == out.others.end()) {
      out.others.push_back({r.reading, r.note, 0, r.value, r.value, e.at_ms, e.at_ms});
      one = out.others.end() - 1;
    }
    ++one->times;
    one->last = r.value;
    one->last_ms = e.at_ms;
  }
}

// The aftertouch follows from what is turned for the others: what moves it counts too.
bool asks_for(const Plan& plan, const NoteAccount& note) {
  for (const Pass& pass : plan.passes)
    for (const Instruction& i : pass.steps) {
      if (i.key != note.key) continue;
      if (aim_of(i.reading) == note.aim) return true;
      if (note.aim == Aim::aftertouch &&
          std::ranges::find(i.effects, note.aim, &Effect::aim) != i.effects.end())
        return true;
    }
  return false;
}

StillOutside reason_of(const NoteAccount& note, const Plan& plan, const Account& account) {
  StillOutside out;
  out.note = note;
  const Adjuster adjuster = adjuster_for(note.aim);
  for (const Entry& e : account.skips) {
    const auto& skip = std::get<MoveSkipped>(e.content);
    if (skip.adjuster != adjuster || (skip.note && *skip.note != note.key)) continue;
    out.why = StillOutside::Why::skipped;
    out.skip = e;
    return out;
  }
  if (asks_for(plan, note)) {
    out.why = StillOutside::Why::to_do;
    return out;
  }
  for (const Hold& hold : plan.holds) {
    if (hold.key != note.key || (hold.adjuster != adjuster && aim_of(hold.reading) != note.aim))
      continue;
    out.why = StillOutside::Why::held;
    out.hold = hold;
    return out;
  }
  return out;
}

}  // namespace

Account calc_account(const Standing& standing, const Plan& plan, const ActionModel& model) {
  const Situation& s = plan.situation;
  const Tracks tracks = follow(standing, s, model);
  Account out;
  out.visit = standing.visit;
  for (const Aim aim : all_aims)
    for (const NoteState& note : s.notes)
      if (auto a = account_of(s, model, note, aim, tracks)) out.notes.push_back(*a);
  std::ranges::stable_sort(out.notes, {}, &NoteAccount::reading);
  for (const ReadingKind& kind : reading_kinds())
    if (std::ranges::find(out.notes, kind.id, &NoteAccount::reading) != out.notes.end())
      out.readings.push_back(summary(kind.id, out.notes));
  count_moves(standing, out);
  gather_others(standing, out);
  out.skips = standing.skips;
  for (const NoteAccount& n : out.notes)
    if (n.outside_now()) out.outside.push_back(reason_of(n, plan, out));
  return out;
}

}  // namespace batten
