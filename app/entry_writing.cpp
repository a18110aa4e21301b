#include "app/entry_writing.hpp"

#include "app/action_job.hpp"
#include "app/entry_checks.hpp"
#include "app/pianos.hpp"
#include "core/journal/fold.hpp"
#include "core/regulation/line/line.hpp"
#include "records/entry_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <map>
#include <utility>

namespace batten {

namespace {

using Why = NotWritten::Why;

constexpr std::size_t most_at_once = 500;
constexpr std::int64_t day_ms = 86'400'000;
constexpr std::int64_t year_2000_ms = 946'684'800'000;

// What cannot be said of a thing without looking at the journal.
struct Content {
  const Piano& piano;
  const std::map<std::string, std::string>& settings;

  Result<EntryContent> operator()(const ReadingRequest& r) const {
    return check_reading(piano, r).map([](ReadingTaken t) { return EntryContent(std::move(t)); });
  }
  Result<EntryContent> operator()(const WantedMove& m) const {
    return std::visit(
        [&](const auto& amount) -> Result<EntryContent> {
          auto move = check_move(piano, m.adjuster, m.note, amount, m.remark);
          if (!move) return tl::unexpected(move.error());
          return std::move(*move);
        },
        m.amount);
  }
  Result<EntryContent> operator()(const WantedSkip& s) const {
    auto skip = check_skip(piano, s.adjuster, s.note, s.reason);
    if (!skip) return tl::unexpected(skip.error());
    return std::move(*skip);
  }
  Result<EntryContent> operator()(const WantedPreparation& p) const {
    auto noted = check_preparation(piano, p.item, p.state, p.note, p.reason);
    if (!noted) return tl::unexpected(noted.error());
    return std::move(*noted);
  }
  Result<EntryContent> operator()(const WantedSetting& s) const {
    if (s.name == action_profile_setting) {
      const auto set = settings.find(s.name);
      const bool stored = std::ranges::any_of(stored_profiles(), [&](const StoredProfile& p) {
        return std::ranges::equal(p.name, s.value, [](char a, char b) {
          return a == (b >= 'A' && b <= 'Z' ? static_cast<char>(b - 'A' + 'a') : b);
        });
      });
      if (!stored && (set == settings.end() || set->second != s.value))
        return problem("\"" + s.value + "\" is no action profile that comes with the program.",
                       "A profile of your own is set at the machine itself: batten set "
                       "action-profile FILE.",
                       "The setting was not changed.");
    }
    auto chosen = check_choice(piano, settings, s.name, s.value);
    if (!chosen) return tl::unexpected(chosen.error());
    return std::move(*chosen);
  }
  Result<EntryContent> operator()(const WantedRemark& r) const {
    auto remark = check_remark(piano, r.note, r.text);
    if (!remark) return tl::unexpected(remark.error());
    return std::move(*remark);
  }
  Result<EntryContent> operator()(const WantedUndo& u) const { return Undo{u.entry}; }
};

// The journal with what has been taken on of the request.
class Writing {
 public:
  Writing(const Piano& piano, std::vector<Entry> journal)
      : piano_(piano), journal_(std::move(journal)) {
    for (std::size_t i = 0; i < journal_.size(); ++i) place_.emplace(journal_[i].id, i);
  }

  const Entry* find(const Uuid& id) const {
    const auto at = place_.find(id);
    return at == place_.end() ? nullptr : &journal_[at->second];
  }

  // Whether what is wanted is what is there: as it would be written, whatever stands in its way
  // now.
  bool same(const Entry& there, const WantedEntry& wanted) {
    if (wanted.at_ms && *wanted.at_ms != there.at_ms) return false;
    // A setting is compared as typed: beside others of today it may no longer be possible.
    if (const auto* setting = std::get_if<WantedSetting>(&wanted.what)) {
      const auto* chosen = std::get_if<SettingChosen>(&there.content);
      if (chosen == nullptr || chosen->name != setting->name) return false;
      if (chosen->value == setting->value) return true;
      if (setting->name != action_profile_setting) return false;
    }
    auto content = std::visit(Content{piano_, settings()}, wanted.what);
    return content && *content == there.content;
  }

  Result<EntryContent> check(const WantedEntry& wanted) {
    auto content = std::visit(Content{piano_, settings()}, wanted.what);
    if (!content) return content;
    if (const auto* taken = std::get_if<ReadingTaken>(&*content))
      if (auto ok = check_against_piano(line(), *taken); !ok) return tl::unexpected(ok.error());
    if (const auto* undo = std::get_if<Undo>(&*content))
      if (auto ok = check_undo(*undo); !ok) return tl::unexpected(ok.error());
    return content;
  }

  void add(const Entry& entry) {
    // What holds changes with these two only, and finding it costs a walk over all.
    if (std::holds_alternative<SettingChosen>(entry.content) ||
        std::holds_alternative<Undo>(entry.content))
      known_ = false;
    place_.emplace(entry.id, journal_.size());
    journal_.push_back(entry);
  }

