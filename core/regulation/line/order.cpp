#include "core/regulation/line/order.hpp"

#include "core/keyboard/samples.hpp"

#include <algorithm>

namespace batten::line {

namespace {
// Moves from which tired hands are worth a word (common practice, no source).
constexpr std::size_t many_moves = 20;
}  // namespace

PreparationGate make_gate(const Standing& standing) {
  PreparationGate gate;
  gate.open = true;
  for (const PreparationKind& kind : preparation_kinds()) {
    PreparationGate::Item& item = gate.items.emplace_back();
    item.item = kind.id;
    if (const auto it = standing.preparation.find(kind.id); it != standing.preparation.end())
      item.record.emplace(it->second);
    for (const auto& [which, record] : standing.preparation_of_note)
      if (which.first == kind.id && record.state == PreparationState::wanting)
        item.wanting_notes.push_back(which.second);
    const bool passed = item.record && item.record->state != PreparationState::wanting &&
                        item.wanting_notes.empty();
    // Screws loosen and wood moves between visits: each visit looks for itself.
    item.earlier_visit = passed && item.record->visit != standing.visit;
    item.passed = passed && !item.earlier_visit;
    gate.open &= item.passed;
  }
  return gate;
}

std::vector<Key> make_order(const Line& line) {
  if (!line.gate.open || !line.transfer.ready) return {};
  std::vector<Key> order = working_order(line.settings.sections, line.settings.samples);
  std::erase_if(order, [&](Key key) { return line.at(key).verdict != Verdict::move; });
  return order;
}

std::vector<Caution> make_cautions(const Line& line) {
  std::vector<Caution> list{Caution::makers_instructions};
  const auto any = [&](auto test) {
    return std::any_of(line.notes.begin(), line.notes.end(), test);
  };
  if (!line.order.empty()) {
    list.push_back(Caution::sliding_the_action);
    list.push_back(Caution::blocked_hammer);
    list.push_back(Caution::lid_case_and_mains);
  }
  const bool lowers = any([](const NoteLine& n) {
    return n.verdict == Verdict::held_escapement || n.crown_travel < Length();
  });
  if (lowers) list.push_back(Caution::lost_escapement);
  const bool strings =
      std::any_of(line.findings.begin(), line.findings.end(),
                  [](const Finding& f) { return f.kind == Finding::Kind::unison_off_level; });
  if (strings) list.push_back(Caution::string_tension);
  if (line.order.size() >= many_moves) list.push_back(Caution::strained_hands);
  return list;
}

}  // namespace batten::line
