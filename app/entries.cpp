#include "app/entries.hpp"

#include "app/action_job.hpp"
#include "app/pianos.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/aims/targets.hpp"
#include "core/regulation/brief/wishes.hpp"
#include "core/regulation/catalogue/equipment.hpp"
#include "core/regulation/catalogue/working.hpp"
#include "core/regulation/line/line.hpp"
#include "core/regulation/planning/in_time.hpp"
#include "core/regulation/planning/threads.hpp"

#include <algorithm>
#include <cctype>
#include <map>
#include <utility>

namespace batten {

namespace {

Result<Key> key_on(const Piano& piano, std::string_view note) {
  auto key = parse_key(note);
  if (key && !compass_of(piano).contains(*key))
    return problem(note_name(*key) + " is not on this keyboard.", "Check the note.");
  return key;
}

std::string codes(auto kinds) {
  std::string text;
  for (const auto& k : kinds) text += (text.empty() ? "" : ", ") + std::string(k.code);
  return text;
}

Result<Entry> keep_one(Desk& desk, const Piano& piano, EntryContent content) {
  auto kept = keep(desk, piano, {std::move(content)});
  if (!kept) return tl::unexpected(kept.error());
  return kept->front();
}

// The sign a text begins with, taken off: a word of the adjuster or + or −.
std::optional<double> take_direction(std::string_view& text, const AdjusterKind& kind) {
  const auto begins = [&](std::string_view word) {
    if (text.substr(0, word.size()) != word) return false;
    text.remove_prefix(word.size());
    return true;
  };
  if (begins(kind.positive) || begins("+")) return 1.0;
  if (begins(kind.negative) || begins("-") || begins("−")) return -1.0;
  return std::nullopt;
}

// More at once is a slip of the hand: two turns of a capstan lift a crown by 18 mm (common
// practice, no source).
constexpr double most_turns = 2;

Result<double> parse_amount(std::string_view text, const AdjusterKind& kind) {
  if (kind.unit == MoveUnit::turns) {
    auto turns = parse_turns(text);
    if (!turns) return tl::unexpected(turns.error());
    return turns->in(turn);
  }
  if (kind.unit == MoveUnit::millimetres) {
    auto length = parse_length(text);
    if (!length) return tl::unexpected(length.error());
    return length->in(millimetre);
  }
  return parse_number(text);
}

// One setting by itself, by whoever reads it.
Result<void> check_setting(Compass compass, const std::vector<Section>& sections,
                           const std::string& name, const std::string& value) {
  if (is_thread_setting(name)) return check_thread_setting(name, value);
  if (is_catalogue_setting(name)) return check_catalogue_setting(name, value);
  if (is_equipment_setting(name)) {
    // The line reads two of them as well, and must be able to.
    const bool of_line = name == "out-of-service" || name == "undamped-from";
    if (auto ok = check_equipment_setting(compass, name, value); !ok || !of_line) return ok;
  }
  if (is_brief_setting(name)) return check_brief_setting(name, value);
  if (name == "play-weight") {
    auto weights = play_weights(compass, sections, {{name, value}});
    if (!weights) return tl::unexpected(weights.error());
    return {};
  }
  if (name != "blow-target" && is_target_setting(name))
    return check_target_setting(compass, sections, name, value);
  auto ok = check_line_setting(compass, sections, name, value);
  if (ok) return ok;
  Problem p = ok.error();
  // The line's settings are not all there are.
  if (p.todo.starts_with("There are: "))
    p.todo.insert(p.todo.size() - 1,
                  std::string(", ") + action_profile_setting +
                      ", play-weight, grade, papers, capstan-thread and the like, dip-target and "
                      "the like, blow-tolerance, blow-minutes, capstan-limit, need-aftertouch, "
                      "want-power and the like, lacks, one-string-to, two-strings-to");
  return tl::unexpected(std::move(p));
}

}  // namespace

Result<std::vector<Entry>> keep(Desk& desk, const Piano& piano,
                                std::vector<EntryContent> contents, std::optional<Uuid> first) {
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
  const auto id = adjuster_by_code(adjuster);
  if (!id)
    return problem("There is no adjuster \"" + std::string(adjuster) + "\".",
                   "There are: " + codes(adjuster_kinds()) + ".");
  auto move = parse_move(piano, *id, note, amount, std::move(remark));
  if (!move) return tl::unexpected(move.error());
  return keep_one(desk, piano, std::move(*move));
}

bool names_direction(std::string_view text, Adjuster adjuster) {
  return take_direction(text, kind_of(adjuster)).has_value();
}

Result<MoveMade> parse_move(const Piano& piano, Adjuster adjuster, std::string_view note,
                            std::string_view amount, std::string remark) {
  const AdjusterKind& kind = kind_of(adjuster);
  std::optional<Key> at;
  if (kind.scope == Scope::per_note) {
    auto key = key_on(piano, note);
    if (!key) return tl::unexpected(key.error());
    at = *key;
  } else if (!note.empty() && note != "-") {
    return problem("The " + std::string(kind.name) + " is moved once for the piano, not at a note.",
                   "Write \"-\" for the note.", "It was not written down.");
  }
  std::string_view rest = amount;
  const auto sign = take_direction(rest, kind);
  if (!sign)
    return problem("\"" + std::string(amount) + "\" has no direction.",
                   "Begin with \"" + std::string(kind.positive) + "\" or \"" +
                       std::string(kind.negative) + "\", as in \"" + std::string(kind.positive) +
                       " 1/16\".");
  auto size = parse_amount(rest, kind);
  if (!size) return tl::unexpected(size.error());
  if (*size <= 0)
    return problem("A move of \"" + std::string(amount) + "\" moves nothing.",
                   "Give an amount above zero behind the direction.");
  if (kind.unit == MoveUnit::turns && *size > most_turns)
    return problem(
        "No " + std::string(kind.name) + " is turned " + print_turns(*size * turn) + " at once.",
        "Is it a slip, as 3 for 3/64? If not, record it in parts.", "It was not written down.");
  return MoveMade{adjuster, at, *sign * *size, std::move(remark)};
}

Result<Entry> skip_move(Desk& desk, const Piano& piano, std::string_view adjuster,
                        std::string_view note, std::string reason) {
  const auto id = adjuster_by_code(adjuster);
  if (!id)
    return problem("There is no adjuster \"" + std::string(adjuster) + "\".",
                   "There are: " + codes(adjuster_kinds()) + ".");
  const AdjusterKind& kind = kind_of(*id);
  if (reason.empty())
    return problem("A move that is left needs its reason on record.",
                   "Say why, as in \"screw is stripped\".", "It was not written down.");
  MoveSkipped skip{*id, std::nullopt, std::move(reason)};
  if (!note.empty() && note != "-") {
    if (kind.scope != Scope::per_note)
      return problem("The " + std::string(kind.name) + " is of the whole piano, not of a note.",
                     "Leave the note out.", "It was not written down.");
    auto key = key_on(piano, note);
    if (!key) return tl::unexpected(key.error());
    skip.note = *key;
  }
  return keep_one(desk, piano, std::move(skip));
}

Result<Entry> note_preparation(Desk& desk, const Piano& piano, std::string_view item,
                               std::string_view state, std::string_view note, std::string reason) {
  const auto id = preparation_by_code(item);
  if (!id)
    return problem("There is no preparation item \"" + std::string(item) + "\".",
                   "There are: " + codes(preparation_kinds()) + ".");
  const auto how = preparation_state_by_code(state);
  if (!how)
    return problem("\"" + std::string(state) + "\" says nothing about " + std::string(item) + ".",
                   "Say found (in order), done (put in order), waived (left, with a reason) or "
                   "wanting (not in order).");
  if (*how == PreparationState::waived && reason.empty())
    return problem("An item that is waived needs its reason on record.", "Give it with --because.");
  PreparationNoted content{*id, std::nullopt, *how, std::move(reason)};
  if (!note.empty()) {
    auto key = key_on(piano, note);
    if (!key) return tl::unexpected(key.error());
    content.note = *key;
  }
  return keep_one(desk, piano, std::move(content));
}

Result<Entry> choose_setting(Desk& desk, const Piano& piano, const std::string& name,
                             const std::string& value) {
  if (name == action_profile_setting) {
    auto profile = profile_setting(value);
    if (!profile) return tl::unexpected(profile.error());
    return keep_one(desk, piano, SettingChosen{name, *profile});
  }
  auto now = standing(desk, piano);
  if (!now) return tl::unexpected(now.error());
  const Compass compass = compass_of(piano);
  const auto layout = now->settings.find("sections");
  std::vector<Section> sections{{compass.lowest, compass.highest, BreakKind::none}};
  if (layout != now->settings.end())
    if (auto parsed = parse_sections(layout->second, compass)) sections = *parsed;
  if (auto ok = check_setting(compass, sections, name, value); !ok)
    return tl::unexpected(ok.error());
  // New sections may leave a blow target with too many or too few parts.
  std::map<std::string, std::string> together = now->settings;
  together[name] = value;
  const auto unchanged = [](Problem p) {
    p.kept = "The setting was not changed.";
    return tl::unexpected(std::move(p));
  };
  if (auto ok = equipment_on_record(compass, together); is_equipment_setting(name) && !ok)
    return unchanged(ok.error());
  if (together.contains("sections")) {
    auto line = line_settings(compass, together);
    if (!line) return unchanged(line.error());
    if (auto ok = targets_on_record(compass, line->sections, together); !ok)
      return unchanged(ok.error());
    if (auto ok = play_weights(compass, line->sections, together); !ok)
      return unchanged(ok.error());
  }
  return keep_one(desk, piano, SettingChosen{name, value});
}

Result<Entry> remark(Desk& desk, const Piano& piano, std::string_view note, std::string text) {
  if (text.empty()) return problem("The remark is empty.", "Write what should be remembered.");
  Remark content{std::nullopt, std::move(text)};
  if (!note.empty()) {
    auto key = key_on(piano, note);
    if (!key) return tl::unexpected(key.error());
    content.note = *key;
  }
  return keep_one(desk, piano, std::move(content));
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
    auto entries = desk.store.entries(piano.id);
    if (!entries) return tl::unexpected(entries.error());
    auto visits = desk.store.visits(piano.id);
    if (!visits) return tl::unexpected(visits.error());
    std::map<Uuid, std::string> titles;
    for (const Visit& v : *visits) titles[v.id] = v.title;
    const std::vector<bool> force = in_force(*entries);
    std::vector<HistoryLine> lines;
    lines.reserve(entries->size());
    for (std::size_t i = 0; i < entries->size(); ++i)
      lines.push_back({(*entries)[i], force[i], titles[(*entries)[i].visit]});
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