  std::size_t size() const { return journal_.size(); }

 private:
  const std::map<std::string, std::string>& settings() {
    look();
    return settings_;
  }
  const std::optional<LineSettings>& line() {
    look();
    return line_;
  }
  void look() {
    if (known_) return;
    known_ = true;
    settings_ = fold(journal_).settings;
    auto line = line_settings(compass_of(piano_), settings_);
    line_ = line ? std::optional<LineSettings>(std::move(*line)) : std::nullopt;
  }

  Result<void> check_undo(const Undo& undo) const {
    const auto at = place_.find(undo.entry);
    if (at == place_.end())
      return problem("There is no such entry to take back.", "Look for it in the journal.",
                     "The journal is as it was.");
    if (!in_force(journal_)[at->second])
      return problem("That entry is taken back already.",
                     "To bring it again, take back the entry that took it back.",
                     "The journal is as it was.");
    return {};
  }

  const Piano& piano_;
  std::vector<Entry> journal_;
  std::map<Uuid, std::size_t> place_;
  bool known_ = false;
  std::map<std::string, std::string> settings_;
  std::optional<LineSettings> line_;
};

Result<void> check_time(std::int64_t at_ms, std::int64_t now_ms) {
  if (at_ms > now_ms + day_ms)
    return problem("The entry says it was made more than a day from now.",
                   "Set the clock of the device it was made on.", "It was not written down.");
  if (at_ms < year_2000_ms)
    return problem("The entry says it was made before the year 2000.",
                   "Set the clock of the device it was made on.", "It was not written down.");
  return {};
}

NotWritten conflict_of(const Uuid& id) {
  return {Why::conflict,
          {fmt::format("Entry {} is on record already, with other content.", to_text(id)),
           "What was there is kept, and nothing was written.",
           "An entry is never changed: take it back and enter the right one under a new identity."},
          id};
}

tl::expected<WrittenEntries, NotWritten> write(Desk& desk, const Piano& piano,
                                               const std::string& who,
                                               std::span<const WantedEntry> wanted) {
  const auto no = [](Problem p, std::optional<Uuid> id = {}) {
    return tl::unexpected(NotWritten{Why::refused, std::move(p), id});
  };
  if (wanted.size() > most_at_once)
    return no({fmt::format("{} entries are too many at once.", wanted.size()),
               "Nothing was written.", fmt::format("Send at most {}.", most_at_once)});
  auto journal = desk.store.entries(piano.id);
  if (!journal) return no(journal.error());
  Writing writing(piano, std::move(*journal));
  const std::int64_t now = desk.now_ms();
  WrittenEntries out;
  std::vector<std::size_t> fresh;  // places in out.entries
  for (const WantedEntry& w : wanted) {
    if (w.id.is_nil())
      return no({"An entry came without an identity.", "Nothing was written.",
                 "Give each a new UUID as its id."});
    if (const Entry* there = writing.find(w.id)) {
      const Entry known = *there;
      if (!writing.same(known, w)) return tl::unexpected(conflict_of(w.id));
      out.entries.push_back(known);
      ++out.already_there;
      continue;
    }
    if (w.at_ms)
      if (auto ok = check_time(*w.at_ms, now); !ok) return no(ok.error(), w.id);
    auto content = writing.check(w);
    if (!content) return no(content.error(), w.id);
    Entry entry{w.id, {}, w.at_ms.value_or(now), who, std::move(*content)};
    if (auto ok = check_entry(entry); !ok) return no(ok.error(), w.id);
    writing.add(entry);
    fresh.push_back(out.entries.size());
    out.entries.push_back(std::move(entry));
  }
  if (!fresh.empty()) {
    auto visit = current_visit(desk, piano);
    if (!visit) return tl::unexpected(NotWritten{Why::world, visit.error(), {}});
    std::vector<Entry> entries;
    for (const std::size_t i : fresh) {
      out.entries[i].visit = visit->id;
      entries.push_back(out.entries[i]);
    }
    // All else has been looked at: what is refused here has its identity at another piano.
    if (auto done = desk.store.append(piano.id, entries); !done)
      return tl::unexpected(NotWritten{Why::conflict, done.error(), {}});
  }
  // Counted anew: another program may have written meanwhile.
  auto revision = desk.store.revision(piano.id);
  out.revision = revision ? *revision : static_cast<std::int64_t>(writing.size());
  return out;
}

}  // namespace

tl::expected<WrittenEntries, NotWritten> write_entries(Desk& desk, const Piano& piano,
                                                       const std::string& who,
                                                       std::span<const WantedEntry> wanted) {
  try {
    return write(desk, piano, who, wanted);
  } catch (const std::exception& failure) {
    return tl::unexpected(NotWritten{Why::world, explain(failure), {}});
  }
}

}  // namespace batten
