#include "core/regulation/planning/replay.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

namespace batten::planning {
namespace {

constexpr auto at(Aim aim) { return static_cast<Eigen::Index>(aim); }

// What years do to an action, one standard deviation about the target, in the catalogue's units;
// estimates, no source. The aftertouch hangs on the others (Tie) and has none of its own.
constexpr std::array<double, aim_count> years{0.5, 0.4, 0.15, 1.0, 1.2, 0.4, 0.8, 0.7, 2.0, 0, 0.1};

// A reading farther than this many standard deviations from what was believed is asked for again;
// two that lie within the second figure of each other agree.
constexpr double odd = 4, agree = 3;

// Share of the smallest step by which a hand misses where it meant to stop (estimate).
constexpr double stop_share = 0.4;

// A move of one adjuster whose reading has not been taken since.
struct Pending {
  bool open = false;
  double base = 0, base_var = 0;  // the aim before it
  bool base_read = false;
  double predicted = 0;             // at factor 1
  double other = 0, other_var = 0;  // what moves of other adjusters did to the aim meanwhile
};

struct SetAside {
  bool open = false;
  double value = 0, var = 0;
};

AimVector aftertouch_row(const Tie& tie) {
  AimVector row = AimVector::Zero();
  row(at(Aim::dip)) = tie.dip_share;
  row(at(Aim::blow)) = -tie.blow_share;
  row(at(Aim::let_off)) = tie.let_off_share;
  row(at(Aim::jack_clearance)) = -tie.clearance_share;
  return row;
}

class Replay {
 public:
  Replay(const ActionModel& model, Situation& out) : model_(model), out_(out) {
    const auto n = static_cast<std::size_t>(out.compass.count());
    pending_.resize(n);
    aside_.resize(n);
    for (const NoteState& note : out.notes) unread_.push_back(note.cov.diagonal());
  }

  // What may have happened since the visit before: as much again as each tolerance, but never more
  // doubt than of a note nobody has read. The aftertouch follows the others.
  void come_back() {
    for (std::size_t i = 0; i < out_.notes.size(); ++i) {
      NoteState& note = out_.notes[i];
      AimVector since = AimVector::Zero();
      for (const Aim aim : all_aims) {
        const auto a = at(aim);
        const auto t = out_.catalogue.tolerance(reading_of(aim, note.key));
        if (!t || aim == Aim::aftertouch) continue;
        since(a) = std::clamp(unread_[i](a) - note.cov(a, a), 0.0, t->absolute * t->absolute);
        if (pending_[i][index_of(aim)].open) pending_[i][index_of(aim)].other_var += since(a);
      }
      const AimVector row = aftertouch_row(tie_of(model_.at(note.key)));
      const auto after = at(Aim::aftertouch);
      const AimVector with = since.cwiseProduct(row);
      note.cov.diagonal() += since;
      note.cov.col(after) += with;
      note.cov.row(after) += with.transpose();
      note.cov(after, after) += with.dot(row);
    }
  }

  void read(const Entry& entry) {
    const auto& r = std::get<ReadingTaken>(entry.content);
    if (!r.note || !out_.compass.contains(*r.note)) return;
    const auto seen = seen_as_aim(out_, r);
    if (!seen) return;
    observe(index(*r.note), seen->aim, seen->value, seen->sd * seen->sd, r.reading);
  }

  void move(const Entry& entry, bool this_visit) {
    const auto& m = std::get<MoveMade>(entry.content);
    if (index_of(m.adjuster) >= note_adjuster_count) return;
    const std::optional<Key> key = m.note;
    if (!key || !out_.compass.contains(*key)) return;
    apply(index(*key), m.adjuster, m.amount, this_visit);
  }

  void skip(const Entry& entry) {
    const auto& s = std::get<MoveSkipped>(entry.content);
    if (index_of(s.adjuster) >= note_adjuster_count) return;
    // Without a note: left at all of them.
    for (NoteState& note : out_.notes)
      if (!s.note || *s.note == note.key) note.skipped[index_of(s.adjuster)] = true;
  }

