#include "workshop/demo_past.hpp"

#include "core/keyboard/samples.hpp"
#include "core/quantities/text.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>

namespace batten::workshop {

namespace {

constexpr std::uint64_t past_seed = 2316;
constexpr std::size_t now_at = demo_past_visits;

// Days before now, humidity and temperature read. The wood's moisture lies where the Wood Handbook
// puts it for such air (table 4-2: 30 % → 6, 50 → 9, 65 → 12), a little behind it.
struct Stay {
  int days;
  double humidity, temperature, moisture;
};
constexpr std::array<Stay, demo_past_visits + 1> stays{{{1096, 44, 20, 8.2},
                                                        {830, 61, 24, 10.9},
                                                        {640, 37, 19.5, 7.3},
                                                        {200, 50, 21.5, 8.8},
                                                        {0, 47, 20.5, 8.6}}};

// New felt gives way over its first hours of playing, six a week here (estimates for the demo).
constexpr double hours_a_day = 6.0 / 7, hours_to_settle = 150;
// A third of what three years did was the new felt's, the rest slow wear; from note to note it
// varies.
constexpr double felt_share = 0.3, felt_share_sd = 0.1;

double days_in(std::size_t stay) { return stays[0].days - stays[stay].days; }
double settled(std::size_t stay) {
  return 1 - std::exp(-days_in(stay) * hours_a_day / hours_to_settle);
}
double worn(std::size_t stay) { return days_in(stay) / stays[0].days; }

// What one per cent of moisture does (catalogue unit), and how far the hand was off its target when
// all was new. In the order of the aims.
struct Habit {
  double by_moisture, hand;
};
constexpr std::array<Habit, aim_count> habits{{{0.03, 0.02},   // key height
                                               {0.004, 0.03},  // jack position
                                               {0.003, 0.01},  // jack clearance
                                               {0, 0},         // spring rise
                                               {0.06, 0.07},   // blow: the strings rise with the
                                                               // soundboard
                                               {-0.03, 0.05},  // dip: cloth swells
                                               {0.06, 0.06},   // let-off
                                               {0.01, 0.1},    // drop
                                               {0.1, 0.3},     // check distance
                                               {0, 0},         // aftertouch, from the others
                                               {0, 0.015}}};   // damper start

double target(Key k, Aim aim, double up) {
  switch (aim) {
    case Aim::key_height:
      return is_sharp(k) ? 12.25 : 64.5;
    case Aim::jack_clearance:
      return 0.15;
    case Aim::spring_rise:
      return 2;
    case Aim::blow:
      return 46 - up;
    case Aim::dip:
      return is_sharp(k) ? 9.7 : 10.0;
    case Aim::let_off:
      return 2 - 0.6 * up;
    case Aim::drop:
      return 1.5;
    case Aim::check_distance:
      return 14;
    case Aim::damper_start:
      return 0.5;
    default:
      return 0;
  }
}

// What a unit does on this piano, the smallest amount a hand sets, and how far off the notes were
// with the new felt in (standard deviation and mean).
struct Screw {
  Adjuster adjuster;
  double effect, step, off, off_mean;
};
constexpr Screw capstans{Adjuster::capstan, -8.4, 1.0 / 64, 0.8, 1.2};
constexpr Screw buttons{Adjuster::let_off_button, 4.1, 1.0 / 32, 0.5, -0.2};
constexpr Screw drops{Adjuster::drop_screw, 4.3, 1.0 / 32, 0.3, 0.1};
constexpr Screw springs{Adjuster::repetition_spring, 1, 1, 0, 0};

struct Touch {
  Screw screw;
  std::size_t stay;
  double chance, most_drift, least;
};
// What was set again later: at how many of the notes that stood off, at most how far such a note
// may wander in three years, and what was worth a move.
constexpr std::array touches{
    Touch{buttons, 1, 0.8, 0.75, 0.15}, Touch{capstans, 1, 0.5, 1.3, 0.25},
    Touch{buttons, 2, 0.3, 0.6, 0.15},  Touch{capstans, 2, 0.4, 1.1, 0.25},
    Touch{buttons, 3, 0.6, 0.5, 0.15},  Touch{capstans, 3, 0.5, 0.9, 0.25}};

double rounded(double amount, double step) { return std::round(amount / step) * step; }

class Past {
 public:
  explicit Past(const DemoTruth& truth) : truth_(truth), chance_(past_seed) {
    for (std::size_t v = 0; v < visits_.size(); ++v) {
      constexpr std::array titles{"first visit", "second look", "dry air, springs and drop",
                                  "before the recitals"};
      constexpr std::array who{"Tilda Marsh", "Tilda Marsh", "Rufus Oake", "Tilda Marsh"};
      DemoPastVisit& visit = visits_[v];
      visit.days_before = stays[v].days;
      visit.humidity = stays[v].humidity;
      visit.temperature = stays[v].temperature;
      visit.title = titles[v];
      visit.who = who[v];
      visit.found.resize(static_cast<std::size_t>(truth.strings.compass.count()));
      visit.left = visit.found;
    }
    for (const Key k :
         working_order(truth.strings.sections, propose_samples(truth.strings.sections)))
      trace(k);
  }
  std::array<DemoPastVisit, demo_past_visits> visits() && { return std::move(visits_); }

