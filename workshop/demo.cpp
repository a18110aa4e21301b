#include "workshop/demo.hpp"

#include "app/entries.hpp"
#include "app/pianos.hpp"
#include "app/readings.hpp"
#include "core/keyboard/samples.hpp"
#include "core/quantities/text.hpp"
#include "workshop/worn_piano.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace batten::workshop {

namespace {

constexpr const char* demo_name = "Hall grand, 2.1 m";
constexpr const char* demo_place = "Quillmere Arts Centre";
constexpr const char* demo_sections = "F2 bridge, D4 strut, B5 strut";
constexpr std::uint64_t base_seed = 210;
// Bench heights read this much less than heights over the key bed, and the bench is a little out of
// parallel.
constexpr double bench_offset_mm = 63.4, bench_tilt_mm = 0.12;  // mm
// The section that is half done, and how many of its capstans have been turned.
constexpr int section_at_work = 1, moves_wanted = 11;

Length bench_offset(Compass c, Key k) {
  return (bench_offset_mm + bench_tilt_mm * (2.0 * c.position(k) / (c.count() - 1) - 1)) *
         millimetre;
}

std::string typed(Length l) {
  // As a gauge with a 0.01 mm display types it.
  return print_number(l.in(millimetre));
}

ReadingTaken reading(Reading kind, Key key, Length value, double sd) {
  const double shown = std::round(value.in(millimetre)*100) / 100;
  return {kind, key, shown, sd, "dial 2", typed(shown * millimetre)};
}

std::vector<EntryContent> settings_and_room() {
  return {SettingChosen{"sections", demo_sections},
          SettingChosen{"blow-target", "46 to 45 mm"},
          SettingChosen{"samples", "plain"},
          SettingChosen{"hammer-datum", "bench"},
          SettingChosen{"undamped-from", "G6"},
          ReadingTaken{Reading::humidity, std::nullopt, 47, 2, "hygrometer", "47"},
          ReadingTaken{Reading::temperature, std::nullopt, 20.5, 0.5, "hygrometer", "20.5"}};
}

std::vector<EntryContent> preparation() {
  std::vector<EntryContent> list;
  for (const PreparationKind& k : preparation_kinds()) {
    PreparationNoted p{k.id, std::nullopt, PreparationState::found, ""};
    if (k.id == PreparationItem::screws_tight || k.id == PreparationItem::key_frame_bedded)
      p.state = PreparationState::done;
    if (k.id == PreparationItem::rest_cushions_even) {
      p.state = PreparationState::waived;
      p.reason = "worn but even; new cloth is agreed for the summer";
    }
    if (k.id == PreparationItem::strings_level) {
      p.state = PreparationState::waived;
      p.reason = "three unisons have one low string, noted; levelled with the next tuning";
    }
    list.emplace_back(p);
  }
  return list;
}

// String heights at the fuller samples and twice at three of them, two of them badly read.
std::vector<EntryContent> string_heights(const DemoTruth& truth, Chance& chance) {
  std::vector<Key> keys = propose_fuller_samples(truth.strings.sections);
  for (int again : {16, 40, 64}) keys.push_back(Key{again});
  std::vector<EntryContent> list;
  for (Key k : keys) {
    Length h = truth.strings.at(k) + 0.1 * chance.normal() * millimetre;
    if (std::ranges::find(truth.low_unisons, k) != truth.low_unisons.end()) h -= 0.3 * millimetre;
    if (k == truth.wrong[0]) h += 1.1 * millimetre;
    if (k == truth.wrong[1]) h -= 1.4 * millimetre;
    list.emplace_back(reading(Reading::string_height, k, h, 0.1));
  }
  for (Key k : truth.low_unisons)
    list.emplace_back(
        reading(Reading::unison_level, k, (0.3 + 0.03 * chance.normal()) * millimetre, 0.05));
  return list;
}

std::vector<EntryContent> transfers(Compass c, Chance& chance) {
  std::vector<EntryContent> list;
  for (int k : {3, 28, 52, 85})
    list.emplace_back(reading(Reading::datum_transfer, Key{k},
                              bench_offset(c, Key{k}) + 0.08 * chance.normal() * millimetre, 0.1));
  return list;
}

EntryContent hammer_height(const DemoTruth& truth, Key k, Length stands, Chance& chance) {
  const Length bench =
      stands - bench_offset(truth.strings.compass, k) + 0.1 * chance.normal() * millimetre;
  return reading(Reading::hammer_height, k, bench, 0.1);
}

std::vector<EntryContent> key_readings(Chance& chance) {
  std::vector<EntryContent> list;
  for (int k : {1, 15, 27, 39, 51, 63, 75, 88}) {
    list.emplace_back(
        reading(Reading::aftertouch, Key{k}, (1.15 + 0.12 * chance.normal()) * millimetre, 0.1));
    list.emplace_back(
        reading(Reading::dip, Key{k}, (10.0 + 0.1 * chance.normal()) * millimetre, 0.1));
    list.emplace_back(reading(Reading::let_off, Key{k},
                              (2.4 - 0.012 * k + 0.15 * chance.normal()) * millimetre, 0.15));
  }
  return list;
}

// The capstans turned so far: the section at work, in working order.
std::vector<DemoMove> moves_so_far(const DemoTruth& truth, Chance& chance) {
  const auto& sections = truth.strings.sections;
  const Section at_work = sections[section_at_work];
  std::vector<DemoMove> list;
  for (Key k : working_order(sections, propose_samples(sections))) {
    if (!at_work.contains(k) || list.size() >= moves_wanted) continue;
    const auto i = static_cast<std::size_t>(truth.strings.compass.position(k));
    const Turns wanted = (truth.targets[i] - truth.hammers_before[i]) / truth.crown_per_turn;
    const Turns turns = round_turns(wanted, 64);
    if (turns == Turns()) continue;
    // No screw is quite like the next, and no hand stops quite where it meant to.
    const LengthPerTurn pitch = truth.crown_per_turn * (1 + 0.02 * chance.normal());
    const Length rise = pitch * (turns + 0.004 * chance.normal() * turn);
    list.push_back({k, turns, truth.hammers_before[i] + rise});
  }
  return list;
}

// The journal of the day so far: how many minutes after the last, and what was written down.
using Pages = std::vector<std::pair<double, std::vector<EntryContent>>>;
Pages write_day(const DemoTruth& truth) {
  const Compass compass = truth.strings.compass;
  Chance noise(base_seed + 1);
  Pages day;
  day.push_back({5, settings_and_room()});
  day.push_back({70, preparation()});
  day.push_back({25, string_heights(truth, noise)});
  day.push_back({20, key_readings(noise)});
  day.push_back({10, transfers(compass, noise)});
  std::vector<EntryContent> hammers;
  for (int i = 0; i < compass.count(); ++i)
    hammers.push_back(hammer_height(truth, compass.at(i),
                                    truth.hammers_before[static_cast<std::size_t>(i)], noise));
  day.push_back({40, std::move(hammers)});
  day.push_back(
      {1, {Remark{std::nullopt, "Begin above the bridge break; the hall is needed at six."}}});
  for (const DemoMove& m : truth.moves)
    day.push_back({1.5,
                   {MoveMade{Adjuster::capstan, m.key, m.turns.in(turn), ""},
                    hammer_height(truth, m.key, m.after, noise)}});
  return day;
}

}  // namespace