 private:
  std::size_t index(Key key) const { return static_cast<std::size_t>(out_.compass.position(key)); }

  void observe(std::size_t i, Aim aim, double value, double var, Reading reading) {
    NoteState& note = out_.notes[i];
    const auto a = at(aim);
    SetAside& aside = aside_[i][index_of(aim)];
    const double off = value - note.mean(a);
    const bool strange = off * off > odd * odd * (note.cov(a, a) + var);
    if (strange && note.read[index_of(aim)]) {
      const double between = value - aside.value;
      if (!aside.open || between * between > agree * agree * (var + aside.var)) {
        aside = {true, value, var};
        note.doubted[index_of(aim)] = true;
        settle(note.key, reading);
        out_.questions.push_back({Question::Kind::odd_reading, note.key, Adjuster::capstan, reading,
                                  note.mean(a), std::sqrt(note.cov(a, a)), value, false});
        return;
      }
      // Two that agree are believed over what was believed before.
      note.cov(a, a) += off * off;
      update(note, a, aside.value, aside.var);
    }
    update(note, a, value, var);
    aside.open = false;
    note.read[index_of(aim)] = true;
    ++note.readings[index_of(aim)];
    note.carried(a) = 0;
    note.doubted[index_of(aim)] = false;
    settle(note.key, reading);
    for (Question& q : out_.questions)
      if (q.kind != Question::Kind::odd_reading && q.key == note.key &&
          aim_for(q.adjuster) == aim && !note.unread_move[index_of(q.adjuster)])
        q.confirmed = true;
    learn(i, aim, value, var, reading);
    for (std::size_t k = 0; k < note_adjuster_count; ++k)
      if (aim_for(static_cast<Adjuster>(k)) == aim) note.unread_move[k] = false;
  }

  static void update(NoteState& note, Eigen::Index a, double value, double var) {
    const AimVector gain = note.cov.col(a) / (note.cov(a, a) + var);
    const AimVector row = note.cov.col(a);
    note.mean += gain * (value - note.mean(a));
    note.cov -= gain * row.transpose();
    note.cov(a, a) = std::max(note.cov(a, a), 1e-8);
  }

  void settle(Key key, Reading reading) {
    std::erase_if(out_.questions, [&](const Question& q) {
      return q.kind == Question::Kind::odd_reading && q.key == key && q.reading == reading;
    });
  }

  void apply(std::size_t i, Adjuster adjuster, double amount, bool this_visit) {
    NoteState& note = out_.notes[i];
    const auto k = index_of(adjuster);
    const UnitEffect unit = unit_effect(model_, out_.responses, note, adjuster);
    const AimVector change = unit.change * amount;
    const double stop =
        stop_share * out_.catalogue.labour(adjuster).least_step / std::max(1e-9, std::abs(amount));
    const double share = std::hypot(unit.share_sd, stop);
    for (const Aim aim : all_aims) {
      Pending& p = pending_[i][index_of(aim)];
      const bool own = aim != Aim::aftertouch && adjuster_for(aim) == adjuster;
      const double by = change(at(aim));
      if (own) {
        if (!p.open)
          p = {true, note.mean(at(aim)), note.cov(at(aim), at(aim)), note.read[index_of(aim)], 0, 0,
               0};
        note.readings[index_of(aim)] = 0;
        p.predicted += by / std::max(1e-6, out_.responses.factor(adjuster, note.reg).mean);
        const double missed = by * stop;
        p.other_var += missed * missed;
      } else if (p.open) {
        p.other += by;
        p.other_var += by * by * share * share;
      }
    }
    note.mean += change;
    note.cov += share * share * change * change.transpose();
    for (const Aim aim : all_aims)
      if (adjuster_for(aim) != adjuster) note.carried(at(aim)) += std::abs(change(at(aim)));
    if (adjuster == Adjuster::balance_punchings) carry_to_sharps(note.key, change, share);
    if (adjuster == Adjuster::lever_height_button) doubt_rest(note, change);
    if (adjuster == Adjuster::repetition_spring) doubt_what_springs_carry(note);
    note.unread_move[k] = true;
    note.skipped[k] = false;
    if (this_visit) {
      note.moved(static_cast<Eigen::Index>(k)) += amount;
      ++note.moves[k];
    }
  }

