// Invented pianos that drift out of regulation as the years go by, by several laws, and the visits
// they were paid. What they do nobody at them knows.
#pragma once

#include "core/journal/entry.hpp"
#include "core/keyboard/compass.hpp"
#include "core/regulation/catalogue/readings.hpp"
#include "workshop/chance.hpp"

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

namespace batten::workshop {

// By what the readings move. Only the first is core/regulation/drift's own.
enum class AgingLaw : std::uint8_t {
  as_believed,  // the forecast's own law, its effects drawn from its own priors
  log_time,     // felt goes on giving way with the logarithm of the hours, never stopping
  jumps,        // nothing wanders: now and then a note, or a section, jumps
  late_season,  // wood follows the air by three months instead of three weeks
  heavy_steps,  // wander twice as large, by steps with heavy tails, the sections more together
};
inline constexpr std::size_t aging_law_count = 5;
std::string_view name_of(AgingLaw law);

// Room, playing and felt of a piano.
struct AgingLife {
  double hours_a_week = 10;
  double humidity = 50, swing = 7;  // % RH: mean of the year, and half from driest to dampest
  double driest_day = 45;           // of the year
  std::optional<double> felt_day;   // all felt new, day since 1970-01-01
};

// One like others; its felt was new, if it was, from a year before `day` to `latest_felt`.
AgingLife draw_life(Chance& chance, double day, double latest_felt);

// Days are since 1970-01-01 and only go forward.
class AgingPiano {
 public:
  // Nothing has been regulated for years.
  AgingPiano(Compass compass, std::vector<Section> sections, AgingLaw law, std::uint64_t seed,
             double day, const AgingLife& life);

  const AgingLife& life() const { return life_; }
  Compass compass() const { return compass_; }
  double day() const { return day_; }
  void let_pass(double to_day);
  // % RH in the room now, as it is.
  double humidity() const { return air_; }
  // The reading as it truly is, its unit; only readings of aging_readings at notes that have them.
  double level(Key key, Reading reading) const;
  // A hand leaves it there.
  void set(Key key, Reading reading, double level);
  // Middle of the target (usual figures) and tolerance about it (house).
  static double target(Reading reading);
  static double tolerance(Reading reading);
  static bool has(Key key, Reading reading);

 private:
  struct Part {
    double level = 0;
    double playing_in = 0, season = 0, wear = 0;  // effects of this note
    double set_hours = -1;                        // hours played when it was set last
  };
  std::size_t place(Key key, std::size_t reading) const;
  void step_room(double days);
  double settled(std::size_t reading, double hours) const;
  void shift(std::size_t reading, double days, double hours, double moisture);

  Compass compass_;
  std::vector<Section> sections_;
  AgingLaw law_;
  Chance chance_;
  AgingLife life_;
  double day_ = 0, hours_ = 0;
  std::vector<double> settle_hours_;  // of each reading
  double spell_ = 0, air_ = 50, wood_humidity_ = 50;
  std::vector<Part> parts_;  // [reading][key]
};

// Those that are followed, catalogue order.
const std::vector<Reading>& aging_readings();

// A past of visits: each reads every note of every reading (the room too), sets what lies more than
// `set_from` tolerances off, and reads that again.
struct AgedPast {
  std::vector<Entry> entries;  // settings first
  std::int64_t end_ms = 0;     // of the last visit
  AgingPiano piano;            // as it was left then
};
struct PastWanted {
  int visits = 4;
  // Months between them, alike between the two.
  double least_months = 5, most_months = 12;
  double set_from = 0.6;
  // Whether the room's year, the hours and new felt are on record.
  bool tells_life = false;
  std::optional<AgingLife> life;
};
AgedPast live(AgingLaw law, std::uint64_t seed, const PastWanted& wanted = {});

// The share of all readings at all notes that lie outside, now.
double share_outside(const AgingPiano& piano);
double share_outside(const AgingPiano& piano, Reading reading);

}  // namespace batten::workshop