DemoTruth demo_truth() {
  DemoTruth truth;
  Chance chance(base_seed);
  truth.strings.sections = *parse_sections(demo_sections, truth.strings.compass);
  for (const Section& s : truth.strings.sections) append_section(truth.strings, s, {}, chance);
  truth.targets = hammer_targets(truth.strings);
  truth.crown_per_turn = 8.4 * millimetre / turn;
  truth.wrong = {Key{44}, Key{15}};                 // E4, B1
  truth.low_unisons = {Key{39}, Key{56}, Key{75}};  // B3, E5, B6
  truth.hammers_before = worn_hammers(truth.strings, truth.targets, chance);
  truth.moves = moves_so_far(truth, chance);
  truth.hammers = truth.hammers_before;
  for (const DemoMove& m : truth.moves)
    truth.hammers[static_cast<std::size_t>(truth.strings.compass.position(m.key))] = m.after;
  return truth;
}

std::vector<std::vector<EntryContent>> demo_journal() {
  std::vector<std::vector<EntryContent>> journal;
  for (auto& [minutes, contents] : write_day(demo_truth())) journal.push_back(std::move(contents));
  return journal;
}

Result<Piano> build_demo(Desk& desk) {
  auto all = list_pianos(desk);
  if (!all) return tl::unexpected(all.error());
  for (const PianoSummary& p : *all)
    if (p.piano.name == demo_name && p.piano.place == demo_place) return p.piano;

  // As if it had been entered since yesterday noon.
  const auto real_clock = desk.now_ms;
  std::int64_t clock = real_clock() - 22 * 3'600'000LL;
  desk.now_ms = [&clock] { return clock; };
  auto built = add_piano(desk, {demo_name, demo_place, Compass{}, ""});
  if (built) {
    for (auto& [minutes, contents] : write_day(demo_truth())) {
      clock += static_cast<std::int64_t>(minutes * 60'000);
      if (auto kept = keep(desk, *built, std::move(contents)); !kept) {
        built = tl::unexpected(kept.error());
        break;
      }
    }
  }
  desk.now_ms = real_clock;
  return built;
}

}  // namespace batten::workshop
