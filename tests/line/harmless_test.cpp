// No advised move may do harm, whatever stands in the journal. The rules are reckoned here a second
// time, straight from the entries, and not from what the line made of them.
#include "tests/line/journal_page.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <vector>

namespace batten {
namespace {

using namespace line_test;

int in(int low, int high) { return *rc::gen::inRange(low, high + 1); }
bool chance(int percent) { return in(1, 100) <= percent; }
std::string note(int number) { return note_name(Key{number}); }

// Tenths and hundredths of a millimetre, as gauges show them.
double around(double middle, double spread) { return middle + spread * in(-100, 100) / 100.0; }

void read_hammers(Page& page, double height) {
  const double spread = chance(50) ? 1.5 : 8;
  for (int i = 0, n = in(0, 12); i < n; ++i) {
    const std::string at = note(in(1, 88));
    const double h = around(height, spread);
    page.hammer(at, h, 0.01 * in(1, 40));
    if (chance(25)) page.hammer(at, around(h, 0.8), 0.1);
  }
  for (int i = 0, n = in(0, 6); i < n; ++i) {
    const std::string at = note(in(1, 88));
    const double b = around(46, chance(30) ? 15 : 2);
    page.blow(at, b, 0.01 * in(1, 40));
    if (chance(25)) page.blow(at, around(b, 1), 0.1);
  }
}

void disturb(Page& page) {
  for (int i = 0, n = in(0, 8); i < n; ++i) {
    const auto adjuster = static_cast<Adjuster>(in(0, 10));
    page.turned(note(in(1, 88)), 0.1 * in(-3, 3) + 0.05, adjuster);
    if (chance(20)) page.undo_last();
  }
}

void prepare(Page& page) {
  if (chance(95)) page.pass_gate();
  for (int i = 0, n = chance(80) ? 0 : in(1, 3); i < n; ++i)
    page.prepare(static_cast<PreparationItem>(in(0, 9)), static_cast<PreparationState>(in(0, 3)),
                 chance(50) ? note(in(1, 88)) : "", "why");
}

Page any_page() {
  Page page;
  page.set("sections", "E2 bridge, A#4 strut, D6 strut");
  page.set("blow-target", std::to_string(in(36, 50)));
  const bool bench = chance(40);
  if (bench) page.set("hammer-datum", "bench");
  if (chance(20)) page.set("out-of-service", note(in(1, 88)) + " " + note(in(1, 88)));
  if (chance(30)) page.set("direction-sureness", "0.5");
  prepare(page);
  for (int visit = 0, visits = in(1, 2); visit < visits; ++visit) {
    if (visit > 0) {
      page.new_visit();
      prepare(page);
    }
    for (int k = in (1, 6), step = in(2, 8); k <= 88; k += step)
      page.string(note(k), around(200, 0.3));
    for (int i = 0, n = bench ? in(0, 8) : 0; i < n; ++i)
      page.transfer(note(in(1, 88)), around(60, 0.2));
    read_hammers(page, bench ? 94 : 154);
    for (int i = 0, n = in(0, 5); i < n; ++i) page.aftertouch(note(in(1, 88)), 0.01 * in(0, 200));
    disturb(page);
    if (chance(60)) read_hammers(page, bench ? 94 : 154);
  }
  return page;
}

// What the journal says of one note, reckoned the plain way.
struct Known {
  std::vector<std::pair<double, double>> hammers, blows;  // in force, since the last move
  double aftertouch = 0;                                  // that can be relied on
};

bool disturbs_rest(Adjuster a) {
  return a == Adjuster::capstan || a == Adjuster::balance_punchings ||
         a == Adjuster::lever_height_button || a == Adjuster::repetition_spring;
}
// Half a turn more or less is reckoned as going 10.5 mm a turn down at R = 4.5, 7.5 mm up at R
// = 6.8; moves whose effect on the aftertouch nobody knows leave none to rely on.
double aftertouch_after(double value, const MoveMade& m) {
  switch (m.adjuster) {
    case Adjuster::capstan:
      return value + (m.amount < 0 ? m.amount * 10.5 / 4.5 : m.amount * 7.5 / 6.8);
    case Adjuster::front_punchings:
      return value - m.amount;
    case Adjuster::let_off_button:
    case Adjuster::balance_punchings:
    case Adjuster::jack_button:
    case Adjuster::lever_height_button:
      return -1e9;
    default:
      return value;
  }
}

double aftertouch_of(const std::vector<Entry>& entries, Key key, const Section& section) {
  std::map<Key, double> newest;  // in the section
  for (const Entry& e : entries)
    if (const auto* r = std::get_if<ReadingTaken>(&e.content))
      if (r->reading == Reading::aftertouch && section.contains(*r->note))
        newest[*r->note] = r->value;
  if (newest.empty()) return 0;
  double value = 0.8;
  for (auto [k, v] : newest) value = std::min(value, v);
  for (const Entry& e : entries) {
    if (const auto* r = std::get_if<ReadingTaken>(&e.content))
      if (r->reading == Reading::aftertouch && r->note == key) value = r->value;
    if (const auto* m = std::get_if<MoveMade>(&e.content))
      if (m->note == key) value = aftertouch_after(value, *m);
  }
  return value;
}

// The visit the latest reading of a kind was taken in.
std::map<Reading, Uuid> latest_visits(const std::vector<Entry>& entries) {
  std::map<Reading, Uuid> visits;
  for (const Entry& e : entries)
    if (const auto* r = std::get_if<ReadingTaken>(&e.content)) visits[r->reading] = e.visit;
  return visits;
}

Known known_of(const std::vector<Entry>& entries, const std::map<Reading, Uuid>& visits, Key key) {
  Known known;
  for (const Entry& e : entries) {
    if (const auto* m = std::get_if<MoveMade>(&e.content); m != nullptr && m->note == key) {
      if (disturbs_rest(m->adjuster)) known.hammers.clear(), known.blows.clear();
    }
    const auto* r = std::get_if<ReadingTaken>(&e.content);
    if (r == nullptr || r->note != key || visits.at(r->reading) != e.visit) continue;
    if (r->reading == Reading::hammer_height) known.hammers.emplace_back(r->value, r->uncertainty);
    if (r->reading == Reading::blow) known.blows.emplace_back(r->value, r->uncertainty);
  }
  return known;
}

// Scatter of repeats against what they state: sqrt(chi² / (n − 1)).
double birge(const std::vector<std::pair<double, double>>& repeats) {
  double w = 0, sum = 0, chi2 = 0;
  for (auto [v, u] : repeats) w += 1 / (u * u), sum += v / (u * u);
  for (auto [v, u] : repeats) chi2 += std::pow((v - sum / w) / u, 2);
  return repeats.size() < 2 ? 0 : std::sqrt(chi2 / static_cast<double>(repeats.size() - 1));
}

// In force: without the entries undone and the undos (a page undoes only what it wrote last).
std::vector<Entry> in_force_only(const std::vector<Entry>& entries) {
  std::vector<Entry> out;
  for (const Entry& e : entries) {
    if (std::holds_alternative<Undo>(e.content))
      out.pop_back();
    else
      out.push_back(e);
  }
  return out;
}

// In the last visit alone.
bool gate_passed(const std::vector<Entry>& entries) {
  std::map<PreparationItem, PreparationState> piano;
  std::map<std::pair<PreparationItem, Key>, PreparationState> single;
  for (const Entry& e : entries)
    if (const auto* p = std::get_if<PreparationNoted>(&e.content)) {
      if (!p->note && e.visit != entries.back().visit) continue;
      if (p->note) {
        single[{p->item, *p->note}] = p->state;
        continue;
      }
      piano[p->item] = p->state;
      std::erase_if(single, [&](const auto& s) { return s.first.first == p->item; });
    }
  for (const auto& [item, state] : piano)
    if (state == PreparationState::wanting) return false;
  for (const auto& [item, state] : single)
    if (state == PreparationState::wanting) return false;
  return piano.size() == 10;  // all items of the catalogue
}

bool bench_tied(const std::vector<Entry>& entries, const std::map<Reading, Uuid>& visits) {
  std::set<Key> notes;
  bool after_hammers = false;
  for (const Entry& e : entries)
    if (const auto* r = std::get_if<ReadingTaken>(&e.content)) {
      if (r->reading == Reading::hammer_height) after_hammers = false;
      if (r->reading != Reading::datum_transfer || visits.at(r->reading) != e.visit) continue;
      notes.insert(*r->note);
      after_hammers = true;
    }
  const auto hammers = visits.find(Reading::hammer_height);
  const bool same = hammers != visits.end() && visits.contains(Reading::datum_transfer) &&
                    hammers->second == visits.at(Reading::datum_transfer);
  return notes.size() >= 3 && hammers != visits.end() && (same || after_hammers);
}

void hold_to_the_rules(const NoteLine& n, const Line& line, const Known& known) {
  RC_ASSERT(n.verdict == Verdict::move);
  RC_ASSERT(!known.hammers.empty() || !known.blows.empty());  // read since it was last moved
  for (Key k : line.settings.out_of_service) RC_ASSERT(k != n.key);
  // The direction mends the deviation, by a whole number of steps.
  RC_ASSERT(n.turns.in(turn)*mm(*n.deviation) < 0);
  const double steps = n.turns.in(turn)*line.settings.turn_denominator;
  RC_ASSERT(std::abs(steps - std::round(steps)) < 1e-9);
  RC_ASSERT(std::abs(mm(*n.deviation)) <= 6);
  const auto agree = [](std::vector<std::pair<double, double>> repeats) {
    if (birge(repeats) <= 3 + 1e-9) return true;
    if (repeats.size() < 3) return false;
    return birge({repeats.end() - 2, repeats.end()}) <= 3 + 1e-9;
  };
  RC_ASSERT((!known.hammers.empty() && agree(known.hammers)) ||
            (!known.blows.empty() && agree(known.blows)));
  RC_ASSERT(!known.blows.empty() || mm(n.target_sd) <= 0.25);
  const double travel = mm(n.crown_travel);
  // Escapement: aftertouch left, by (blow − let-off) / (dip − aftertouch) = R with R = 4.5.
  // By the crown's travel and by the turns, 10.5 mm each at the most.
  const double down = std::max(-travel, -n.turns.in(turn)*10.5);
  if (down > 0) RC_ASSERT(known.aftertouch - down / 4.5 >= 0.5 - 1e-9);
  // Blow limits, by the block where one was held there.
  if (travel > 0 && !known.blows.empty()) {
    double w = 0, sum = 0;
    for (auto [v, u] : known.blows) w += 1 / (u * u), sum += v / (u * u);
    RC_ASSERT(sum / w - travel >= 35 - 1e-9);
  }
}

RC_GTEST_PROP(Harmless, NoAdvisedMoveDoesHarm, ()) {
  const Page page = any_page();
  const auto entries = in_force_only(page.entries());
  const auto visits = latest_visits(entries);
  const auto drawn = calc_line(Compass{}, page.standing());
  RC_ASSERT(drawn.has_value());
  const Line& line = *drawn;

  const bool gate = gate_passed(entries);
  const bool tied = !line.settings.hammers_on_bench || bench_tied(entries, visits);
  RC_ASSERT(line.gate.open == gate);
  RC_ASSERT(line.transfer.ready == tied);
  RC_ASSERT((gate && tied) || line.order.empty());

  std::set<Key> ordered;
  for (Key k : line.order) {
    RC_ASSERT(ordered.insert(k).second);
    Known known = known_of(entries, visits, k);
    const Section& section = line.settings.sections[static_cast<std::size_t>(line.at(k).section)];
    known.aftertouch = aftertouch_of(entries, k, section);
    hold_to_the_rules(line.at(k), line, known);
  }
  // Nothing that is to be turned is left out, and what is left alone says no amount.
  for (const NoteLine& n : line.notes) {
    if (gate && tied) RC_ASSERT((n.verdict == Verdict::move) == ordered.contains(n.key));
    if (n.verdict != Verdict::move) RC_ASSERT(n.turns == Turns() && n.crown_travel == Length());
  }
  RC_CLASSIFY(!line.order.empty(), "moves advised");
}

}  // namespace
}  // namespace batten
