#include "workshop/aging.hpp"

#include "core/regulation/aims/aim.hpp"
#include "core/regulation/drift/priors.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>
#include <utility>

namespace batten::workshop {

namespace {

using drift::Prior;

constexpr double year = 365.25;
// Of the air's spells and of the wood behind it, days; as core/regulation/drift believes them.
constexpr double spell_days = 12, spell_size = 6, wood_days = 21, late_wood_days = 90;

constexpr std::array laws{"as believed", "log time", "jumps", "late season", "heavy steps"};

std::size_t place_of(Reading reading) {
  const auto& all = aging_readings();
  return static_cast<std::size_t>(std::ranges::find(all, reading) - all.begin());
}

// Moisture content of wood by humidity, %, from the isotherm of Hailwood and Horrobin as the USDA
// Wood Handbook gives it (equation 4-5, 20 °C): not the forecast's own table.
double moisture_of(double humidity) {
  constexpr double t = 20;
  const double h = std::clamp(humidity, 0.0, 99.0) / 100;
  const double w = 349 + 1.29 * t + 0.0135 * t * t;
  const double k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const double k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const double k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  const double kh = k * h;
  return 1800 / w *
         (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh));
}

double yearly(const AgingLife& life, double day) {
  return life.humidity -
         life.swing * std::cos(2 * std::numbers::pi * (day - life.driest_day) / year);
}

}  // namespace

AgingLife draw_life(Chance& chance, double day, double latest_felt) {
  AgingLife life;
  life.hours_a_week = 10 * std::exp(0.4 * chance.normal());
  life.humidity = std::clamp(50 + 5 * chance.normal(), 36.0, 66.0);
  life.swing = std::clamp(7 + 4 * chance.normal(), 1.0, 16.0);
  life.driest_day = 45 + 20 * chance.normal();
  if (chance.uniform() < 0.4)
    life.felt_day = day - year + (latest_felt - day + year) * chance.uniform();
  return life;
}

std::string_view name_of(AgingLaw law) { return laws[static_cast<std::size_t>(law)]; }

const std::vector<Reading>& aging_readings() {
  static const std::vector<Reading> list = [] {
    std::vector<Reading> l;
    for (const ReadingKind& kind : reading_kinds())
      if (drift::prior_of(kind.id)) l.push_back(kind.id);
    return l;
  }();
  return list;
}

AgingPiano::AgingPiano(Compass compass, std::vector<Section> sections, AgingLaw law,
                       std::uint64_t seed, double day, const AgingLife& life)
    : compass_(compass), sections_(std::move(sections)), law_(law), chance_(seed), day_(day) {
  life_ = life;
  for (std::size_t r = 0; r < aging_readings().size(); ++r) {
    const double u = chance_.uniform();
    settle_hours_.push_back(drift::settle_hours[u < 0.25 ? 0 : u < 0.75 ? 1 : 2]);
  }
  air_ = wood_humidity_ = yearly(life_, day);
  step_room(200);  // forgets where it began
  const auto n = static_cast<std::size_t>(compass.count());
  parts_.resize(aging_readings().size() * n);
  for (std::size_t r = 0; r < aging_readings().size(); ++r) {
    const Reading reading = aging_readings()[r];
    const Prior p = *drift::prior_of(reading);
    const auto draw = [&](double mean, double sd) { return mean + sd * chance_.normal(); };
    const std::array effects{p.playing_in, p.season, p.wear};
    std::array<double, 3> piano{};
    for (std::size_t i = 0; i < 3; ++i) piano[i] = draw(effects[i].mean, effects[i].sd);
    for (const Section& s : sections_) {
      std::array<double, 3> here{};
      for (std::size_t i = 0; i < 3; ++i)
        here[i] = draw(piano[i], drift::section_share * effects[i].size());
      for (int k = s.first.number; k <= s.last.number; ++k) {
        Part& part = parts_[place(Key{k}, r)];
        part.level = draw(target(reading), p.found);
        part.playing_in = draw(here[0], drift::note_share * effects[0].size());
        part.season = draw(here[1], drift::note_share * effects[1].size());
        part.wear = here[2];
      }
    }
  }
}

std::size_t AgingPiano::place(Key key, std::size_t reading) const {
  return reading * static_cast<std::size_t>(compass_.count()) +
         static_cast<std::size_t>(compass_.position(key));
}

double AgingPiano::level(Key key, Reading reading) const {
  return parts_[place(key, place_of(reading))].level;
}

void AgingPiano::set(Key key, Reading reading, double level) {
  Part& part = parts_[place(key, place_of(reading))];
  part.level = level;
  part.set_hours = hours_;
}

