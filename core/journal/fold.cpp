#include "core/journal/fold.hpp"

#include <cstddef>
#include <limits>
#include <unordered_map>
#include <utility>

namespace batten {
namespace {

constexpr std::size_t nowhere = std::numeric_limits<std::size_t>::max();

struct UuidHash {
  // FNV-1a hash: ids need not be random.
  std::size_t operator()(const Uuid& id) const {
    std::uint64_t hash = 14695981039346656037U;
    for (const std::uint8_t byte : id.bytes) hash = (hash ^ byte) * 1099511628211U;
    return static_cast<std::size_t>(hash);
  }
};

// For every entry the place of the entry it undoes; `nowhere` for others, for undos of unknown
// entries and for repeats.
struct UndoGraph {
  std::vector<std::size_t> target;
  std::vector<bool> repeat;
};

UndoGraph link_undos(const std::vector<Entry>& entries) {
  UndoGraph graph{std::vector<std::size_t>(entries.size(), nowhere),
                  std::vector<bool>(entries.size(), false)};
  std::unordered_map<Uuid, std::size_t, UuidHash> place_of;
  place_of.reserve(entries.size());
  for (std::size_t i = 0; i < entries.size(); ++i) {
    graph.repeat[i] = !place_of.emplace(entries[i].id, i).second;
  }
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const auto* undo = std::get_if<Undo>(&entries[i].content);
    if (undo == nullptr || graph.repeat[i]) continue;
    const auto found = place_of.find(undo->entry);
    if (found != place_of.end()) graph.target[i] = found->second;
  }
  return graph;
}

// Drops the skips that `ends` says are over.
template <class Ends>
void end_skips(Standing& standing, Ends ends) {
  std::size_t kept = 0;
  for (std::size_t i = 0; i < standing.skips.size(); ++i) {
    if (ends(std::get<MoveSkipped>(standing.skips[i].content))) continue;
    if (kept != i) {
      standing.skips[kept] = std::move(standing.skips[i]);
      standing.skip_places[kept] = standing.skip_places[i];
    }
    ++kept;
  }
  standing.skips.resize(kept);
  standing.skip_places.resize(kept);
}

void note_preparation(Standing& standing, const Entry& entry, const PreparationNoted& noted) {
  const PreparationRecord record{noted.state, noted.reason, entry.at_ms, entry.visit};
  if (noted.note) {
    standing.preparation_of_note[{noted.item, *noted.note}] = record;
    return;
  }
  standing.preparation[noted.item] = record;
  std::erase_if(standing.preparation_of_note,
                [&](const auto& of_note) { return of_note.first.first == noted.item; });
}

}  // namespace

std::vector<bool> in_force(const std::vector<Entry>& entries) {
  const UndoGraph graph = link_undos(entries);
  // Decide an entry once every undo that names it is decided. Each undo names one entry, so what is
  // left undecided at the end are rings of undos and nothing else.
  std::vector<std::size_t> undecided_undos(entries.size(), 0);
  for (const std::size_t target : graph.target) {
    if (target != nowhere) ++undecided_undos[target];
  }
  std::vector<std::size_t> ready;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (undecided_undos[i] == 0 && !graph.repeat[i]) ready.push_back(i);
  }
  std::vector<bool> undone(entries.size(), false);
  std::vector<bool> force(entries.size(), false);
  while (!ready.empty()) {
    const std::size_t i = ready.back();
    ready.pop_back();
    force[i] = !undone[i];
    const std::size_t target = graph.target[i];
    if (target == nowhere) continue;
    if (force[i]) undone[target] = true;
    if (--undecided_undos[target] == 0) ready.push_back(target);
  }
  return force;
}

Standing fold(const std::vector<Entry>& entries) {
  const std::vector<bool> force = in_force(entries);
  Standing standing;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (!force[i]) continue;
    const Entry& entry = entries[i];
    if (!std::holds_alternative<Undo>(entry.content)) standing.visit = entry.visit;
    if (const auto* taken = std::get_if<ReadingTaken>(&entry.content)) {
      end_skips(standing, [&](const MoveSkipped& skip) {
        return shows(taken->reading, skip.adjuster) && (!taken->note || taken->note == skip.note);
      });
      standing.readings.push_back(entry);
      standing.reading_places.push_back(i);
    } else if (const auto* made = std::get_if<MoveMade>(&entry.content)) {
      end_skips(standing, [&](const MoveSkipped& skip) {
        return made->adjuster == skip.adjuster && (!skip.note || made->note == skip.note);
      });
      standing.moves.push_back(entry);
      standing.move_places.push_back(i);
    } else if (const auto* skipped = std::get_if<MoveSkipped>(&entry.content)) {
      end_skips(standing, [&](const MoveSkipped& skip) {
        return skip.adjuster == skipped->adjuster && skip.note == skipped->note;
      });
      standing.skips.push_back(entry);
      standing.skip_places.push_back(i);
    } else if (std::holds_alternative<Remark>(entry.content)) {
      standing.remarks.push_back(entry);
    } else if (const auto* noted = std::get_if<PreparationNoted>(&entry.content)) {
      note_preparation(standing, entry, *noted);
    } else if (const auto* setting = std::get_if<SettingChosen>(&entry.content)) {
      std::string& value = standing.settings[setting->name];
      if (value != setting->value) standing.setting_changes[setting->name] = {i, value};
      value = setting->value;
    }
  }
  return standing;
}

std::optional<Entry> last_in_force(const std::vector<Entry>& entries) {
  const std::vector<bool> force = in_force(entries);
  for (std::size_t i = entries.size(); i-- > 0;) {
    if (force[i] && !std::holds_alternative<Undo>(entries[i].content)) return entries[i];
  }
  return std::nullopt;
}

}  // namespace batten
