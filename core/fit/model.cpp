#include "core/fit/model.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

namespace batten::fit {

namespace {

using action::Note;
using action::Readings;
using action::SweepPoint;

const double none = std::nan("");

// Crown's rise at a key depth: parabola through the three rows about it.
double rise_at(const std::vector<SweepPoint>& rows, double depth) {
  if (rows.size() < 3 || depth > rows.back().depth || depth < 0) return none;
  std::size_t k = 1;
  while (k + 2 < rows.size() && rows[k].depth < depth) ++k;
  const double x0 = rows[k - 1].depth, x1 = rows[k].depth, x2 = rows[k + 1].depth;
  const double s0 = (rows[k].below - rows[k - 1].below) / (x1 - x0);
  const double s1 = (rows[k + 1].below - rows[k].below) / (x2 - x1);
  const double below =
      rows[k - 1].below + s0 * (depth - x0) + (s1 - s0) / (x2 - x0) * (depth - x0) * (depth - x1);
  return rows.front().below - below;
}

double value_of(const Reading& reading, const Note& note, const Readings& r) {
  switch (reading.what) {
    case What::blow:
      return r.blow;
    case What::let_off:
      return r.let_off;
    case What::drop:
      return r.drop;
    case What::dip:
      return r.dip;
    case What::aftertouch:
      return r.aftertouch;
    case What::down_weight:
      return r.down_weight;
    case What::up_weight:
      return r.up_weight;
    case What::rise:
      return rise_at(r.down, reading.depth);
    case What::dimension:
      return note.dimensions.*reading.member;
    case What::ratio:
      return r.ratio_identity;
    case What::course:
      return 1 - (rise_at(r.down, 6e-3) - rise_at(r.down, 5e-3)) /
                     (rise_at(r.down, 2e-3) - rise_at(r.down, 1e-3));
  }
  return none;
}

// A state of one note to be read.
struct Trial {
  std::size_t note;
  Note state;
};

// Rows of values, one per trial, each as long as its note has readings.
std::vector<std::vector<double>> calc_trials(const Model& model, const std::vector<Trial>& trials) {
  // Curves cost as much again: only where they are wanted.
  std::vector<std::vector<double>> out(trials.size());
  for (const bool curves : {false, true}) {
    std::vector<Note> notes;
    std::vector<std::size_t> places;
    for (std::size_t t = 0; t < trials.size(); ++t) {
      bool wanted = false;
      for (const Reading& r : model.notes[trials[t].note].readings)
        wanted = wanted || r.what == What::rise || r.what == What::course;
      if (wanted != curves) continue;
      notes.push_back(trials[t].state);
      places.push_back(t);
    }
    action::ReadOptions options;
    options.with_blow = false;
    options.keep_curves = curves;
    const auto read = action::calc_readings(notes, options);
    for (std::size_t i = 0; i < read.size(); ++i) {
      const std::size_t t = places[i];
      for (const Reading& r : model.notes[trials[t].note].readings)
        out[t].push_back(read[i] ? value_of(r, notes[i], *read[i]) : none);
    }
  }
  return out;
}

constexpr double setting_step = 0.4;  // likewise, in setting_units

double step_of(const Model& model, std::size_t column) {
  return column < model.parameter_count() ? model.task.parameters[column].step : setting_step;
}

// Slope from three values a step apart. Where the action does not work on one side, from the other;
// where a reading jumps on one side (the hammer changes from lever to jack), the flatter one: a
// jump taken for a slope would make the fit surer than it is.
double slope_of(double low, double middle, double high, double step) {
  const double left = (middle - low) / step, right = (high - middle) / step;
  if (!std::isfinite(left)) return std::isfinite(right) ? right : 0;
  if (!std::isfinite(right)) return left;
  const double larger = std::max(std::abs(left), std::abs(right));
  constexpr double steep = 1;  // standard deviations of the reading
  if (larger > steep && std::abs(left - right) > 0.5 * larger)
    return std::abs(left) < std::abs(right) ? left : right;
  return 0.5 * (left + right);
}

}  // namespace

void calc_read(const Model& model, std::span<const double> x, std::span<double> out) {
  assert(x.size() == model.unknown_count() && out.size() == model.reading_count);
  const action::Profile profile = profile_at(model.task, x);
  std::vector<Trial> trials;
  for (std::size_t n = 0; n < model.notes.size(); ++n)
    trials.push_back({n, note_at(model, profile, n, x)});
  const auto values = calc_trials(model, trials);
  for (std::size_t n = 0; n < model.notes.size(); ++n)
    for (std::size_t i = 0; i < values[n].size(); ++i) out[model.notes[n].first + i] = values[n][i];
}

void calc_residuals(const Model& model, std::span<const double> x, std::span<double> residuals) {
  calc_read(model, x, residuals);
  for (const SampleNote& note : model.notes)
    for (std::size_t i = 0; i < note.readings.size(); ++i) {
      double& value = residuals[note.first + i];
      value = (value - note.readings[i].value) / note.readings[i].sd;
    }
}

void calc_jacobian(const Model& model, std::span<const double> x, std::span<double> residuals,
                   std::span<double> jacobian) {
  assert(x.size() == model.unknown_count() && residuals.size() == model.reading_count);
  const std::size_t parameters = model.parameter_count(), columns = model.column_count();
  assert(jacobian.size() == residuals.size() * columns);
  // For each note: as it is, then each column stepped down and up.
  std::vector<Trial> trials;
  std::vector<double> moved(x.begin(), x.end());
  const action::Profile here = profile_at(model.task, x);
  for (std::size_t n = 0; n < model.notes.size(); ++n)
    trials.push_back({n, note_at(model, here, n, x)});
  for (std::size_t c = 0; c < columns; ++c)
    for (const double way : {-1.0, 1.0}) {
      const double step = way * step_of(model, c);
      if (c < parameters) moved[c] += step;
      const action::Profile profile = c < parameters ? profile_at(model.task, moved) : here;
      for (std::size_t n = 0; n < model.notes.size(); ++n) {
        const std::size_t place = c < parameters ? c : c + setting_count * n;
        if (c >= parameters) moved[place] += step;
        trials.push_back({n, note_at(model, profile, n, moved)});
        if (c >= parameters) moved[place] = x[place];
      }
      if (c < parameters) moved[c] = x[c];
    }
  const auto values = calc_trials(model, trials);

  const std::size_t notes = model.notes.size();
  for (std::size_t n = 0; n < notes; ++n) {
    const SampleNote& note = model.notes[n];
    for (std::size_t i = 0; i < note.readings.size(); ++i) {
      const double sd = note.readings[i].sd, middle = values[n][i];
      residuals[note.first + i] = (middle - note.readings[i].value) / sd;
      double* row = &jacobian[(note.first + i) * columns];
      for (std::size_t c = 0; c < columns; ++c) {
        const double low = values[notes * (1 + 2 * c) + n][i];
        const double high = values[notes * (2 + 2 * c) + n][i];
        row[c] = slope_of(low / sd, middle / sd, high / sd, step_of(model, c));
      }
    }
  }
}

}  // namespace batten::fit
