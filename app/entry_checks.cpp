#include "app/entry_checks.hpp"

#include "app/action_job.hpp"
#include "app/entries.hpp"
#include "app/handover_page.hpp"
#include "app/pianos.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/aims/targets.hpp"
#include "core/regulation/brief/wishes.hpp"
#include "core/regulation/catalogue/equipment.hpp"
#include "core/regulation/catalogue/working.hpp"
#include "core/regulation/drift/settings.hpp"
#include "core/regulation/line/line.hpp"
#include "core/regulation/planning/in_time.hpp"
#include "core/regulation/planning/threads.hpp"

#include <cmath>
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
  if (is_drift_setting(name)) return check_drift_setting(name, value);
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
                      ", play-weight, playing-hours, climate, new-felt, return-limit, grade, "
                      "papers, capstan-thread and the like, dip-target and "
                      "the like, blow-tolerance, blow-minutes, capstan-limit, need-aftertouch, "
                      "want-power and the like, lacks, one-string-to, two-strings-to");
  return tl::unexpected(std::move(p));
}

Result<Adjuster> known_adjuster(std::string_view code) {
  const auto id = adjuster_by_code(code);
  if (id) return *id;
  return problem("There is no adjuster \"" + std::string(code) + "\".",
                 "There are: " + codes(adjuster_kinds()) + ".");
}

// None for an adjuster of the piano.
Result<std::optional<Key>> place_of_move(const Piano& piano, const AdjusterKind& kind,
                                         std::string_view note) {
  if (kind.scope == Scope::per_note) {
    auto key = key_on(piano, note);
    if (!key) return tl::unexpected(key.error());
    return std::optional<Key>{*key};
  }
  if (!note.empty() && note != "-")
    return problem("The " + std::string(kind.name) + " is moved once for the piano, not at a note.",
                   "Write \"-\" for the note.", "It was not written down.");
  return std::optional<Key>{};
}

// `size` without its direction, `said` as it was typed.
Result<void> check_size(const AdjusterKind& kind, double size, std::string_view said) {
  if (size <= 0)
    return problem("A move of \"" + std::string(said) + "\" moves nothing.",
                   "Give an amount above zero behind the direction.");
  if (kind.unit == MoveUnit::turns && size > most_turns)
    return problem(
        "No " + std::string(kind.name) + " is turned " + print_turns(size * turn) + " at once.",
        "Is it a slip, as 3 for 3/64? If not, record it in parts.", "It was not written down.");
  return {};
}

}  // namespace

bool names_direction(std::string_view text, Adjuster adjuster) {
  return take_direction(text, kind_of(adjuster)).has_value();
}

Result<MoveMade> parse_move(const Piano& piano, Adjuster adjuster, std::string_view note,
                            std::string_view amount, std::string remark) {
  const AdjusterKind& kind = kind_of(adjuster);
  auto at = place_of_move(piano, kind, note);
  if (!at) return tl::unexpected(at.error());
  std::string_view rest = amount;
  const auto sign = take_direction(rest, kind);
  if (!sign)
    return problem("\"" + std::string(amount) + "\" has no direction.",
                   "Begin with \"" + std::string(kind.positive) + "\" or \"" +
                       std::string(kind.negative) + "\", as in \"" + std::string(kind.positive) +
                       " 1/16\".");
  auto size = parse_amount(rest, kind);
  if (!size) return tl::unexpected(size.error());
  if (auto ok = check_size(kind, *size, amount); !ok) return tl::unexpected(ok.error());
  return MoveMade{adjuster, *at, *sign * *size, std::move(remark)};
}

Result<MoveMade> check_move(const Piano& piano, std::string_view adjuster, std::string_view note,
                            std::string_view amount, std::string remark) {
  const auto id = known_adjuster(adjuster);
  if (!id) return tl::unexpected(id.error());
  return parse_move(piano, *id, note, amount, std::move(remark));
}

Result<MoveMade> check_move(const Piano& piano, std::string_view adjuster, std::string_view note,
                            double amount, std::string remark) {
  const auto id = known_adjuster(adjuster);
  if (!id) return tl::unexpected(id.error());
  const AdjusterKind& kind = kind_of(*id);
  auto at = place_of_move(piano, kind, note);
  if (!at) return tl::unexpected(at.error());
  if (!std::isfinite(amount))
    return problem("A move needs an amount that is a number.",
                   "Give it in " + std::string(unit_name(kind.unit)) + ", + to " +
                       std::string(kind.positive) + ".",
                   "It was not written down.");
  if (auto ok = check_size(kind, std::abs(amount), print_number(amount)); !ok)
    return tl::unexpected(ok.error());
  return MoveMade{*id, *at, amount, std::move(remark)};
}

Result<MoveSkipped> check_skip(const Piano& piano, std::string_view adjuster, std::string_view note,
                               std::string reason) {
  const auto id = known_adjuster(adjuster);
  if (!id) return tl::unexpected(id.error());
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
  return skip;
}

Result<PreparationNoted> check_preparation(const Piano& piano, std::string_view item,
                                           std::string_view state, std::string_view note,
                                           std::string reason) {
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
    return problem("An item that is waived needs its reason on record.",
                   "Say why it is left (--because on the command line).");
  PreparationNoted content{*id, std::nullopt, *how, std::move(reason)};
  if (!note.empty()) {
    auto key = key_on(piano, note);
    if (!key) return tl::unexpected(key.error());
    content.note = *key;
  }
  return content;
}

Result<SettingChosen> check_choice(const Piano& piano,
                                   const std::map<std::string, std::string>& on_record,
                                   const std::string& name, const std::string& value) {
  if (name == action_profile_setting) {
    auto profile = profile_setting(value);
    if (!profile) return tl::unexpected(profile.error());
    return SettingChosen{name, *profile};
  }
  if (is_visit_setting(name)) {
    if (auto ok = check_visit_setting(name, value); !ok) return tl::unexpected(ok.error());
    return SettingChosen{name, value};
  }
  const Compass compass = compass_of(piano);
  const auto layout = on_record.find("sections");
  std::vector<Section> sections{{compass.lowest, compass.highest, BreakKind::none}};
  if (layout != on_record.end())
    if (auto parsed = parse_sections(layout->second, compass)) sections = *parsed;
  if (auto ok = check_setting(compass, sections, name, value); !ok)
    return tl::unexpected(ok.error());
  // New sections may leave a blow target with too many or too few parts.
  std::map<std::string, std::string> together = on_record;
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
  return SettingChosen{name, value};
}

Result<Remark> check_remark(const Piano& piano, std::string_view note, std::string text) {
  if (text.empty()) return problem("The remark is empty.", "Write what should be remembered.");
  Remark content{std::nullopt, std::move(text)};
  if (!note.empty()) {
    auto key = key_on(piano, note);
    if (!key) return tl::unexpected(key.error());
    content.note = *key;
  }
  return content;
}

}  // namespace batten
