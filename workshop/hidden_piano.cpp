#include "workshop/hidden_piano.hpp"

#include <cassert>
#include <utility>

namespace batten::workshop {
namespace {

// Estimates. Standard deviation of where a crown comes to lie after its note was touched, and after
// a tap, mm; share of a capstan's lift that felt and centres hold back until then.
constexpr double loose = 0.12, tapped = 0.03, held_back = 0.15;
constexpr double lift_per_turn = 8.8;  // mm of crown, about

}  // namespace

HiddenPiano::HiddenPiano(StringLine strings, Key first_undamped, std::uint64_t seed)
    : strings_(std::move(strings)), first_undamped_(first_undamped), chance_(seed) {
  const auto count = static_cast<std::size_t>(compass().count());
  known_.resize(count);
  stale_.assign(count, true);
  for (std::size_t i = 0; i < count; ++i) unsettled_.push_back(loose * chance_.normal());
}

bool HiddenPiano::has(Key key, Adjuster adjuster) const {
  return index_of(adjuster) < note_adjuster_count &&
         (adjuster != Adjuster::damper_wire || key < first_undamped_);
}

void HiddenPiano::turn(Key key, Adjuster adjuster, double amount) {
  assert(has(key, adjuster));
  move(key, adjuster, amount);
  const double follows = adjuster == Adjuster::capstan ? -held_back * lift_per_turn * amount : 0.0;
  unsettled_[place(key)] = loose * chance_.normal() + follows;
  stale_[place(key)] = true;
}

void HiddenPiano::tap(Key key) { unsettled_[place(key)] = tapped * chance_.normal(); }

void HiddenPiano::next_day() {
  change_friction();
  stale_.assign(stale_.size(), true);
}

std::vector<NoteTruth> HiddenPiano::truth(std::span<const Key> keys) {
  // A sharp's height hangs on the naturals beside it; both ends of a compass are naturals.
  std::vector<Key> wanted;
  const auto want = [&](Key k) {
    if (!stale_[place(k)]) return;
    stale_[place(k)] = false;
    wanted.push_back(k);
  };
  for (const Key k : keys) {
    want(k);
    if (!is_sharp(k)) continue;
    want(Key{k.number - 1});
    want(Key{k.number + 1});
  }
  if (!wanted.empty()) {
    const auto fresh = calc(wanted);
    for (std::size_t i = 0; i < wanted.size(); ++i) known_[place(wanted[i])] = fresh[i];
  }
  std::vector<NoteTruth> out;
  const auto rise = [&](int number) { return known_[place(Key{number})][Aim::key_height]; };
  for (const Key k : keys) {
    NoteTruth t = known_[place(k)];
    t.aim[index_of(Aim::key_height)] =
        is_sharp(k)
            ? sharp_height + rise(k.number) - 0.5 * (rise(k.number - 1) + rise(k.number + 1))
            : natural_height + rise(k.number);
    out.push_back(t);
  }
  return out;
}

std::vector<NoteTruth> HiddenPiano::truth() {
  std::vector<Key> keys;
  for (int i = 0; i < compass().count(); ++i) keys.push_back(compass().at(i));
  return truth(keys);
}

}  // namespace batten::workshop
