#include "line_fixture.hpp"

#include "core/keyboard/samples.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

namespace batten {
namespace {

// A number in −1…1 that depends on its arguments alone.
double scatter(int key, int salt) {
  auto x = static_cast<std::uint32_t>(key * 7919 + salt * 104729 + 12345);
  x ^= x >> 16;
  x *= 0x7feb352dU;
  x ^= x >> 15;
  x *= 0x846ca68bU;
  x ^= x >> 16;
  return static_cast<double>(x) / 2147483648.0 - 1;
}

std::vector<Section> sections_of(const FixtureOptions& options) {
  std::vector<Section> sections;
  Key first = options.lowest;
  for (std::size_t i = 0; i < options.section_ends.size(); ++i) {
    sections.push_back(
        {first, options.section_ends[i], i == 0 ? BreakKind::bridge : BreakKind::strut});
    first = Key{options.section_ends[i].number + 1};
  }
  sections.push_back({first, options.highest, BreakKind::none});
  return sections;
}

void set_advice(NoteLine& note, const LineSettings& settings) {
  const Length wanted = -*note.deviation;
  const double turns = wanted.si() / settings.crown_per_turn.si();
  note.turns = std::round(turns * settings.turn_denominator) / settings.turn_denominator * turn;
  note.crown_travel = wanted;
  note.verdict = note.turns == Turns{} ? Verdict::leave_fine : Verdict::move;
}

void make_troubles(Line& line) {
  const auto note = [&](int place) -> NoteLine& {
    return line.notes[static_cast<std::size_t>(place)];
  };
  note(9).verdict = Verdict::read_again;
  note(9).deviation = 2.6 * millimetre;
  note(14).verdict = Verdict::held_escapement;
  note(14).deviation = 2.4 * millimetre;
  note(33).verdict = Verdict::held_block;
  note(33).deviation = -3.6 * millimetre;
  note(40).verdict = Verdict::moved_read_again;
  note(47).verdict = Verdict::out_of_service;
  for (const int place : {52, 53, 58, 60}) note(place).verdict = Verdict::leave_noise;
  for (const int place : {66, 67, 68, 70}) {
    note(place).verdict = Verdict::not_read;
    note(place).hammer.reset();
    note(place).deviation.reset();
    note(place).deviation_sd.reset();
  }
  const auto finding = [&](Finding::Kind kind, int place, double off, double sd, double chance) {
    NoteLine& at = note(place);
    const bool unison = kind == Finding::Kind::unison_off_level;
    const Length read = unison ? off * millimetre : at.string_fair + off * millimetre;
    if (kind == Finding::Kind::reading_flagged) at.string_read.reset();
    if (kind == Finding::Kind::reading_asked) at.string_read = read;
    line.findings.push_back({kind, at.key, read, at.string_fair, sd * millimetre, chance});
  };
  finding(Finding::Kind::reading_flagged, 22, -1.1, 0.13, 0.98);
  finding(Finding::Kind::reading_flagged, 62, 6.0, 0.12, 1.0);
  finding(Finding::Kind::reading_asked, 41, 0.4, 0.19, 0.31);
  finding(Finding::Kind::unison_off_level, 44, 0.34, 0, 0);
  const auto next = [&](int place, double drop_mm) {
    NextReading reading;
    reading.key = note(place).key;
    reading.drop = drop_mm * millimetre;
    return reading;
  };
  line.next_string = {next(24, 0.03), next(69, 0.02), next(5, 0.01)};
  line.next_string.front().settles_doubt = true;
}

std::optional<Length> rms(const Line& line, int section) {
  double sum = 0;
  int count = 0;
  for (const NoteLine& note : line.notes) {
    if ((section >= 0 && note.section != section) || !note.deviation) continue;
    sum += note.deviation->si() * note.deviation->si();
    ++count;
  }
  if (count == 0) return std::nullopt;
  return Length::from_si(std::sqrt(sum / count));
}

void summarise(Line& line, const FixtureOptions& options) {
  for (std::size_t i = 0; i < line.settings.sections.size(); ++i) {
    SectionSummary summary;
    summary.section = line.settings.sections[i];
    summary.blow = line.settings.blow[i];
    summary.target_sd_rms = 0.08 * millimetre;
    for (const NoteLine& note : line.notes) {
      if (note.section != static_cast<int>(i)) continue;
      summary.strings_read += note.string_read ? 1 : 0;
      summary.hammers_read += note.hammer ? 1 : 0;
      summary.moves += note.verdict == Verdict::move ? 1 : 0;
    }
    summary.evenness_to_target = rms(line, static_cast<int>(i));
    if (summary.evenness_to_target) {
      summary.evenness_to_neighbours = 0.7 * *summary.evenness_to_target;
    }
    if (!options.read) {
      summary.target_sd_rms = Length::from_si(std::numeric_limits<double>::infinity());
    }
    line.sections.push_back(summary);
  }
  line.evenness_to_target = rms(line, -1);
  if (line.evenness_to_target) line.evenness_to_neighbours = 0.7 * *line.evenness_to_target;
}

void fill_gate(Line& line, bool open) {
  line.gate.open = open;
  for (const PreparationKind& kind : preparation_kinds()) {
    PreparationGate::Item item;
    item.item = kind.id;
    item.record = PreparationRecord{PreparationState::done, "", 0, {}};
    item.passed = true;
    if (kind.id == PreparationItem::rest_cushions_even) {
      item.record = PreparationRecord{PreparationState::waived, "no rest rail on this action", 0, {}};
    }
    if (!open) {
      if (kind.id == PreparationItem::key_frame_bedded) {
        item.passed = false;
        item.record.reset();
      } else if (kind.id == PreparationItem::hammers_travelling) {
        item.passed = false;
        item.record = PreparationRecord{PreparationState::wanting, "", 0, {}};
        item.wanting_notes = {line.compass.at(12), line.compass.at(13), line.compass.at(31)};
      } else if (kind.id == PreparationItem::screws_tight) {
        item.passed = false;
        item.record = PreparationRecord{PreparationState::wanting, "", 0, {}};
      }
    }
    line.gate.items.push_back(item);
  }
}

}  // namespace

Line invented_line(const FixtureOptions& options) {
  Line line;
  line.compass = {options.lowest, options.highest};
  line.settings.sections = sections_of(options);
  line.settings.samples = propose_samples(line.settings.sections);
  line.settings.hammers_on_bench = options.bench;
  for (std::size_t i = 0; i < line.settings.sections.size(); ++i) {
    line.settings.blow.push_back({(46 - 0.25 * static_cast<double>(i)) * millimetre,
                                  (45.75 - 0.25 * static_cast<double>(i)) * millimetre});
  }
  line.transfer.needed = options.bench;
  line.transfer.readings = options.bench ? options.transfer_readings : 0;
  line.transfer.ready = !options.bench || options.transfer_readings >= 3;
  line.transfer.offset_at_lowest = 61.4 * millimetre;
  line.transfer.offset_at_highest = 61.7 * millimetre;
  line.transfer.sd_middle = 0.05 * millimetre;
  line.transfer.sd_ends = 0.08 * millimetre;
  for (int place = 0; place < line.compass.count(); ++place) {
    NoteLine note;
    note.key = line.compass.at(place);
    const int number = note.key.number;
    note.section = section_of(line.settings.sections, note.key);
    const Section& section = line.settings.sections[static_cast<std::size_t>(note.section)];
    note.sample = std::ranges::count(line.settings.samples, note.key) > 0;
    const double along = static_cast<double>(number - section.first.number) / section.count();
    const double bowed = options.string_datum_mm + 1.3 * scatter(note.section, 1) +
                         0.8 * scatter(note.section, 2) * along +
                         0.9 * (1 - 4 * (along - 0.5) * (along - 0.5));
    const bool string_here = options.read && (note.sample || number % 12 == 0);
    note.string_fair = bowed * millimetre;
    note.string_sd = (0.06 + 0.06 * std::abs(2 * along - 1)) * millimetre;
    if (!options.read) note.string_sd = Length::from_si(std::numeric_limits<double>::infinity());
    if (string_here) {
      note.string_read = (bowed + 0.1 * scatter(number, 3)) * millimetre;
      note.string_read_sd = 0.1 * millimetre;
    }
    note.blow_target = line.settings.blow[static_cast<std::size_t>(note.section)].at_first;
    note.target = note.string_fair - note.blow_target;
    note.target_sd = note.string_sd;
    if (options.read) {
      double off = 0.9 * scatter(number, 4) + 0.5 * std::sin(0.2 * number);
      if (options.all_moves && std::abs(off) < 0.2) off = off < 0 ? -0.3 : 0.3;
      note.deviation = off * millimetre;
      note.deviation_sd = 0.14 * millimetre;
      note.hammer = note.target + *note.deviation;
      note.hammer_sd = 0.1 * millimetre;
      set_advice(note, line.settings);
    }
    line.notes.push_back(note);
  }
  if (options.troubles && options.read) make_troubles(line);
  fill_gate(line, options.gate_open);
  summarise(line, options);
  if (options.gate_open && line.transfer.ready) {
    for (const Key key : working_order(line.settings.sections, line.settings.samples)) {
      if (line.at(key).verdict == Verdict::move) line.order.push_back(key);
    }
  }
  line.cautions = {Caution::lost_escapement, Caution::blocked_hammer, Caution::strained_hands,
                   Caution::makers_instructions};
  if (options.bench) line.cautions.push_back(Caution::sliding_the_action);
  return line;
}

}  // namespace batten