  // A sharp stands over the naturals beside it: half of what each of them rises it loses.
  void carry_to_sharps(Key natural, const AimVector& change, double share) {
    if (is_sharp(natural)) return;
    const double by = -0.5 * change(at(Aim::key_height));
    for (const int side : {-1, 1}) {
      const Key key{natural.number + side};
      if (!out_.compass.contains(key) || !is_sharp(key)) continue;
      NoteState& sharp = out_.notes[index(key)];
      sharp.mean(at(Aim::key_height)) += by;
      sharp.cov(at(Aim::key_height), at(Aim::key_height)) += share * share * by * by;
      sharp.carried(at(Aim::key_height)) += std::abs(by);
    }
  }

  // A knuckle that rests on a jack standing proud does not follow the lever.
  static void doubt_rest(NoteState& note, const AimVector& change) {
    const double least = std::min(note.at(Aim::jack_clearance),
                                  note.at(Aim::jack_clearance) - change(at(Aim::jack_clearance)));
    const double sd = note.sd(Aim::jack_clearance);
    if (least > 2 * sd) return;
    const double by = change(at(Aim::blow));
    note.cov(at(Aim::blow), at(Aim::blow)) += 0.25 * by * by;
  }

  // A weak spring lets the hammer sag at rest and fall past its drop screw: how far it did is known
  // only when they are read again (estimates, mm).
  static void doubt_what_springs_carry(NoteState& note) {
    constexpr double sag = 0.6, fall = 0.4, window = 0.08;
    note.cov(at(Aim::jack_clearance), at(Aim::jack_clearance)) += window * window;
    note.cov(at(Aim::blow), at(Aim::blow)) += sag * sag;
    note.cov(at(Aim::drop), at(Aim::drop)) += fall * fall;
  }

  void learn(std::size_t i, Aim aim, double value, double var, Reading reading) {
    Pending& p = pending_[i][index_of(aim)];
    if (!p.open) return;
    p.open = false;
    if (aim == Aim::aftertouch || !p.base_read) return;
    const Adjuster adjuster = adjuster_for(aim);
    const NoteState& note = out_.notes[i];
    MoveSeen seen{adjuster, note.reg, p.predicted, value - p.base - p.other,
                  std::sqrt(var + p.base_var + p.other_var)};
    const double expected = p.predicted * out_.responses.factor(adjuster, note.reg).mean;
    const Doubtful doubt = out_.responses.learn(seen);
    std::erase_if(out_.questions, [&](const Question& q) {
      return q.kind != Question::Kind::odd_reading && q.key == note.key && q.adjuster == adjuster;
    });
    if (doubt == Doubtful::no) return;
    ++out_.odd_turns[note.reg][index_of(adjuster)];
    out_.questions.push_back(
        {doubt == Doubtful::wrong_sign ? Question::Kind::wrong_way : Question::Kind::odd_answer,
         note.key, adjuster, reading, expected, seen.sd, seen.seen, false});
  }

