#include "workshop/worn_piano.hpp"

#include "core/keyboard/samples.hpp"

#include <array>

namespace batten::workshop {

Length blow_wanted(Compass c, Key k) {
  return (46.0 - 1.0 * c.position(k) / (c.count() - 1)) * millimetre;
}

std::vector<Length> hammer_targets(const StringLine& strings) {
  std::vector<Length> targets;
  for (int i = 0; i < strings.compass.count(); ++i) {
    const Key k = strings.compass.at(i);
    targets.push_back(strings.at(k) - blow_wanted(strings.compass, k));
  }
  return targets;
}

std::vector<Length> worn_hammers(const StringLine& strings, const std::vector<Length>& targets,
                                 Chance& chance) {
  std::vector<Length> hammers;
  for (std::size_t i = 0; i < targets.size(); ++i) {
    const Key key = strings.compass.at(static_cast<int>(i));
    const int s = section_of(strings.sections, key);
    const double sag = std::array{-0.5, -0.9, -0.6, 0.3}.at(static_cast<std::size_t>(s));
    const double stands_out = chance.uniform() < 0.07 ? 0.9 * chance.normal() : 0;
    hammers.push_back(targets[i] + (sag + 0.35 * chance.normal() + stands_out) * millimetre);
  }
  return hammers;
}

WornPiano make_worn_piano(Chance& chance, const WornPianoLaw& law) {
  WornPiano piano;
  piano.law = law;
  piano.strings = make_string_line(chance, law.strings);
  piano.targets = hammer_targets(piano.strings);
  piano.hammers = worn_hammers(piano.strings, piano.targets, chance);
  piano.crown_per_turn = law.crown_per_turn + chance.normal() * law.crown_per_turn_sd;
  return piano;
}

std::vector<EntryContent> first_look(const WornPiano& piano, Chance& chance) {
  const StringLine& strings = piano.strings;
  std::vector<EntryContent> list{SettingChosen{"sections", print_sections(strings.sections)},
                                 SettingChosen{"blow-target", "46 to 45 mm"}};
  for (const PreparationKind& k : preparation_kinds())
    list.emplace_back(PreparationNoted{k.id, std::nullopt, PreparationState::found, ""});
  const auto taken = [&](Reading reading, Key key, Length truth, Length noise) {
    list.emplace_back(ReadingTaken{reading, key, (truth + chance.normal() * noise).in(millimetre),
                                   noise.in(millimetre), "", ""});
  };
  for (Key k : propose_fuller_samples(strings.sections))
    taken(Reading::string_height, k, strings.at(k), piano.law.string_noise);
  for (int i = 0; i < strings.compass.count(); ++i)
    taken(Reading::hammer_height, strings.compass.at(i), piano.hammers[static_cast<std::size_t>(i)],
          piano.law.hammer_noise);
  return list;
}

}  // namespace batten::workshop
