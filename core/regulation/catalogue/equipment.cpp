#include "core/regulation/catalogue/equipment.hpp"

#include "core/regulation/catalogue/pieces.hpp"

#include <algorithm>
#include <span>
#include <string_view>

namespace batten {
namespace {

Result<Key> parse_on(Compass compass, std::string_view text) {
  auto key = parse_key(text);
  if (key && !compass.contains(*key))
    return problem(note_name(*key) + " is not on this keyboard.", "Leave it out.");
  return key;
}

// "C7" or "F6-G6", both ends included.
Result<std::vector<Key>> parse_run(Compass compass, std::string_view text) {
  const auto dash = text.find('-', 1);
  auto first = parse_on(compass, text.substr(0, dash));
  if (!first) return tl::unexpected(first.error());
  if (dash == std::string_view::npos) return std::vector{*first};
  auto last = parse_on(compass, text.substr(dash + 1));
  if (!last) return tl::unexpected(last.error());
  if (*last < *first)
    return problem("\"" + std::string(text) + "\" runs downward.", "Name the lower note first.");
  std::vector<Key> keys;
  for (Key k = *first; k <= *last; ++k.number) keys.push_back(k);
  return keys;
}

void sort_once(std::vector<Key>& keys) {
  std::ranges::sort(keys);
  keys.erase(std::ranges::unique(keys).begin(), keys.end());
}

// Words between blanks and commas.
std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  for (const std::string_view piece : split(text, ' ')) {
    for (const std::string_view word : split(piece, ',')) {
      if (!word.empty()) words.push_back(word);
    }
  }
  return words;
}

Result<std::vector<Key>> parse_keys(Compass compass, std::span<const std::string_view> words) {
  std::vector<Key> keys;
  for (const std::string_view word : words) {
    auto run = parse_run(compass, word);
    if (!run) return run;
    keys.insert(keys.end(), run->begin(), run->end());
  }
  sort_once(keys);
  return keys;
}

Result<Key> parse_one(Compass compass, const std::string& value, std::string_view todo) {
  const auto words = words_of(value);
  if (words.size() != 1) return problem("\"" + value + "\" is not one note.", std::string(todo));
  return parse_on(compass, words.front());
}

Result<void> set_out_of_service(const std::string& value, Equipment& out) {
  auto keys = parse_keys(out.compass, words_of(value));
  if (!keys) return tl::unexpected(keys.error());
  out.out_of_service = *keys;
  return {};
}

Result<void> set_undamped_from(const std::string& value, Equipment& out) {
  auto key = parse_one(out.compass, value, "Name the lowest note without a damper.");
  if (!key) return tl::unexpected(key.error());
  out.undamped_from = *key;
  return {};
}

Result<void> set_one_string_to(const std::string& value, Equipment& out) {
  auto key = parse_one(out.compass, value, "Name the highest note with one string.");
  if (!key) return tl::unexpected(key.error());
  out.one_string_to = *key;
  return {};
}

Result<void> set_two_strings_to(const std::string& value, Equipment& out) {
  auto key = parse_one(out.compass, value, "Name the highest note with two strings.");
  if (!key) return tl::unexpected(key.error());
  out.two_strings_to = *key;
  return {};
}

std::vector<Key> all_keys(Compass compass) {
  std::vector<Key> keys;
  for (Key k = compass.lowest; k <= compass.highest; ++k.number) keys.push_back(k);
  return keys;
}

Result<void> set_lack(std::string_view part, Equipment& out) {
  const auto words = words_of(part);
  if (words.empty()) return {};
  const auto adjuster = adjuster_by_code(words.front());
  if (!adjuster) {
    std::string known;
    for (const AdjusterKind& kind : adjuster_kinds())
      known += (known.empty() ? "" : ", ") + std::string(kind.code);
    return problem("There is no adjuster \"" + std::string(words.front()) + "\".",
                   "Begin each part with one of: " + known + ".");
  }
  const AdjusterKind& kind = kind_of(*adjuster);
  const std::span<const std::string_view> notes = std::span(words).subspan(1);
  if (kind.scope != Scope::per_note && !notes.empty())
    return problem("The " + std::string(kind.name) + " is of the whole piano, not of notes.",
                   "Name it alone, as in \"" + std::string(kind.code) + "\".");
  auto keys = notes.empty() ? Result<std::vector<Key>>(all_keys(out.compass))
                            : parse_keys(out.compass, notes);
  if (!keys) return tl::unexpected(keys.error());
  std::vector<Key>& missing = out.lacking[*adjuster];
  missing.insert(missing.end(), keys->begin(), keys->end());
  sort_once(missing);
  return {};
}

Result<void> set_lacks(const std::string& value, Equipment& out) {
  for (const std::string_view part : split(value, ';'))
    if (auto done = set_lack(part, out); !done) return done;
  return {};
}

struct Named {
  std::string_view name;
  Result<void> (*set)(const std::string&, Equipment&);
};
constexpr Named known_settings[] = {
    {"out-of-service", set_out_of_service},
    {"undamped-from", set_undamped_from},
    {"lacks", set_lacks},
    {"one-string-to", set_one_string_to},
    {"two-strings-to", set_two_strings_to},
};

tl::unexpected<Problem> about(std::string_view name, Problem p) {
  p.happened = "Setting " + std::string(name) + ": " + p.happened;
  return tl::unexpected(std::move(p));
}

// The reading the table names for what this one shows of a sharp or by grade.
Reading main_reading(Reading reading) {
  switch (reading) {
    case Reading::sharps_height:
      return Reading::key_height;
    case Reading::sharp_dip:
      return Reading::dip;
    case Reading::jack_wink:
      return Reading::jack_clearance;
    case Reading::left_string_gap:
    case Reading::middle_string_gap:
    case Reading::right_string_gap:
      return Reading::unison_level;
    default:
      return reading;
  }
}

}  // namespace

