#include "tests/fitting/invented_piano.hpp"

#include "profiles/profile_file.hpp"
#include "workshop/chance.hpp"

#include <cmath>
#include <cstdlib>

namespace batten::trial {

namespace {

using fit::Reading;
using fit::What;

constexpr double mm = 1e-3, gf = 9.80665e-3;

// The catalogue's usual uncertainties.
double sd_of(What what, const Plan& plan) {
  switch (what) {
    case What::blow:
    case What::let_off:
      return 0.15 * mm;
    case What::drop:
      return 0.20 * mm;
    case What::dip:
    case What::aftertouch:
      return 0.10 * mm;
    case What::down_weight:
    case What::up_weight:
      return gf;
    default:
      return plan.rise_sd;
  }
}

}  // namespace

InventedPiano invent(const Plan& plan) {
  workshop::Chance chance(plan.seed);
  const auto stored = parse_profile(stored_profiles()[1].text, "medium");
  if (!stored) std::abort();
  for (int attempt = 0; attempt < 200; ++attempt) {
    InventedPiano out;
    out.task.base = stored->profile;
    for (std::size_t p = 0; p < out.task.parameters.size(); ++p)
      out.truth.push_back(plan.spread * chance.normal());
    // The true action, each note set by a hand that aims at the profile's figures.
    fit::Task hidden;
    hidden.base = fit::profile_at(out.task, out.truth);
    hidden.parameters.clear();
    for (const int number : plan.keys) {
      const action::Wanted w = action::note_of(hidden.base, Key{number}).wanted;
      const auto set = [&](What what, double about, double spread) {
        hidden.readings.push_back({Key{number}, what, about + spread * chance.normal(), 1 * mm});
      };
      set(What::blow, w.blow, 0.5 * mm);
      set(What::let_off, w.let_off, 0.2 * mm);
      set(What::drop, w.drop, 0.2 * mm);
      set(What::dip, w.dip, 0.15 * mm);
      hidden.readings.push_back({Key{number}, What::aftertouch, 1 * mm, 1 * mm});
      const double balance = 38 * gf + 1.5 * gf * chance.normal();
      hidden.readings.push_back({Key{number}, What::down_weight, balance, gf});
      hidden.readings.push_back({Key{number}, What::up_weight, balance, gf});
      for (const double depth : {2 * mm, 4 * mm, 6 * mm})
        hidden.readings.push_back({Key{number}, What::rise, 5 * depth, 1 * mm, depth});
    }
    const auto model = fit::make_model(hidden);
    if (!model) continue;
    std::vector<double> x(model->unknown_count(), 0.0), values(model->reading_count);
    fit::calc_read(*model, x, values);
    bool sound = true;
    for (const fit::SampleNote& note : model->notes)
      for (std::size_t i = 0; i < note.readings.size(); ++i) {
        Reading reading = note.readings[i];
        const double value = values[note.first + i];
        sound = sound && std::isfinite(value);
        if (reading.what == What::ratio) out.ratio[note.key] = value;
        if (reading.what == What::course) out.course[note.key] = value;
        if (i >= note.taken) continue;
        // An action that could not be regulated is no piano.
        sound = sound && !(reading.what == What::aftertouch && value < 0.4 * mm);
        const double noise = chance.normal();
        const bool weight = reading.what == What::down_weight || reading.what == What::up_weight;
        if (weight && !plan.with_weights) continue;
        if (reading.what == What::rise && !plan.with_rises) continue;
        if (!weight && reading.what != What::rise && !plan.with_screws) continue;
        reading.sd = sd_of(reading.what, plan);
        reading.value = value + (plan.with_noise ? reading.sd * noise : 0);
        out.honest.push_back(value);
        out.task.readings.push_back(reading);
      }
    if (sound) return out;
  }
  std::abort();
}

}  // namespace batten::trial
