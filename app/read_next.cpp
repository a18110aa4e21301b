#include "app/read_next.hpp"

#include "core/keyboard/samples.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <set>
#include <utility>

namespace batten {

namespace {

using Why = ReadingWanted::Why;

// Readings of a note that have been taken, whichever visit.
std::set<std::pair<Reading, Key>> taken(const PianoPlan& p) {
  std::set<std::pair<Reading, Key>> out;
  for (const Entry& e : p.standing.readings)
    if (const auto& r = std::get<ReadingTaken>(e.content); r.note) out.emplace(r.reading, *r.note);
  return out;
}

class Finder {
 public:
  Finder(const PianoPlan& plan, std::optional<Reading> only, std::size_t most)
      : plan_(plan), only_(only), most_(most) {}

  std::vector<ReadingWanted> all() {
    doubts();
    strings();
    of_plan();
    if (only_) fill(*only_);
    return std::move(found_);
  }

 private:
  const Situation& now() const { return plan_.plan.situation; }

  bool wanted(Reading reading) const { return !only_ || *only_ == reading; }

  void add(ReadingWanted w) {
    if (found_.size() >= most_ || !wanted(w.reading) || !now().equipment.serves(w.key)) return;
    if (!seen_.emplace(w.reading, w.key).second) return;
    expect(w);
    found_.push_back(w);
  }

  // What the notes are believed to be.
  void expect(ReadingWanted& w) const {
    if (w.expected) return;
    if (w.reading == Reading::string_height) {
      if (!plan_.line) return;
      const NoteLine& n = plan_.line->at(w.key);
      if (std::isfinite(n.string_sd.si())) {
        w.expected = n.string_fair.in(millimetre);
        w.expected_sd = n.string_sd.in(millimetre);
      }
      return;
    }
    const auto aim = aim_of(w.reading);
    if (!aim || reading_of(*aim, w.key) != w.reading) return;
    w.expected = now().at(w.key).at(*aim);
    w.expected_sd = now().at(w.key).sd(*aim);
  }

  void doubts() {
    for (const Question& q : now().questions)
      if (q.kind == Question::Kind::odd_reading)
        add({Why::settles_doubt, q.reading, q.key, q.expected, q.expected_sd, {}, {}});
    if (!plan_.line) return;
    for (const NextReading& n : plan_.line->next_string) {
      if (!n.settles_doubt) continue;
      ReadingWanted w{Why::settles_doubt, Reading::string_height, n.key, {}, {}, {}, {}};
      for (const batten::Finding& f : plan_.line->findings)
        if (f.key == n.key && f.kind != batten::Finding::Kind::unison_off_level) {
          w.chance_wrong = f.chance_wrong;
          w.expected = f.expected.in(millimetre);
          w.expected_sd = f.expected_sd.in(millimetre);
        }
      add(w);
    }
  }

  void strings() {
    if (!plan_.line) return;
    for (const NextReading& n : plan_.line->next_string)
      if (!n.settles_doubt)
        add({Why::surer_target, Reading::string_height, n.key, {}, {}, {}, n.drop.in(millimetre)});
  }

  void of_plan() {
    for (const Pass& pass : plan_.plan.passes)
      for (const Instruction& i : pass.steps)
        if (i.kind == Instruction::Kind::read) add({Why::plan, i.reading, i.key, {}, {}, {}, {}});
  }

  void fill(Reading reading) {
    const auto have = taken(plan_);
    const auto& samples = now().line.samples;
    for (const Key key : working_order(now().line.sections, samples)) {
      if (have.contains({reading, key}) || !now().equipment.asks(reading, key)) continue;
      const bool sample = std::ranges::binary_search(samples, key);
      add({sample ? Why::sample : Why::by_halves, reading, key, {}, {}, {}, {}});
    }
  }

  const PianoPlan& plan_;
  std::optional<Reading> only_;
  std::size_t most_;
  std::vector<ReadingWanted> found_;
  std::set<std::pair<Reading, Key>> seen_;
};

}  // namespace

std::vector<ReadingWanted> read_next(const PianoPlan& plan, std::optional<Reading> reading,
                                     std::size_t most) {
  return Finder(plan, reading, most).all();
}

std::vector<ReadingProgress> reading_progress(const PianoPlan& plan) {
  const Situation& now = plan.plan.situation;
  const auto have = taken(plan);
  std::vector<ReadingProgress> out;
  for (const ReadingKind& kind : reading_kinds()) {
    if (kind.scope != Scope::per_note) continue;
    ReadingProgress p{kind.id, 0, 0, 0, 0};
    for (int k = now.compass.lowest.number; k <= now.compass.highest.number; ++k) {
      const Key key{k};
      if (!now.equipment.asks(kind.id, key)) continue;
      const bool read = have.contains({kind.id, key});
      ++p.asked;
      p.read += read ? 1 : 0;
      if (!std::ranges::binary_search(now.line.samples, key)) continue;
      ++p.samples_asked;
      p.samples_read += read ? 1 : 0;
    }
    if (p.asked > 0) out.push_back(p);
  }
  return out;
}

}  // namespace batten