bool Equipment::serves(Key key) const {
  return compass.contains(key) && !std::ranges::binary_search(out_of_service, key);
}

bool Equipment::damped(Key key) const { return !undamped_from || key < *undamped_from; }

int Equipment::strings(Key key) const {
  if (one_string_to && key <= *one_string_to) return 1;
  if (two_strings_to && key <= *two_strings_to) return 2;
  return 3;
}

bool Equipment::has(Adjuster adjuster, Key key) const {
  if (kind_of(adjuster).scope != Scope::per_note || !serves(key)) return false;
  const bool at_damper = adjuster == Adjuster::damper_wire || adjuster == Adjuster::sostenuto_tab;
  if (at_damper && !damped(key)) return false;
  if (adjuster == Adjuster::sostenuto_tab && !has(Adjuster::sostenuto_blade)) return false;
  if (adjuster == Adjuster::string_level && strings(key) < 2) return false;
  const auto it = lacking.find(adjuster);
  return it == lacking.end() || !std::ranges::binary_search(it->second, key);
}

bool Equipment::has(Adjuster adjuster) const {
  return kind_of(adjuster).scope != Scope::per_note && !lacking.contains(adjuster);
}

bool Equipment::asks(Reading reading, Key key) const {
  if (kind_of(reading).scope != Scope::per_note || !serves(key)) return false;
  switch (reading) {
    case Reading::key_height:
    case Reading::dip:
      if (is_sharp(key)) return false;
      break;
    case Reading::sharps_height:
    case Reading::sharp_dip:
      if (!is_sharp(key)) return false;
      break;
    case Reading::middle_string_gap:
      if (strings(key) < 3) return false;
      break;
    default:
      break;
  }
  return std::ranges::all_of(adjuster_kinds(), [&](const AdjusterKind& kind) {
    return kind.sets != main_reading(reading) || has(kind.id, key);
  });
}

Result<Equipment> equipment_on_record(Compass compass,
                                      const std::map<std::string, std::string>& on_record) {
  Equipment equipment;
  equipment.compass = compass;
  for (const Named& s : known_settings) {
    const auto it = on_record.find(std::string(s.name));
    if (it == on_record.end()) continue;
    if (auto done = s.set(it->second, equipment); !done) return about(s.name, done.error());
  }
  if (equipment.one_string_to && equipment.two_strings_to &&
      *equipment.two_strings_to < *equipment.one_string_to)
    return problem("Notes with two strings end at " + note_name(*equipment.two_strings_to) +
                       ", below those with one, which end at " +
                       note_name(*equipment.one_string_to) + ".",
                   "Set one-string-to or two-strings-to anew.");
  return equipment;
}

Result<void> check_equipment_setting(Compass compass, const std::string& name,
                                     const std::string& value) {
  if (!is_equipment_setting(name))
    return problem("There is no setting \"" + name + "\".",
                   "There are: out-of-service, undamped-from, lacks, one-string-to, "
                   "two-strings-to.");
  if (auto read = equipment_on_record(compass, {{name, value}}); !read)
    return tl::unexpected(read.error());
  return {};
}

bool is_equipment_setting(const std::string& name) {
  return std::ranges::find(known_settings, name, &Named::name) != std::end(known_settings);
}

}  // namespace batten
