#include "core/regulation/complaint/faults.hpp"
#include "core/regulation/complaint/playing.hpp"
#include "core/regulation/complaint/weighing.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace batten {

namespace {

using namespace complaint;
using Entry = ComplaintTable::Entry;

// Sizes played, from the smallest to the largest, and sizes put into the table between them.
constexpr std::size_t played_sizes = 4, drawn_sizes = 9;
// What the model's effect of a fault may be off by, of itself (estimate).
constexpr double model_error = 0.1;

// One cause in one size, played.
struct Effect {
  LookValues looks{};
  Feelings feelings{};
  double blocks = 0;
};

// Where a reading is lost between two sizes, the nearer one holds.
double between(double a, double b, double share) {
  if (std::isnan(a) || std::isnan(b)) return share < 0.5 ? a : b;
  return a + share * (b - a);
}

Entry draw(const std::vector<Effect>& effects, Cause cause, double u, const LookValues& sound) {
  const double place = u * static_cast<double>(played_sizes - 1);
  const std::size_t k = std::min(static_cast<std::size_t>(place), played_sizes - 2);
  const double share = place - static_cast<double>(k);
  const Effect &a = effects[k], &b = effects[k + 1];
  Entry e;
  e.cause = cause;
  e.size = size_at(cause, u);
  e.blocks = between(a.blocks, b.blocks, share);
  for (std::size_t i = 0; i < look_count; ++i) {
    e.expected[i] = between(a.looks[i], b.looks[i], share);
    const double effect = std::isnan(e.expected[i]) ? 0 : e.expected[i] - sound[i];
    e.spread[i] = std::hypot(leftover(static_cast<Look>(i)), model_error * effect);
  }
  for (std::size_t i = 0; i < complaint_count; ++i)
    e.mention[i] = mention(between(a.feelings[i], b.feelings[i], share));
  return e;
}

// A fault that is not in the list: what it makes felt and how far it takes a reading, like those in
// it on the whole.
Entry draw_other(const ComplaintTable& table) {
  Entry other;
  other.cause = Cause::something_else;
  other.expected = table.sound;
  double weights = 0;
  for (const Entry& e : table.entries) {
    weights += e.weight;
    for (std::size_t i = 0; i < complaint_count; ++i) other.mention[i] += e.weight * e.mention[i];
  }
  for (double& m : other.mention) m /= weights;
  for (std::size_t i = 0; i < look_count; ++i) {
    const double plain = 2 * leftover(static_cast<Look>(i));
    double sum = 0, count = 0;
    for (const Entry& e : table.entries) {
      const double effect = e.expected[i] - table.sound[i];
      if (!(std::abs(effect) > plain)) continue;
      sum += effect * effect;
      count += 1;
    }
    other.spread[i] = count > 0 ? std::sqrt(sum / count) : plain;
  }
  return other;
}

Entry draw_sound(const ComplaintTable& table) {
  Entry sound;
  sound.expected = table.sound;
  for (std::size_t i = 0; i < look_count; ++i) sound.spread[i] = leftover(static_cast<Look>(i));
  sound.mention.fill(mention(0));
  return sound;
}

}  // namespace

Result<ComplaintTable> calc_complaint_table(const action::PreparedNote& note) {
  const auto at_note = [&](Problem p) {
    p.happened = note_name(note.key) + ": " + p.happened;
    return tl::unexpected(std::move(p));
  };
  std::vector<Cause> causes;
  std::vector<action::Note> notes{note.note};
  for (std::size_t c = 0; c < listed_cause_count; ++c) {
    const auto cause = static_cast<Cause>(c);
    if (!can_have(note.note, cause)) continue;
    causes.push_back(cause);
    for (std::size_t s = 0; s < played_sizes; ++s) {
      const double u = static_cast<double>(s) / static_cast<double>(played_sizes - 1);
      notes.push_back(with_fault(note.note, cause, size_at(cause, u)));
    }
  }
  const auto hand = choose_hand(note.note);
  if (!hand) return at_note(hand.error());
  const auto played = play(notes, *hand);
  for (const auto& p : played)
    if (!p) return at_note(p.error());

  ComplaintTable table;
  table.key = note.key;
  const Played& sound = *played[0];
  table.sound = calc_looks(sound, sound);
  double all = 0;
  for (const CauseKind& kind : cause_kinds())
    if (can_have(note.note, kind.id)) all += kind.prior;
  std::size_t next = 1;
  for (const Cause cause : causes) {
    std::vector<Effect> effects;
    for (std::size_t s = 0; s < played_sizes; ++s) {
      const Played& p = *played[next++];
      const auto& faults = p.readings.faults;
      const bool held = std::ranges::find(faults, action::Fault::blocked) != faults.end() ||
                        std::ranges::find(faults, action::Fault::lever_carried) != faults.end();
      effects.push_back(
          {calc_looks(p, sound), calc_feelings(p, sound, {1, 1.25}), held ? 1.0 : 0.0});
    }
    for (std::size_t i = 0; i < drawn_sizes; ++i) {
      const double u = (static_cast<double>(i) + 0.5) / static_cast<double>(drawn_sizes);
      table.entries.push_back(draw(effects, cause, u, table.sound));
      table.entries.back().weight = kind_of(cause).prior / all / static_cast<double>(drawn_sizes);
    }
  }
  const Entry other = draw_other(table), in_order = draw_sound(table);
  for (const Entry& e : {other, in_order}) {
    table.entries.push_back(e);
    table.entries.back().weight = kind_of(e.cause).prior / all;
  }
  fill_outcomes(table);
  return table;
}

}  // namespace batten
