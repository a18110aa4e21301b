#include "app/complaint_job.hpp"

#include "app/action_job.hpp"
#include "app/entries.hpp"
#include "app/pianos.hpp"
#include "app/readings.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/aims/aim.hpp"
#include "core/regulation/aims/targets.hpp"
#include "core/regulation/line/line.hpp"
#include "exchange/cell_value.hpp"

#include <algorithm>
#include <cctype>
#include <map>
#include <memory>
#include <string_view>
#include <utility>

namespace batten {

namespace {

std::string folded(std::string_view text) {
  std::string out;
  for (const char c : text)
    if (c != ' ' && c != '-' && c != '_')
      out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

// A grade or value behind the look's code.
Result<Sighting> parse_look(const std::string& text) {
  const auto gap = text.find_first_of(" =");
  const auto look = look_by_code(text.substr(0, gap));
  if (!look) {
    std::string known;
    for (const LookKind& k : look_kinds())
      known += (known.empty() ? "" : ", ") + std::string(k.code);
    return problem("There is no look \"" + text.substr(0, gap) + "\".",
                   "There are: " + known + ".");
  }
  const LookKind& kind = kind_of(*look);
  if (gap == std::string::npos)
    return problem("There is no value behind " + std::string(kind.code) + ".",
                   "Write it behind, as in \"" + std::string(kind.code) +
                       " 1\"; none if it cannot "
                       "be read.");
  Sighting seen;
  seen.look = *look;
  std::string value = text.substr(gap + 1);
  if (value == "none") return seen;
  constexpr std::string_view beside = " beside ";
  if (const auto at = value.find(beside); at != std::string::npos) {
    auto number = parse_cell(value.substr(at + beside.size()), CellUnit{.kept = kind.unit});
    if (!number) return tl::unexpected(number.error());
    seen.beside = *number;
    value.resize(at);
  }
  auto number = parse_cell(value, CellUnit{.kept = kind.unit});
  if (!number) return tl::unexpected(number.error());
  seen.value = *number;
  return seen;
}

struct Journal {
  std::vector<Sighting> seen;
  std::vector<std::string> told;
};

// The latest of each look at the note since any of its adjusters was moved.
Journal journal_at(const Standing& standing, Key key) {
  std::size_t moved = 0;
  for (std::size_t i = 0; i < standing.moves.size(); ++i)
    if (std::get<MoveMade>(standing.moves[i].content).note == key)
      moved = std::max(moved, standing.move_places[i] + 1);
  std::map<Look, const ReadingTaken*> latest;
  for (std::size_t i = 0; i < standing.readings.size(); ++i) {
    const auto& r = std::get<ReadingTaken>(standing.readings[i].content);
    if (r.note != key || standing.reading_places[i] < moved) continue;
    // A height of the key tells nothing without its neighbours'.
    if (const auto look = look_of(r.reading); look && *look != Look::key_height) latest[*look] = &r;
  }
  Journal out;
  for (const auto& [look, r] : latest) {
    out.seen.push_back({look, r->value, r->uncertainty, std::nullopt});
    out.told.push_back(std::string(kind_of(r->reading).name) + " " +
                       print_reading(r->reading, r->value));
  }
  return out;
}

using Table = std::shared_ptr<const ComplaintTable>;

Result<Table> table_of(const ProfileFile& file, Key key, ComplaintMemory* memory) {
  const std::string name =
      memory == nullptr ? "" : std::to_string(key.number) + " " + print_profile(file);
  if (memory != nullptr)
    if (auto known = memory->tables.find(name)) return known;
  auto note = action::prepare_note(file.profile, key);
  if (!note) return tl::unexpected(note.error());
  auto table = calc_complaint_table(*note);
  if (!table) return tl::unexpected(table.error());
  if (memory != nullptr) return memory->tables.keep(name, std::move(*table));
  return std::make_shared<const ComplaintTable>(std::move(*table));
}

}  // namespace

Result<Complaint> parse_complaint(const std::string& text) {
  if (const auto exact = complaint_by_code(text)) return *exact;
  std::vector<const ComplaintKind*> fitting;
  std::string known;
  for (const ComplaintKind& k : complaint_kinds()) {
    if (!text.empty() && folded(k.code).starts_with(folded(text))) fitting.push_back(&k);
    known += (known.empty() ? "" : ", ") + std::string(k.code);
  }
  if (fitting.size() == 1) return fitting.front()->id;
  return problem(
      (fitting.empty() ? "There is no complaint \"" : "Several complaints begin \"") + text + "\".",
      "There are: " + known + ".");
}

Result<PianoDiagnosis> find_causes(Desk& desk, const Piano& piano, const ComplaintRequest& request,
                                   ComplaintMemory* memory) {
  return guarded([&]() -> Result<PianoDiagnosis> {
    PianoDiagnosis out;
    const Compass compass = compass_of(piano);
    auto key = parse_key(request.note);
    if (!key) return tl::unexpected(key.error());
    if (!compass.contains(*key))
      return problem(note_name(*key) + " is not on this keyboard.", "Check the note.");
    out.key = *key;
    for (const std::string& word : request.felt) {
      auto complaint = parse_complaint(word);
      if (!complaint) return tl::unexpected(complaint.error());
      if (std::ranges::find(out.felt, *complaint) == out.felt.end()) out.felt.push_back(*complaint);
    }
    auto now = standing(desk, piano);
    if (!now) return tl::unexpected(now.error());
    Journal journal = journal_at(*now, *key);
    for (const std::string& word : request.looks) {
      auto look = parse_look(word);
      if (!look) return tl::unexpected(look.error());
      // What is said now stands for what is on record.
      for (std::size_t i = 0; i < journal.seen.size(); ++i)
        if (journal.seen[i].look == look->look) {
          const auto at = static_cast<std::ptrdiff_t>(i);
          journal.seen.erase(journal.seen.begin() + at);
          journal.told.erase(journal.told.begin() + at);
          break;
        }
      out.seen.push_back(*look);
    }
    for (const Sighting& s : journal.seen) out.looks_from_journal.push_back(s.look);
    out.seen.insert(out.seen.end(), journal.seen.begin(), journal.seen.end());
    out.from_journal = std::move(journal.told);

    // Sound notes read what this piano is regulated to, where that is on record.
    if (auto line = line_settings(compass, now->settings))
      if (auto targets = targets_on_record(compass, line->sections, now->settings))
        for (Sighting& s : out.seen)
          if (const auto reading = kind_of(s.look).reading; reading && !s.beside)
            if (const auto aim = aim_of(*reading)) s.beside = targets->at(*aim, *key);

    const auto set = now->settings.find(action_profile_setting);
    out.profile_chosen = set != now->settings.end();
    auto file = out.profile_chosen ? profile_of(desk, piano) : find_profile("medium");
    if (!file) return tl::unexpected(file.error());
    out.profile = file->profile.name;
    auto table = table_of(*file, *key, memory);
    if (!table) return tl::unexpected(table.error());
    auto diagnosis = diagnose(**table, out.felt, out.seen);
    if (!diagnosis) return tl::unexpected(diagnosis.error());
    out.diagnosis = std::move(*diagnosis);
    return out;
  });
}

}  // namespace batten
