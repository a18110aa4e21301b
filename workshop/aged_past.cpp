// The visits an aging piano was paid, written down as they would have been.
#include "core/quantities/text.hpp"
#include "core/regulation/aims/aim.hpp"
#include "workshop/aging.hpp"

#include <array>
#include <cmath>
#include <cstdio>
#include <string>
#include <utility>

namespace batten::workshop {

namespace {

constexpr std::int64_t ms_per_day = 86400000;
constexpr double month = 30.4375;
// 2021-03-01: only differences matter.
constexpr double first_day = 18687;

class Pen {
 public:
  explicit Pen(std::vector<Entry>& out) : out_(out) {}
  void begin_visit(double day) {
    visit_ = next();
    day_ = day;
    minute_ = 0;
  }
  void write(EntryContent content) {
    const auto at =
        static_cast<std::int64_t>(day_ * static_cast<double>(ms_per_day)) + minute_++ * 1000;
    out_.push_back({next(), visit_, at, "a technician", std::move(content)});
  }

 private:
  Uuid next() {
    Uuid id;
    ++count_;
    for (std::size_t i = 0; i < 8; ++i)
      id.bytes[15 - i] = static_cast<std::uint8_t>(count_ >> (8 * i));
    return id;
  }
  std::vector<Entry>& out_;
  Uuid visit_;
  double day_ = 0;
  std::int64_t minute_ = 0;
  std::uint64_t count_ = 0;
};

void write_settings(const AgingPiano& piano, bool tells_life, Pen& pen) {
  const std::array settings{std::pair{"sections", "E2 bridge, A#4 strut, D6 strut"},
                            std::pair{"blow-target", "45.5 mm"},
                            std::pair{"key-height-target", "64.5 mm"},
                            std::pair{"sharps-height-target", "12.2 mm"},
                            std::pair{"let-off-target", "1.7 mm"},
                            std::pair{"aftertouch-target", "1.2 mm"}};
  for (const auto& [name, value] : settings) pen.write(SettingChosen{name, value});
  const AgingLife& life = piano.life();
  if (!tells_life) return;
  pen.write(SettingChosen{"playing-hours", print_number(life.hours_a_week)});
  pen.write(SettingChosen{"climate", print_number(life.humidity - life.swing) + " to " +
                                         print_number(life.humidity + life.swing)});
}

// ISO date of a day since 1970-01-01.
std::string date_of(double day) {
  const auto z = static_cast<std::int64_t>(std::floor(day)) + 719468;
  const auto era = z / 146097;
  const auto doe = z - era * 146097;
  const auto yoe = (doe - doe / 1460 + doe / 36524 - doe / 146096) / 365;
  const auto doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
  const auto mp = (5 * doy + 2) / 153;
  const auto d = doy - (153 * mp + 2) / 5 + 1;
  const auto m = mp < 10 ? mp + 3 : mp - 9;
  const auto y = yoe + era * 400 + (m <= 2 ? 1 : 0);
  std::array<char, 32> text{};
  std::snprintf(text.data(), text.size(), "%04d-%02d-%02d", static_cast<int>(y),
                static_cast<int>(m), static_cast<int>(d));
  return text.data();
}

ReadingTaken read(const AgingPiano& piano, Key key, Reading reading, Chance& chance) {
  const ReadingKind& kind = kind_of(reading);
  double value = piano.level(key, reading) + kind.usual_uncertainty * chance.normal();
  if (kind.unit == ReadingUnit::grade) value = std::clamp(std::round(value), 0.0, 4.0);
  return {reading, key, value, kind.usual_uncertainty, "", ""};
}

// Everything is read as found; then pass by pass what lies off is set, and read again wherever
// something was turned at the note.
constexpr std::array passes{Reading::jack_position, Reading::spring_rise,   Reading::jack_clearance,
                            Reading::key_height,    Reading::sharps_height, Reading::blow,
                            Reading::let_off,       Reading::drop,          Reading::dip,
                            Reading::sharp_dip,     Reading::aftertouch,    Reading::check_distance,
                            Reading::damper_start};

class VisitPaid {
 public:
  VisitPaid(AgingPiano& piano, const PastWanted& wanted, double left, Chance& chance, Pen& pen)
      : piano_(piano), wanted_(wanted), left_(left), chance_(chance), pen_(pen) {}