  const ActionModel& model_;
  Situation& out_;
  std::vector<std::array<Pending, aim_count>> pending_;
  std::vector<std::array<SetAside, aim_count>> aside_;
  std::vector<AimVector> unread_;  // variances of the notes before anything was read
};

// The note before anything was read.
NoteState unread_note(Key key, const Situation& s, const NoteModel& model, double tie_mean,
                      double tie_sd) {
  NoteState note;
  note.key = key;
  note.reg = static_cast<std::size_t>(std::max(0, section_of(s.targets.sections, key)));
  for (const Aim aim : all_aims) {
    const auto target = s.targets.at(aim, key);
    note.mean(at(aim)) = target.value_or(model.at_target(at(aim)));
    double spread = years[index_of(aim)];
    const ReadingKind& kind = kind_of(reading_of(aim, key));
    // The model's key height is over its own design, a reading's over the key bed: without a target
    // on record it is only known to be somewhere in the usual.
    if (aim == Aim::key_height && !target && kind.usual_low && kind.usual_high) {
      note.mean(at(aim)) = (*kind.usual_low + *kind.usual_high) / 2;
      spread += (*kind.usual_high - *kind.usual_low) / 2;
    }
    note.cov(at(aim), at(aim)) = spread * spread;
  }
  const Tie tie = tie_of(model);
  const AimVector row = aftertouch_row(tie);
  note.mean(at(Aim::aftertouch)) =
      model.at_target(at(Aim::aftertouch)) + tie.predict(note.mean - model.at_target) + tie_mean;
  const AimVector with = note.cov * row;
  const double own = row.dot(with) + tie_sd * tie_sd;
  note.cov.col(at(Aim::aftertouch)) = with;
  note.cov.row(at(Aim::aftertouch)) = with.transpose();
  note.cov(at(Aim::aftertouch), at(Aim::aftertouch)) = own;
  return note;
}

struct Event {
  std::size_t place;
  const Entry* entry;
};

}  // namespace

double Tie::predict(const AimVector& aims) const {
  return dip_share * aims(at(Aim::dip)) - blow_share * aims(at(Aim::blow)) +
         let_off_share * aims(at(Aim::let_off)) - clearance_share * aims(at(Aim::jack_clearance));
}

Tie tie_of(const NoteModel& model) {
  const auto column = [&](Adjuster a, Aim of) {
    const auto c = static_cast<Eigen::Index>(a);
    const double own = model.influence(at(of), c);
    return own != 0 ? model.influence(at(Aim::aftertouch), c) / own : 0;
  };
  Tie tie{column(Adjuster::front_punchings, Aim::dip), -column(Adjuster::capstan, Aim::blow),
          column(Adjuster::let_off_button, Aim::let_off), 0};
  // The lever moves blow and clearance together; what the blow does not explain is the clearance's.
  const auto lever = static_cast<Eigen::Index>(Adjuster::lever_height_button);
  const double by = model.influence(at(Aim::jack_clearance), lever);
  if (by != 0)
    tie.clearance_share = -(model.influence(at(Aim::aftertouch), lever) +
                            tie.blow_share * model.influence(at(Aim::blow), lever)) /
                          by;
  return tie;
}

void replay(const Standing& standing, const ActionModel& model, const std::vector<double>& ties,
            double tie_sd, Situation& out) {
  out.notes.clear();
  out.questions.clear();
  out.responses = Responses(out.targets.sections.size());
  out.odd_turns.assign(out.targets.sections.size(), {});
  for (int i = 0; i < out.compass.count(); ++i) {
    const Key key = out.compass.at(i);
    const auto reg = static_cast<std::size_t>(std::max(0, section_of(out.targets.sections, key)));
    out.notes.push_back(unread_note(key, out, model.at(key), ties[reg], tie_sd));
  }
  std::vector<Event> events;
  events.reserve(standing.readings.size() + standing.moves.size() + standing.skips.size());
  for (std::size_t i = 0; i < standing.readings.size(); ++i)
    events.push_back({standing.reading_places[i], &standing.readings[i]});
  for (std::size_t i = 0; i < standing.moves.size(); ++i)
    events.push_back({standing.move_places[i], &standing.moves[i]});
  for (std::size_t i = 0; i < standing.skips.size(); ++i)
    events.push_back({standing.skip_places[i], &standing.skips[i]});
  std::sort(events.begin(), events.end(),
            [](const Event& a, const Event& b) { return a.place < b.place; });
  Replay run(model, out);
  std::set<Uuid> visits;  // journals of two technicians may alternate between theirs
  for (const Event& e : events) {
    const bool now = e.entry->visit == standing.visit;
    if (visits.insert(e.entry->visit).second && visits.size() > 1) run.come_back();
    if (std::holds_alternative<ReadingTaken>(e.entry->content))
      run.read(*e.entry);
    else if (std::holds_alternative<MoveMade>(e.entry->content))
      run.move(*e.entry, now);
    else
      run.skip(*e.entry);
  }
  if (!visits.empty() && !visits.contains(standing.visit)) run.come_back();
}

}  // namespace batten::planning
