#include "workshop/demo.hpp"

#include "app/entries.hpp"
#include "app/line_job.hpp"
#include "app/pianos.hpp"
#include "core/keyboard/samples.hpp"
#include "core/quantities/text.hpp"
#include "workshop/demo_past.hpp"
#include "workshop/worn_piano.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>

namespace batten::workshop {

namespace {

constexpr const char* demo_name = "Hall grand, 2.1 m";
constexpr const char* demo_place = "Quillmere Arts Centre";
constexpr const char* demo_visit = "regulation";
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
          SettingChosen{"action-profile", "medium"},
          SettingChosen{"key-height-target", "64.5 mm"},
          SettingChosen{"capstan-thread", "raise counter-clockwise"},
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

double now(const DemoTruth& truth, Key k, Aim aim) {
  return truth.aims[static_cast<std::size_t>(truth.strings.compass.position(k))][index_of(aim)];
}

// Read for aftertouch, dip and let-off first.
constexpr std::array first_read{1, 15, 27, 39, 51, 63, 75, 88};

std::vector<EntryContent> key_readings(const DemoTruth& truth, Chance& chance) {
  std::vector<EntryContent> list;
  for (int k : first_read)
    for (const Aim aim : {Aim::aftertouch, Aim::dip, Aim::let_off})
      list.push_back(take_demo_reading(Key{k}, aim, demo_as_found(truth, Key{k}, aim), chance));
  return list;
}

// What hangs together at every other note; what follows from it at the samples.
std::vector<EntryContent> other_readings(const DemoTruth& truth, Chance& chance) {
  std::vector<EntryContent> list;
  const Compass compass = truth.strings.compass;
  for (int i = 0; i < compass.count(); ++i) {
    const Key k = compass.at(i);
    if (std::ranges::find(first_read, k.number) != first_read.end()) continue;
    for (const Aim aim : {Aim::aftertouch, Aim::dip, Aim::let_off})
      list.push_back(take_demo_reading(k, aim, demo_as_found(truth, k, aim), chance));
  }
  for (const Key k : propose_samples(truth.strings.sections))
    for (const Aim aim : {Aim::drop, Aim::check_distance})
      list.push_back(take_demo_reading(k, aim, now(truth, k, aim), chance));
  return list;
}

// An earlier pass: every note read, then one after the other set right and read again.
void write_pass(const DemoTruth& truth, Adjuster adjuster, double minutes, Chance& chance,
                DemoPages& day) {
  const Aim aim = aim_for(adjuster);
  std::vector<EntryContent> as_found;
  const Compass compass = truth.strings.compass;
  for (int i = 0; i < compass.count(); ++i) {
    const Key k = compass.at(i);
    double value = now(truth, k, aim);
    for (const DemoSetting& s : truth.settings)
      if (s.key == k && s.adjuster == adjuster) value = s.before;
    as_found.push_back(take_demo_reading(k, aim, value, chance));
  }
  day.push_back({25, std::move(as_found)});
  for (const DemoSetting& s : truth.settings)
    if (s.adjuster == adjuster)
      day.push_back({minutes,
                     {MoveMade{adjuster, s.key, s.amount, ""},
                      take_demo_reading(s.key, aim, s.after, chance)}});
}

// Where everything but the hammers stood, what was set of it, and where it stands.
void append_aims(DemoTruth& truth, Chance& chance) {
  const Compass compass = truth.strings.compass;
  const auto at = [](double& of, double middle, double sd, Chance& c) {
    of = middle + sd * std::clamp(c.normal(), -2.5, 2.5);
  };
  for (int i = 0; i < compass.count(); ++i) {
    const auto n = static_cast<std::size_t>(i);
    const Key k = compass.at(i);
    const double up = static_cast<double>(i) / (compass.count() - 1);
    std::array<double, aim_count> a{};
    at(a[index_of(Aim::key_height)], is_sharp(k) ? 12.25 : 64.5, 0.02, chance);
    at(a[index_of(Aim::jack_position)], 0, 0.02, chance);
    at(a[index_of(Aim::jack_clearance)], 0.15, 0.01, chance);
    a[index_of(Aim::spring_rise)] = 2;
    at(a[index_of(Aim::dip)], (is_sharp(k) ? 9.7 : 10.0) + 0.08 * std::sin(7 * up), 0.07, chance);
    at(a[index_of(Aim::let_off)], 2.25 - 0.6 * up, 0.22, chance);
    at(a[index_of(Aim::drop)], 1.6, 0.25, chance);
    at(a[index_of(Aim::check_distance)], 14.3, 0.7, chance);
    at(a[index_of(Aim::damper_start)], 0.5, 0.03, chance);
    const double ratio = 4.95 + 0.03 * std::clamp(chance.normal(), -2.5, 2.5);
    const double blow = (truth.strings.heights[n] - truth.hammers[n]).in(millimetre);
    a[index_of(Aim::blow)] = blow;
    a[index_of(Aim::aftertouch)] =
        a[index_of(Aim::dip)] - (blow - a[index_of(Aim::let_off)]) / ratio;
    truth.aims.push_back(a);
    truth.ratio.push_back(ratio);
  }
  // What a unit did on this piano (mm, grade), in the order of the work.
  struct Earlier {
    Adjuster adjuster;
    int every, from;
    double amount, effect;
  };
  constexpr Earlier earlier[] = {{Adjuster::balance_punchings, 9, 3, 0.1, 2.1},
                                 {Adjuster::jack_button, 13, 5, 0.25, 1.45},
                                 {Adjuster::lever_height_button, 11, 8, 0.125, 0.92},
                                 {Adjuster::repetition_spring, 15, 7, 1, 1}};
  for (const Earlier& e : earlier)
    for (const Key k :
         working_order(truth.strings.sections, propose_samples(truth.strings.sections))) {
      if (k.number % e.every != e.from % e.every) continue;
      const auto n = static_cast<std::size_t>(compass.position(k));
      const double after = truth.aims[n][index_of(aim_for(e.adjuster))];
      const double turned =
          e.adjuster == Adjuster::jack_button && k.number % 2 == 0 ? -e.amount : e.amount;
      truth.settings.push_back({k, e.adjuster, turned, after - turned * e.effect, after});
    }
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
DemoPages write_day(const DemoTruth& truth) {
  const Compass compass = truth.strings.compass;
  Chance noise(base_seed + 1);
  DemoPages day;
  day.push_back({5, settings_and_room()});
  day.push_back({70, preparation()});
  Chance earlier(base_seed + 2);
  write_pass(truth, Adjuster::balance_punchings, 1.6, earlier, day);
  write_pass(truth, Adjuster::repetition_spring, 1.1, earlier, day);
  write_pass(truth, Adjuster::lever_height_button, 0.8, earlier, day);
  write_pass(truth, Adjuster::jack_button, 0.9, earlier, day);
  day.push_back({25, string_heights(truth, noise)});
  day.push_back({20, key_readings(truth, noise)});
  day.push_back({95, other_readings(truth, earlier)});
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
  Chance wear(base_seed + 3);
  append_aims(truth, wear);
  return truth;
}

std::vector<std::vector<EntryContent>> demo_journal() {
  std::vector<std::vector<EntryContent>> journal;
  for (auto& [minutes, contents] : write_day(demo_truth())) journal.push_back(std::move(contents));
  return journal;
}

namespace {

Result<void> keep_day(Desk& desk, const Piano& piano, DemoPages day, std::int64_t& clock) {
  for (auto& [minutes, contents] : day) {
    clock += static_cast<std::int64_t>(minutes * 60'000);
    if (auto kept = keep(desk, piano, std::move(contents)); !kept)
      return tl::unexpected(kept.error());
  }
  return {};
}

// Past and present; `clock` is the desk's.
Result<Piano> write_all(Desk& desk, std::int64_t begun, std::int64_t& clock) {
  const DemoTruth truth = demo_truth();
  const std::string me = desk.who;
  const auto past = demo_past(truth);
  const auto day_of = [&](const DemoPastVisit& v) { return begun - v.days_before * 86'400'000LL; };
  clock = day_of(past[0]);
  auto piano = add_piano(desk, {demo_name, demo_place, Compass{}, "", {}});
  if (!piano) return piano;
  for (std::size_t i = 0; i < past.size(); ++i) {
    clock = day_of(past[i]);
    desk.who = past[i].who;
    if (i > 0)
      if (auto visit = begin_visit(desk, *piano, past[i].title); !visit)
        return tl::unexpected(visit.error());
    auto written = keep_day(
        desk, *piano,
        write_demo_past(truth, past[i], i, print_clock(day_of(past[0])).substr(0, 10) + " all"),
        clock);
    if (!written) return tl::unexpected(written.error());
  }
  clock = begun;
  desk.who = me;
  if (auto visit = begin_visit(desk, *piano, demo_visit); !visit)
    return tl::unexpected(visit.error());
  if (auto written = keep_day(desk, *piano, write_day(truth), clock); !written)
    return tl::unexpected(written.error());
  return piano;
}

}  // namespace

Result<Piano> build_demo(Desk& desk) {
  auto all = list_pianos(desk);
  if (!all) return tl::unexpected(all.error());
  for (const PianoSummary& p : *all)
    if (p.piano.name == demo_name && p.piano.place == demo_place) return p.piano;

  // As if it had been entered since yesterday morning, and the earlier visits on their days.
  const auto real_clock = desk.now_ms;
  const std::string me = desk.who;
  const std::int64_t begun = real_clock() - 27 * 3'600'000LL;
  std::int64_t clock = begun;
  desk.now_ms = [&clock] { return clock; };
  auto built = write_all(desk, begun, clock);
  desk.now_ms = real_clock;
  desk.who = me;
  return built;
}

}  // namespace batten::workshop