 private:
  double as_found_now(Key k, Aim aim) const {
    for (const DemoSetting& s : truth_.settings)
      if (s.key == k && aim_for(s.adjuster) == aim) return s.before;
    return demo_as_found(truth_, k, aim);
  }

  void trace(Key k) {
    const auto n = static_cast<std::size_t>(truth_.strings.compass.position(k));
    const double up = static_cast<double>(n) / (truth_.strings.compass.count() - 1);
    for (const Aim aim : all_aims) {
      if (aim == Aim::aftertouch) continue;
      if (aim == Aim::spring_rise)
        trace_spring(k, n);
      else
        trace_aim(k, n, aim, target(k, aim, up));
    }
    for (DemoPastVisit& v : visits_)
      for (auto* of : {&v.found[n], &v.left[n]}) {
        auto& a = *of;
        // R1 of docs/theory/action.md.
        a[index_of(Aim::aftertouch)] =
            a[index_of(Aim::dip)] -
            (a[index_of(Aim::blow)] - a[index_of(Aim::let_off)]) / truth_.ratio[n];
      }
  }

  void trace_aim(Key k, std::size_t n, Aim aim, double wanted) {
    const Habit& habit = habits[index_of(aim)];
    const double now = as_found_now(k, aim);
    const double felt = std::clamp(felt_share + felt_share_sd * chance_.normal(), 0.1, 0.6);
    const double by_moisture = habit.by_moisture * (1 + 0.25 * chance_.normal());
    const auto gone = [&](std::size_t stay) {
      return felt * settled(stay) + (1 - felt) * worn(stay);
    };
    const auto season = [&](std::size_t from, std::size_t to) {
      return by_moisture * (stays[to].moisture - stays[from].moisture);
    };
    const double left_first = wanted + habit.hand * std::clamp(chance_.normal(), -2.0, 2.0);
    double drift = (now - left_first - season(0, now_at)) / gone(now_at);
    std::array<double, demo_past_visits> effect{};
    for (const Touch& touch : touches) {
      if (aim_for(touch.screw.adjuster) != aim || chance_.uniform() > touch.chance) continue;
      const std::size_t v = touch.stay;
      // As left then, near its target, and wandering to where it is found now.
      const double left = wanted + habit.hand * std::clamp(chance_.normal(), -2.0, 2.0);
      const double wander = (now - left - season(v, now_at)) / (gone(now_at) - gone(v));
      const double amount =
          rounded(-(wander * gone(v) + season(0, v)) / touch.screw.effect, touch.screw.step);
      const double by = amount * touch.screw.effect;
      if (std::abs(wander) > touch.most_drift || std::abs(by) < touch.least) continue;
      drift = wander;
      effect[v] = by * (1 + 0.02 * chance_.normal());
      visits_[v].moves.push_back({k, touch.screw.adjuster, amount, 0, 0});
      break;
    }
    if (aim == Aim::let_off) let_off_by_ = effect;
    if (aim == Aim::drop) {
      follow_let_off(k, effect);
      double since = 0;
      for (const double by : effect) since += by;
      drift = (now - left_first - season(0, now_at) - since) / gone(now_at);
    }
    if (const auto amount = first_regulation(aim); amount) {
      visits_[0].moves.push_back({k, amount->first.adjuster, amount->second, 0, 0});
      effect[0] = amount->second * amount->first.effect * (1 + 0.02 * chance_.normal());
    }
    double later = 0;  // what moves after this visit's end did
    for (std::size_t v = demo_past_visits; v-- > 0;) {
      const double left = now - drift * (gone(now_at) - gone(v)) - season(v, now_at) - later;
      write(v, k, n, aim, left - effect[v], left);
      later += effect[v];
    }
  }

  // Earlier let-off leaves less drop: what was turned there is made good at the drop screw.
  void follow_let_off(Key k, std::array<double, demo_past_visits>& effect) {
    constexpr double carried = -0.9, worth = 0.1;  // mm of drop per mm of let-off; mm
    for (std::size_t v = 1; v < demo_past_visits; ++v) {
      effect[v] = carried * let_off_by_[v];
      if (std::abs(effect[v]) < worth) continue;
      const double amount = rounded(-effect[v] / drops.effect, drops.step);
      effect[v] += amount * drops.effect * (1 + 0.02 * chance_.normal());
      visits_[v].moves.push_back({k, drops.adjuster, amount, 0, 0});
    }
  }

