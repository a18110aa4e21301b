#include "core/regulation/line/aftertouch.hpp"

#include "core/regulation/catalogue/readings.hpp"

#include <algorithm>
#include <map>
#include <optional>

namespace batten::line {

namespace {

struct Newest {
  Length value;
  std::size_t place = 0;  // in the journal
};

std::map<Key, Newest> newest_readings(Compass compass, const Standing& standing) {
  std::map<Key, Newest> newest;
  for (std::size_t i = 0; i < standing.readings.size(); ++i) {
    const auto& r = std::get<ReadingTaken>(standing.readings[i].content);
    if (r.reading == Reading::aftertouch && r.note && compass.contains(*r.note))
      newest[*r.note] = {r.value * millimetre, standing.reading_places[i]};
  }
  return newest;
}

// What a move may have done to the aftertouch, seen from the careful side; nothing if unknown.
std::optional<Length> effect(const MoveMade& move, const LineSettings& settings) {
  switch (move.adjuster) {
    case Adjuster::capstan: {
      const LengthPerTurn most = settings.crown_per_turn + settings.crown_per_turn_sd;
      const LengthPerTurn least = settings.crown_per_turn - settings.crown_per_turn_sd;
      const Turns turns = move.amount * turn;
      return move.amount < 0 ? most * turns / least_action_ratio
                             : least * turns / most_action_ratio;
    }
    case Adjuster::front_punchings:
      return -move.amount * millimetre;
    case Adjuster::let_off_button:
    case Adjuster::balance_punchings:
    case Adjuster::jack_button:
    case Adjuster::lever_height_button:
      return std::nullopt;
    case Adjuster::repetition_spring:
    case Adjuster::drop_screw:
    case Adjuster::back_check:
    case Adjuster::damper_wire:
    case Adjuster::string_level:
    case Adjuster::sostenuto_tab:
    case Adjuster::damper_pedal_rod:
    case Adjuster::damper_tray_stop:
    case Adjuster::damper_up_stop:
    case Adjuster::sostenuto_blade:
    case Adjuster::shift_stop:
      return Length();
  }
  return std::nullopt;
}

Length after_moves(Length value, Key key, std::optional<std::size_t> since,
                   const LineSettings& settings, const Standing& standing) {
  for (std::size_t i = 0; i < standing.moves.size(); ++i) {
    const auto& move = std::get<MoveMade>(standing.moves[i].content);
    if (move.note != key || (since && standing.move_places[i] < *since)) continue;
    const auto change = effect(move, settings);
    if (!change) return Length();
    value += *change;
  }
  return std::max(value, Length());
}

}  // namespace

std::vector<Length> reliable_aftertouch(Compass compass, const LineSettings& settings,
                                        const Standing& standing) {
  const std::map<Key, Newest> newest = newest_readings(compass, standing);
  std::vector<std::optional<Length>> least(settings.sections.size());
  for (const auto& [key, reading] : newest) {
    auto& of_section = least[static_cast<std::size_t>(section_of(settings.sections, key))];
    of_section = std::min(of_section.value_or(reading.value), reading.value);
  }
  const Length usual = kind_of(Reading::aftertouch).usual_low.value_or(0.8) * millimetre;

  std::vector<Length> reliable;
  for (int i = 0; i < compass.count(); ++i) {
    const Key key = compass.at(i);
    if (const auto it = newest.find(key); it != newest.end()) {
      reliable.push_back(after_moves(it->second.value, key, it->second.place, settings, standing));
      continue;
    }
    const auto& of_section = least[static_cast<std::size_t>(section_of(settings.sections, key))];
    reliable.push_back(of_section ? after_moves(std::min(*of_section, usual), key, std::nullopt,
                                                settings, standing)
                                  : Length());
  }
  return reliable;
}

}  // namespace batten::line
