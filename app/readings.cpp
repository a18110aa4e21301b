#include "app/readings.hpp"

#include "app/entries.hpp"
#include "app/pianos.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/catalogue/readings.hpp"
#include "exchange/cell_value.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace batten {

namespace {

std::string known_readings() {
  std::string text;
  for (const ReadingKind& k : reading_kinds())
    text += (text.empty() ? "" : ", ") + std::string(k.code);
  return text;
}

// None for a reading of the piano or the room.
Result<std::optional<Key>> note_of(const Piano& piano, const ReadingKind& kind,
                                   std::string_view note) {
  if (kind.scope != Scope::per_note) {
    if (note.empty()) return std::optional<Key>{};
    return problem("The " + std::string(kind.name) + " is read once, not at a note.",
                   "Leave the note out.");
  }
  if (note.empty())
    return problem("The " + std::string(kind.name) + " is read at a note.",
                   "Say which: C4, F#3, Bb5.");
  auto key = parse_key(note);
  if (!key) return tl::unexpected(key.error());
  if (!compass_of(piano).contains(*key))
    return problem(note_name(*key) + " is not on this keyboard.", "Check the note.");
  return std::optional<Key>{*key};
}

}  // namespace

std::string print_reading(Reading reading, double value) {
  switch (kind_of(reading).unit) {
    case ReadingUnit::millimetre:
      return print_millimetres(value * millimetre);
    case ReadingUnit::gram_force:
      return print_gram_force(value * gram_force, {.decimals = 1});
    case ReadingUnit::fraction:
      return print_number(value, {.decimals = 2});
    case ReadingUnit::grade:
      return "grade " + print_number(value, {.decimals = 0});
    case ReadingUnit::percent:
      return print_number(value, {.decimals = 0}) + "\u202f%";
    case ReadingUnit::celsius:
      return print_number(value, {.decimals = 1}) + "\u202f°C";
  }
  return print_number(value);
}

Result<ReadingTaken> check_reading(const Piano& piano, const ReadingRequest& request) {
  const auto id = reading_by_code(request.reading);
  if (!id)
    return problem("There is no reading \"" + request.reading + "\".",
                   "There are: " + known_readings() + ".");
  const ReadingKind& kind = kind_of(*id);
  auto note = note_of(piano, kind, request.note);
  if (!note) return tl::unexpected(note.error());
  const CellUnit own{.kept = kind.unit};
  auto value = parse_cell(request.value, own);
  if (!value) return tl::unexpected(value.error());
  if (*value < kind.possible_low || *value > kind.possible_high)
    return problem("A " + std::string(kind.name) + " of " + print_reading(*id, *value) +
                       " lies outside " + print_reading(*id, kind.possible_low) + " to " +
                       print_reading(*id, kind.possible_high) + ".",
                   "Is it a slip, or another unit?", "It was not kept.");
  double uncertainty = kind.usual_uncertainty;
  if (!request.uncertainty.empty()) {
    auto stated = parse_cell(request.uncertainty, own);
    if (!stated) return tl::unexpected(stated.error());
    // A gauge finer than this is not believed, and would outweigh every other reading.
    const double finest = kind.usual_uncertainty / 100;
    if (*stated < finest || *stated > kind.possible_high - kind.possible_low)
      return problem("A " + std::string(kind.name) + " cannot be uncertain by " +
                         request.uncertainty + "; it must lie between " +
                         print_number(finest, {.decimals = 4}) + " and " +
                         print_reading(*id, kind.possible_high - kind.possible_low) + ".",
                     "Leave it out for the usual one.", "The reading was not kept.");
    uncertainty = *stated;
  }
  return ReadingTaken{*id, *note, *value, uncertainty, request.gauge, request.value};
}

Result<void> check_against_piano(const std::optional<LineSettings>& settings,
                                 const ReadingTaken& reading) {
  if (!reading.note || !settings) return {};
  if (std::ranges::binary_search(settings->out_of_service, *reading.note))
    return problem(note_name(*reading.note) + " is out of service.",
                   "Change the setting out-of-service if it is back.", "The reading was not kept.");
  if (reading.reading == Reading::damper_start && settings->undamped_from &&
      *reading.note >= *settings->undamped_from)
    return problem(note_name(*reading.note) + " has no damper.",
                   "Change the setting undamped-from if it has.", "The reading was not kept.");
  return {};
}

std::optional<LineSettings> settings_on_record(Desk& desk, const Piano& piano) {
  auto now = standing(desk, piano);
  if (!now) return std::nullopt;
  auto settings = line_settings(compass_of(piano), now->settings);
  if (!settings) return std::nullopt;
  return *settings;
}

Result<Entry> take_reading(Desk& desk, const Piano& piano, const ReadingRequest& request) {
  auto reading = check_reading(piano, request);
  if (!reading) return tl::unexpected(reading.error());
  if (auto ok = check_against_piano(settings_on_record(desk, piano), *reading); !ok)
    return tl::unexpected(ok.error());
  auto kept = keep(desk, piano, {*reading});
  if (!kept) return tl::unexpected(kept.error());
  return kept->front();
}

Result<std::vector<Key>> plan_series(Desk& desk, const Piano& piano, std::string_view from,
                                     std::string_view to, SeriesOf which) {
  const Compass compass = compass_of(piano);
  const auto end = [&](std::string_view text, Key usual) -> Result<Key> {
    if (text.empty()) return usual;
    auto key = parse_key(text);
    if (key && !compass.contains(*key))
      return problem(note_name(*key) + " is not on this keyboard.", "Check the note.");
    return key;
  };
  auto first = end(from, compass.lowest);
  if (!first) return tl::unexpected(first.error());
  auto last = end(to, compass.highest);
  if (!last) return tl::unexpected(last.error());

  std::vector<Key> samples;
  if (which == SeriesOf::samples) {
    auto now = standing(desk, piano);
    if (!now) return tl::unexpected(now.error());
    auto settings = line_settings(compass, now->settings);
    if (!settings) return tl::unexpected(settings.error());
    samples = settings->samples;
  }
  std::vector<Key> keys;
  const int step = *first <= *last ? 1 : -1;
  for (int k = first->number; k != last->number + step; k += step) {
    const Key key{k};
    const bool wanted = which == SeriesOf::all ||
                        (which == SeriesOf::naturals && is_natural(key)) ||
                        (which == SeriesOf::sharps && is_sharp(key)) ||
                        (which == SeriesOf::samples && std::ranges::binary_search(samples, key));
    if (wanted) keys.push_back(key);
  }
  if (keys.empty()) return problem("There is no such note in that range.", "Widen the range.");
  return keys;
}

}  // namespace batten