  // With the new felt in: which screw, and how much it was turned.
  std::optional<std::pair<Screw, double>> first_regulation(Aim aim) {
    for (const Screw& screw : {capstans, buttons, drops}) {
      if (aim_for(screw.adjuster) != aim) continue;
      const double off = screw.off_mean + screw.off * std::clamp(chance_.normal(), -2.5, 2.5);
      const double amount = rounded(off / screw.effect, screw.step);
      if (amount != 0) return std::pair(screw, amount);
    }
    return std::nullopt;
  }

  // A grade does not creep; a few went weak and were bent at the third visit, a few since the last.
  void trace_spring(Key k, std::size_t n) {
    const double now = as_found_now(k, Aim::spring_rise);
    const bool bent = now == 2 && k.number % 5 == 2;
    if (bent) visits_[2].moves.push_back({k, springs.adjuster, 1, 0, 0});
    for (std::size_t v = 0; v < demo_past_visits; ++v)
      write(v, k, n, Aim::spring_rise, bent && v == 2 ? 1 : 2, 2);
  }

  void write(std::size_t v, Key k, std::size_t n, Aim aim, double found, double left) {
    visits_[v].found[n][index_of(aim)] = found;
    visits_[v].left[n][index_of(aim)] = left;
    for (DemoSetting& m : visits_[v].moves)
      if (m.key == k && aim_for(m.adjuster) == aim) {
        m.before = found;
        m.after = left;
      }
  }

  const DemoTruth& truth_;
  Chance chance_;
  std::array<DemoPastVisit, demo_past_visits> visits_;
  std::array<double, demo_past_visits> let_off_by_{};  // of the note being traced
};

class Writer {
 public:
  Writer(const DemoTruth& truth, const DemoPastVisit& visit, std::size_t index)
      : truth_(truth), visit_(visit), chance_(past_seed + 1 + index) {
    samples_ = propose_samples(truth.strings.sections);
    for (const int sharp : {17, 34, 53, 70}) samples_.push_back(Key{sharp});
    std::ranges::sort(samples_);
  }

  void room(std::vector<EntryContent> settings) {
    std::vector<EntryContent> list = std::move(settings);
    list.emplace_back(ReadingTaken{Reading::humidity, std::nullopt, visit_.humidity, 2,
                                   "hygrometer", print_number(visit_.humidity)});
    list.emplace_back(ReadingTaken{Reading::temperature, std::nullopt, visit_.temperature, 0.5,
                                   "hygrometer", print_number(visit_.temperature)});
    pages.emplace_back(5, std::move(list));
    // Each visit looks for itself before a line is set.
    std::vector<EntryContent> found;
    for (const PreparationKind& k : preparation_kinds())
      found.emplace_back(PreparationNoted{k.id, std::nullopt, PreparationState::found, ""});
    pages.emplace_back(25, std::move(found));
  }

  void remark(std::string text) { pages.push_back({2, {Remark{std::nullopt, std::move(text)}}}); }

  void read_samples(std::initializer_list<Aim> aims, bool at_end, double minutes) {
    std::vector<EntryContent> list;
    for (const Key k : samples_)
      for (const Aim aim : aims)
        if (aim != Aim::damper_start || k < undamped) list.push_back(take(k, aim, at_end));
    pages.emplace_back(minutes, std::move(list));
  }

  void read_all(Aim aim, double minutes) {
    std::vector<EntryContent> list;
    const Compass compass = truth_.strings.compass;
    for (int i = 0; i < compass.count(); ++i) list.push_back(take(compass.at(i), aim, false));
    pages.emplace_back(minutes, std::move(list));
  }

  // Turned, and read again; `read` first: found as it was, where not yet on record.
  void turn(Adjuster adjuster, double minutes, bool read) {
    const Aim aim = aim_for(adjuster);
    for (const DemoSetting& m : visit_.moves) {
      if (m.adjuster != adjuster) continue;
      if (read && std::ranges::find(samples_, m.key) == samples_.end())
        pages.push_back({0.3, {take(m.key, aim, false)}});
      pages.push_back({minutes, {MoveMade{adjuster, m.key, m.amount, ""}, take(m.key, aim, true)}});
    }
  }

  DemoPages pages;

 private:
  static constexpr Key undamped{71};  // G6

  EntryContent take(Key k, Aim aim, bool at_end) {
    const auto n = static_cast<std::size_t>(truth_.strings.compass.position(k));
    const auto& of = at_end ? visit_.left[n] : visit_.found[n];
    return take_demo_reading(k, aim, of[index_of(aim)], chance_);
  }