  void pay() {
    pen_.write(ReadingTaken{Reading::humidity, std::nullopt,
                            piano_.humidity() + 3 * chance_.normal(), 3, "", ""});
    const auto notes = static_cast<std::size_t>(piano_.compass().count());
    turned_.assign(notes, false);
    off_.assign(passes.size() * notes, 0);
    for (std::size_t r = 0; r < passes.size(); ++r)
      each(r, [&](Key key, std::size_t i) {
        const ReadingTaken found = read(piano_, key, passes[r], chance_);
        pen_.write(found);
        off_[r * notes + i] = found.value - AgingPiano::target(passes[r]);
      });
    for (std::size_t r = 0; r < passes.size(); ++r)
      each(r, [&](Key key, std::size_t i) { work(r, key, i, off_[r * notes + i]); });
  }

 private:
  template <class Do>
  void each(std::size_t r, Do&& what) {
    for (int i = 0; i < piano_.compass().count(); ++i)
      if (const Key key = piano_.compass().at(i); AgingPiano::has(key, passes[r]))
        what(key, static_cast<std::size_t>(i));
  }

  // The aftertouch has no screw of its own: the front punchings set it with the dip.
  void work(std::size_t r, Key key, std::size_t i, double off) {
    const Reading reading = passes[r], dip = reading_of(Aim::dip, key);
    if (std::abs(off) > wanted_.set_from * AgingPiano::tolerance(reading)) {
      leave(key, reading);
      if (reading == Reading::aftertouch) leave(key, dip);
      pen_.write(MoveMade{adjuster_for(*aim_of(reading)), key, 0.1, ""});
      if (reading == Reading::aftertouch) pen_.write(read(piano_, key, dip, chance_));
      turned_[i] = true;
    }
    if (turned_[i]) pen_.write(read(piano_, key, reading, chance_));
  }

  void leave(Key key, Reading reading) {
    piano_.set(
        key, reading,
        AgingPiano::target(reading) + left_ * AgingPiano::tolerance(reading) * chance_.normal());
  }

  AgingPiano& piano_;
  const PastWanted& wanted_;
  double left_;  // where the hand leaves a note about its target, in tolerances
  Chance& chance_;
  Pen& pen_;
  std::vector<bool> turned_;
  std::vector<double> off_;
};

}  // namespace

AgedPast live(AgingLaw law, std::uint64_t seed, const PastWanted& wanted) {
  const Compass compass;
  const auto sections = parse_sections("E2 bridge, A#4 strut, D6 strut", compass);
  Chance chance(seed * 7919 + 17);
  double day = first_day + 365 * chance.uniform();
  // Felt put in after the last visit is nobody's to foresee.
  const AgingLife life =
      wanted.life ? *wanted.life
                  : draw_life(chance, day, day + month * wanted.least_months * (wanted.visits - 1));
  AgedPast past{{}, 0, AgingPiano(compass, *sections, law, seed, day, life)};
  const double left = 0.2 + 0.4 * chance.uniform();
  Pen pen(past.entries);
  pen.begin_visit(day);
  write_settings(past.piano, wanted.tells_life, pen);
  for (int v = 0; v < wanted.visits; ++v) {
    if (v > 0) {
      day += month *
             (wanted.least_months + (wanted.most_months - wanted.least_months) * chance.uniform());
      past.piano.let_pass(day);
      pen.begin_visit(day);
    }
    const auto felt = past.piano.life().felt_day;
    if (felt && *felt < day && v + 1 == wanted.visits)
      pen.write(SettingChosen{"new-felt", date_of(*felt) + " all"});
    VisitPaid(past.piano, wanted, left, chance, pen).pay();
  }
  past.end_ms = past.entries.back().at_ms;
  return past;
}

}  // namespace batten::workshop
