#include "tests/reports/handover_fixture.hpp"

#include <cmath>

namespace batten {

namespace {

const char* const long_word = "Donaudampfschifffahrtsgesellschaftskapitänswitwenverein";

std::string lorem(std::size_t letters) {
  std::string text;
  while (text.size() < letters) text += "The pianist asked for an even touch in the soft parts. ";
  text.resize(letters);
  return text;
}

// A scatter without randomness, −1 … 1.
double wave(int i) { return std::sin(1.7 * i) * std::cos(0.31 * i); }

}  // namespace

HandoverFacts invented_facts(const HandoverCase& c) {
  HandoverFacts f;
  f.piano = c.long_names ? std::string(long_word) + ", der große Flügel im oberen Saal, links"
                         : "Hall grand";
  f.place = c.long_names ? "Kulturhaus " + std::string(long_word) : "Kulturhaus";
  f.visit =
      c.long_names ? "Prüfung vor der Wiedereröffnung nach dem Umbau des oberen Saales" : "Spring";
  f.compass = c.compass;
  f.from = CivilDay{2026, 9, 28};
  f.to = CivilDay{2026, 11, 26};
  f.who = {"A. Technician"};
  if (c.long_names)
    f.who = {"Dr. Annemarie-Charlotte von Fürstenberg-Hohenlohe", "B. Helferin", "C. Assistent"};
  f.profile = "medium";
  f.owner_words = lorem(c.own_words);
  f.next_visit = c.own_words > 0 ? lorem(c.own_words / 2) : "";
  f.readings_left = 12;
  f.moves_left = 30;
  f.minutes_left = 95;
  f.sections = {{c.compass.lowest, Key{30}, BreakKind::bridge},
                {Key{31}, Key{60}, BreakKind::strut},
                {Key{61}, c.compass.highest, BreakKind::none}};
  if (auto targets = targets_on_record(c.compass, f.sections, {})) f.targets = *targets;
  for (const PreparationKind& kind : preparation_kinds()) {
    PreparationGate::Item item{kind.id, PreparationRecord{}, {}, false, true};
    item.record->state = PreparationState::waived;
    item.record->reason = c.long_names ? lorem(300) : "new cloth in summer";
    f.gate.items.push_back(item);
  }
  Account& a = f.account;
  for (const Aim aim : all_aims)
    for (int k = c.compass.lowest.number; k <= c.compass.highest.number; ++k) {
      const Key key{k};
      NoteAccount n;
      n.key = key;
      n.aim = aim;
      n.reading = reading_of(aim, key);
      n.target = f.targets.at(aim, key).value_or(10);
      n.tolerance = 0.3;
      n.neighbour_tolerance = 0.15;
      if (c.compass.position(key) < c.read) {
        n.first = n.target + 0.6 * wave(k + static_cast<int>(aim));
        n.first_sd = 0.05;
        n.as_found = true;
        n.basis = c.done && k % 3 == 0 ? Basis::reckoned : Basis::read;
        n.now = c.done ? n.target + 0.15 * wave(k) : *n.first;
        n.now_sd = 0.06;
        n.shifted = c.done;
        n.doubted = k % 17 == 0;
      }
      a.notes.push_back(n);
    }
  for (const Aim aim : all_aims)
    for (const Key colour : {Key{40}, Key{41}}) {
      const Reading reading = reading_of(aim, colour);
      if (colour == Key{41} && reading == reading_of(aim, Key{40})) continue;
      ReadingAccount r;
      r.reading = reading;
      std::vector<const NoteAccount*> notes;
      for (const NoteAccount& n : a.notes) {
        if (n.reading != reading) continue;
        ++r.asked;
        if (!n.first) continue;
        ++r.read;
        ++r.as_found;
        ++(n.basis == Basis::read ? r.now_read : r.now_reckoned);
        notes.push_back(&n);
      }
      r.found = r.compared_found = spread_of(notes, true);
      r.now = r.compared_now = spread_of(notes, false);
      a.readings.push_back(r);
    }
  if (c.done)
    for (const AdjusterKind& kind : adjuster_kinds()) {
      if (kind.scope != Scope::per_note) continue;
      AdjusterAccount sum{kind.id, 0, 0, 0, 0};
      for (int i = 0; i < std::min(c.read, c.compass.count()); ++i) {
        a.moves_of_note.push_back({kind.id, c.compass.at(i), 1, 7.0 / 64 * (i % 2 == 0 ? 1 : -1)});
        ++sum.moves;
        ++sum.notes;
      }
      if (sum.moves > 0) a.moves.push_back(sum);
    }
  for (const NoteAccount& n : a.notes)
    if (n.outside_now() || (n.first && n.key.number % 5 == 0)) {
      StillOutside o;
      o.why = static_cast<StillOutside::Why>(1 + n.key.number % 3);
      o.note = n;
      a.outside.push_back(o);
    }
  for (int i = 0; i < 3; ++i) {
    Entry e;
    e.content = MoveSkipped{Adjuster::drop_screw, Key{40 + i},
                            c.long_names ? lorem(400) : "screw turns in the wood"};
    a.skips.push_back(e);
  }
  a.others.push_back({Reading::humidity, std::nullopt, 2, 47, 52.5, 0, 1});
  a.others.push_back({Reading::temperature, std::nullopt, 1, 20.5, 20.5, 0, 0});
  if (c.read > 0 && c.done)
    for (const Key key : {Key{13}, Key{40}, Key{76}}) {
      Touch t{key, {4.48, 4.9, 0.02}, {55.7, 54.1, 0.2}, {9.7, 10.4, 0}, {0.031, 0.009, 0.003}};
      f.touch.push_back(t);
    }
  f.come_back = ComeBack{ComeBack::State::due_at, {2027, 10, 3}, CivilDay{2027, 6, 1},
                         CivilDay{2028, 2, 1},    0.2,           4};
  f.gauges = {{"dial 2", {Reading::blow, Reading::let_off}}};
  if (c.long_names) f.remarks.push_back({Key{40}, lorem(6000), {2026, 11, 26}});
  return f;
}

}  // namespace batten
