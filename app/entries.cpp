#include "app/entries.hpp"

#include "app/entry_checks.hpp"
#include "app/pianos.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace batten {

namespace {

Result<Entry> keep_one(Desk& desk, const Piano& piano, EntryContent content) {
  auto kept = keep(desk, piano, {std::move(content)});
  if (!kept) return tl::unexpected(kept.error());
  return kept->front();
}

}  // namespace

Result<std::vector<Entry>> keep(Desk& desk, const Piano& piano, std::vector<EntryContent> contents,
                                std::optional<Uuid> first) {
  return guarded([&]() -> Result<std::vector<Entry>> {
    auto visit = current_visit(desk, piano);
    if (!visit) return tl::unexpected(visit.error());
    std::vector<Entry> entries;
    entries.reserve(contents.size());
    const std::int64_t now = desk.now_ms();
    for (EntryContent& c : contents)
      entries.push_back({first && entries.empty() ? *first : desk.new_id(), visit->id, now,
                         desk.who, std::move(c)});
    if (auto done = desk.store.append(piano.id, entries); !done)
      return tl::unexpected(done.error());
    return entries;
  });
}

Result<Entry> record_move(Desk& desk, const Piano& piano, std::string_view adjuster,
                          std::string_view note, std::string_view amount, std::string remark) {
  auto move = check_move(piano, adjuster, note, amount, std::move(remark));
  if (!move) return tl::unexpected(move.error());
  return keep_one(desk, piano, std::move(*move));
}

Result<Entry> skip_move(Desk& desk, const Piano& piano, std::string_view adjuster,
                        std::string_view note, std::string reason) {
  auto skip = check_skip(piano, adjuster, note, std::move(reason));
  if (!skip) return tl::unexpected(skip.error());
  return keep_one(desk, piano, std::move(*skip));
}

Result<Entry> note_preparation(Desk& desk, const Piano& piano, std::string_view item,
                               std::string_view state, std::string_view note, std::string reason) {
  auto noted = check_preparation(piano, item, state, note, std::move(reason));
  if (!noted) return tl::unexpected(noted.error());
  return keep_one(desk, piano, std::move(*noted));
}

Result<Entry> choose_setting(Desk& desk, const Piano& piano, const std::string& name,
                             const std::string& value) {
  auto now = standing(desk, piano);
  if (!now) return tl::unexpected(now.error());
  auto setting = check_choice(piano, now->settings, name, value);
  if (!setting) return tl::unexpected(setting.error());
  return keep_one(desk, piano, std::move(*setting));
}

Result<Entry> remark(Desk& desk, const Piano& piano, std::string_view note, std::string text) {
  auto content = check_remark(piano, note, std::move(text));
  if (!content) return tl::unexpected(content.error());
  return keep_one(desk, piano, std::move(*content));
}

Result<Entry> undo(Desk& desk, const Piano& piano, std::string_view identity) {
  return guarded([&]() -> Result<Entry> {
    auto entries = desk.store.entries(piano.id);
    if (!entries) return tl::unexpected(entries.error());
    std::optional<Entry> target;
    if (identity.empty()) {
      target = last_in_force(*entries);
      if (!target)
        return problem("There is nothing to take back.", {}, "The journal is as it was.");
    } else {
      constexpr std::size_t shortest = 4;
      if (identity.size() < shortest)
        return problem("\"" + std::string(identity) + "\" is too short to name an entry.",
                       "Give at least four characters, as \"batten history\" shows them.");
      for (const Entry& e : *entries) {
        if (to_text(e.id).substr(0, identity.size()) != identity) continue;
        if (target) return problem("Several entries begin so.", "Give more characters.");
        target = e;
      }
      if (!target)
        return problem("No entry of this piano begins with \"" + std::string(identity) + "\".",
                       "Look for it in \"batten history\".");
      const auto place = std::find_if(entries->begin(), entries->end(),
                                      [&](const Entry& e) { return e.id == target->id; });
      if (!in_force(*entries)[static_cast<std::size_t>(place - entries->begin())])
        return problem("That entry is taken back already.",
                       "To bring it again, take back the entry that took it back.",
                       "The journal is as it was.");
    }
    if (auto kept = keep_one(desk, piano, Undo{target->id}); !kept)
      return tl::unexpected(kept.error());
    return *target;
  });
}

Result<std::vector<Entry>> undo_step(Desk& desk, const Piano& piano) {
  return guarded([&]() -> Result<std::vector<Entry>> {
    auto entries = desk.store.entries(piano.id);
    if (!entries) return tl::unexpected(entries.error());
    const std::optional<Entry> last = last_in_force(*entries);
    if (!last) return problem("There is nothing to take back.", {}, "The journal is as it was.");
    const std::vector<bool> force = in_force(*entries);
    std::vector<Entry> step;
    std::vector<EntryContent> undos;
    for (std::size_t i = 0; i < entries->size(); ++i) {
      const Entry& e = (*entries)[i];
      // One step has one time and one visit; an undo is taken back by name only.
      if (!force[i] || e.at_ms != last->at_ms || e.visit != last->visit ||
          std::holds_alternative<Undo>(e.content))
        continue;
      step.push_back(e);
      undos.emplace_back(Undo{e.id});
    }
    if (auto kept = keep(desk, piano, std::move(undos)); !kept) return tl::unexpected(kept.error());
    return step;
  });
}

Result<std::vector<HistoryLine>> history(Desk& desk, const Piano& piano) {
  return guarded([&]() -> Result<std::vector<HistoryLine>> {
    auto journal = desk.store.journal(piano.id);
    if (!journal) return tl::unexpected(journal.error());
    auto visits = desk.store.visits(piano.id);
    if (!visits) return tl::unexpected(visits.error());
    std::map<Uuid, std::string> titles;
    for (const Visit& v : *visits) titles[v.id] = v.title;
    std::vector<HistoryLine> lines;
    lines.reserve(journal->size());
    std::vector<Entry> entries;
    entries.reserve(journal->size());
    for (JournalLine& line : *journal) {
      lines.push_back({line.entry, true, titles[line.entry.visit], line.arrival});
      entries.push_back(std::move(line.entry));
    }
    const std::vector<bool> force = in_force(entries);
    for (std::size_t i = 0; i < lines.size(); ++i) lines[i].in_force = force[i];
    return lines;
  });
}

Result<Standing> standing(Desk& desk, const Piano& piano) {
  return guarded([&]() -> Result<Standing> {
    auto entries = desk.store.entries(piano.id);
    if (!entries) return tl::unexpected(entries.error());
    return fold(*entries);
  });
}

}  // namespace batten