  const DemoTruth& truth_;
  const DemoPastVisit& visit_;
  Chance chance_;
  std::vector<Key> samples_;
};

std::vector<EntryContent> settings_of_piano(const std::string& new_felt_day) {
  std::vector<EntryContent> list{SettingChosen{"sections", demo_sections},
                                 SettingChosen{"blow-target", "46 to 45 mm"},
                                 SettingChosen{"undamped-from", "G6"},
                                 SettingChosen{"action-profile", "medium"},
                                 SettingChosen{"key-height-target", "64.5 mm"},
                                 SettingChosen{"capstan-thread", "raise counter-clockwise"}};
  if (!new_felt_day.empty()) {
    list.emplace_back(SettingChosen{"new-felt", new_felt_day});
    list.emplace_back(SettingChosen{"playing-hours", "6"});
  }
  return list;
}

}  // namespace

EntryContent take_demo_reading(Key k, Aim aim, double value, Chance& chance) {
  // How well this technician reads, one standard deviation: gauges with a dial, several tries for
  // what is told by eye. Indexed as the aims.
  constexpr std::array<double, aim_count> reads_to{0.03, 0.05, 0.02, 0.15, 0.1,  0.05,
                                                   0.08, 0.1,  0.35, 0.06, 0.015};
  const Reading kind = reading_of(aim, k);
  const double sd = reads_to[index_of(aim)];
  double shown = value + sd * chance.normal();
  shown =
      kind_of(kind).unit == ReadingUnit::grade ? std::round(value) : std::round(shown * 100) / 100;
  return ReadingTaken{kind, k, shown, sd, "", print_number(shown)};
}

double demo_as_found(const DemoTruth& truth, Key k, Aim aim) {
  const auto i = static_cast<std::size_t>(truth.strings.compass.position(k));
  const double now = truth.aims[i][index_of(aim)];
  const double risen = (truth.hammers[i] - truth.hammers_before[i]).in(millimetre);
  if (aim == Aim::blow) return now + risen;
  if (aim == Aim::aftertouch) return now - risen / truth.ratio[i];
  return now;
}

std::array<DemoPastVisit, demo_past_visits> demo_past(const DemoTruth& truth) {
  return Past(truth).visits();
}

DemoPages write_demo_past(const DemoTruth& truth, const DemoPastVisit& visit, std::size_t index,
                          const std::string& new_felt_day) {
  using enum Aim;
  Writer day(truth, visit, index);
  if (index == 0) {
    day.room(settings_of_piano(new_felt_day));
    day.remark(
        "New punchings, cushions and let-off felt; all centres free, keys eased and levelled.");
    day.read_all(key_height, 25);
    day.read_samples({jack_position, jack_clearance, spring_rise, damper_start}, false, 30);
    day.read_all(blow, 30);
    day.turn(Adjuster::capstan, 1.5, false);
    day.read_all(let_off, 30);
    day.turn(Adjuster::let_off_button, 0.8, false);
    day.read_samples({dip, check_distance}, false, 20);
    day.read_all(drop, 20);
    day.turn(Adjuster::drop_screw, 0.8, false);
    day.read_samples({aftertouch}, true, 12);
    return std::move(day.pages);
  }
  day.room({});
  if (index == 1) {
    day.read_samples({key_height, blow, dip, aftertouch, drop}, false, 30);
    day.read_all(let_off, 30);
    day.turn(Adjuster::capstan, 1.5, true);
    day.turn(Adjuster::let_off_button, 0.8, false);
    day.turn(Adjuster::drop_screw, 0.8, false);
    day.read_samples({aftertouch}, true, 12);
    day.remark("The new felt has given way as it does; the next look can wait some months.");
  } else if (index == 2) {
    day.read_samples({key_height, blow, dip, let_off, aftertouch, drop}, false, 30);
    day.read_all(spring_rise, 15);
    day.turn(Adjuster::repetition_spring, 1.1, false);
    day.turn(Adjuster::capstan, 1.5, true);
    day.turn(Adjuster::let_off_button, 0.8, true);
    day.turn(Adjuster::drop_screw, 0.8, false);
    day.read_samples({check_distance, jack_clearance, damper_start}, false, 25);
    day.remark("Very dry; the hall has been asked for a humidifier.");
  } else {
    day.read_samples({key_height, blow, dip, let_off, aftertouch, drop, check_distance}, false, 40);
    day.turn(Adjuster::capstan, 1.5, true);
    day.turn(Adjuster::let_off_button, 0.8, true);
    day.turn(Adjuster::drop_screw, 0.8, false);
    day.remark("Only what stood out before the recitals; the line as a whole next time.");
  }
  return std::move(day.pages);
}

}  // namespace batten::workshop