double AgingPiano::target(Reading reading) {
  switch (reading) {
    case Reading::blow:
      return 45.5;
    case Reading::key_height:
      return 64.5;
    case Reading::sharps_height:
      return 12.2;
    case Reading::dip:
      return 10;
    case Reading::sharp_dip:
      return 9.7;
    case Reading::let_off:
      return 1.7;
    case Reading::drop:
      return 1.5;
    case Reading::aftertouch:
      return 1.2;
    case Reading::check_distance:
      return 14;
    case Reading::jack_clearance:
      return 0.15;
    case Reading::spring_rise:
      return 2;
    case Reading::damper_start:
      return 0.5;
    default:
      return 0;
  }
}

double AgingPiano::tolerance(Reading reading) { return *kind_of(reading).tolerance_absolute; }

bool AgingPiano::has(Key key, Reading reading) {
  const auto aim = aim_of(reading);
  return aim && reading_of(*aim, key) == reading;
}

// A day at a time: spells come and go, the wood follows.
void AgingPiano::step_room(double days) {
  const double keep = std::exp(-1 / spell_days);
  const double lag = law_ == AgingLaw::late_season ? late_wood_days : wood_days;
  const double follow = 1 - std::exp(-1 / lag);
  double day = day_;
  double left = days;
  while (left > 0) {
    const double part = std::min(1.0, left);
    day += part;
    spell_ = keep * spell_ + spell_size * std::sqrt(1 - keep * keep) * chance_.normal();
    air_ = yearly(life_, day) + spell_;
    wood_humidity_ += follow * part * (air_ - wood_humidity_);
    left -= 1;
  }
}

double AgingPiano::settled(std::size_t reading, double hours) const {
  if (law_ == AgingLaw::log_time) return std::log1p(hours / 10) / std::log1p(400 / 10.0);
  return 1 - std::exp(-hours / settle_hours_[reading]);
}

void AgingPiano::let_pass(double to_day) {
  const double days = to_day - day_;
  if (days <= 0) return;
  const double before = moisture_of(wood_humidity_);
  step_room(days);
  const double hours = life_.hours_a_week / 7 * days;
  const double moisture = moisture_of(wood_humidity_) - before;
  day_ = to_day;
  for (std::size_t r = 0; r < aging_readings().size(); ++r) shift(r, days, hours, moisture);
  hours_ += hours;
}

void AgingPiano::shift(std::size_t r, double days, double hours, double moisture) {
  const Prior p = *drift::prior_of(aging_readings()[r]);
  const double tol = tolerance(aging_readings()[r]);
  double settling = 0;
  if (life_.felt_day && day_ > *life_.felt_day) {
    const double to = life_.hours_a_week / 7 * (day_ - *life_.felt_day);
    settling = settled(r, to) - settled(r, std::max(0.0, to - hours));
  }
  const double years = days / year;
  for (const Section& s : sections_) {
    double together = p.wander_shared * std::sqrt(years) * chance_.normal();
    if (law_ == AgingLaw::jumps)
      together = chance_.uniform() < 0.4 * years ? 0.5 * tol * chance_.normal() : 0;
    if (law_ == AgingLaw::heavy_steps) together *= 2;
    for (int k = s.first.number; k <= s.last.number; ++k) {
      Part& part = parts_[place(Key{k}, r)];
      double share = settling;
      if (part.set_hours >= 0)
        share += drift::settles_again * (settled(r, hours_ + hours - part.set_hours) -
                                         settled(r, hours_ - part.set_hours));
      double wander = p.wander * std::sqrt(years) * chance_.normal();
      if (law_ == AgingLaw::jumps)
        wander = chance_.uniform() < 0.5 * years ? 0.7 * tol * chance_.normal() : 0;
      if (law_ == AgingLaw::heavy_steps)
        wander = 2 * p.wander * std::sqrt(years) * chance_.student(4) / std::numbers::sqrt2;
      part.level += part.playing_in * share + part.season * moisture + part.wear * hours / 1000 +
                    wander + together;
    }
  }
}

double share_outside(const AgingPiano& piano, Reading reading) {
  int notes = 0, outside = 0;
  for (int i = 0; i < piano.compass().count(); ++i) {
    const Key key = piano.compass().at(i);
    if (!AgingPiano::has(key, reading)) continue;
    ++notes;
    const double off = piano.level(key, reading) - AgingPiano::target(reading);
    outside += std::abs(off) > AgingPiano::tolerance(reading) ? 1 : 0;
  }
  return notes > 0 ? static_cast<double>(outside) / notes : 0;
}

double share_outside(const AgingPiano& piano) {
  double outside = 0, notes = 0;
  for (const Reading reading : aging_readings())
    for (int i = 0; i < piano.compass().count(); ++i) {
      const Key key = piano.compass().at(i);
      if (!AgingPiano::has(key, reading)) continue;
      notes += 1;
      const double off = piano.level(key, reading) - AgingPiano::target(reading);
      outside += std::abs(off) > AgingPiano::tolerance(reading) ? 1 : 0;
    }
  return outside / notes;
}

}  // namespace batten::workshop
