// The readings as a function of the unknowns.
#pragma once

#include "core/action/readings.hpp"
#include "core/fit/task.hpp"
#include "core/outcome/outcome.hpp"

#include <array>
#include <span>
#include <vector>

namespace batten::fit {

// What is set on one note and nobody has read: unknown beside the parameters, and told by what is
// read there. Their prior is so wide that it tells nothing.
inline constexpr int setting_count = 5;  // capstan, front punchings, let-off button, drop, leads
struct Settings {
  action::Adjustments adjustments;
  double lead = 0;  // kg
};

struct SampleNote {
  Key key;
  Settings start;
  // Those taken, those assumed, then the figures wanted (value 0, sd 1): ratio, and course at notes
  // with rises and at the middle one.
  std::vector<Reading> readings;
  std::size_t taken = 0, counted = 0;  // taken; taken and assumed
  std::size_t first = 0;               // place of the first among all residuals of readings
};

// Ready to be solved. Unknowns are one vector of plain numbers near zero: the parameters in
// their prior standard deviations, then setting_count per note (setting_units), from `start`.
struct Model {
  Task task;
  std::vector<double> start;      // of the parameters
  std::vector<SampleNote> notes;  // rising
  std::size_t reading_count = 0;

  std::size_t parameter_count() const { return task.parameters.size(); }
  std::size_t unknown_count() const { return parameter_count() + setting_count * notes.size(); }
  // Of one row of the Jacobian: the parameters, then the settings of the row's own note.
  std::size_t column_count() const { return parameter_count() + setting_count; }
};

// SI value of one, and prior standard deviation in ones.
inline constexpr std::array<double, setting_count> setting_units{1e-4, 1e-4, 1e-4, 1e-4, 5e-3};
inline constexpr double setting_prior_sd = 20;

// Finds settings at which the profile, changed by `start` (empty: not at all), gives about the
// readings. What is not read of
// blow, let-off, drop and dip is assumed to be as the profile wants it, give or take
// (assumed_readings). Errors: fewer than two notes read, a reading that is not a number or has no
// uncertainty, a depth past the dip, a parameter without prior, a profile that is wrong, a note
// that cannot be set so, and which reading is out of reach.
Result<Model> make_model(const Task& task, std::span<const double> start = {});

// What is assumed of a note where nothing is read: sd 1.5, 0.7, 0.7 and 0.4 mm (estimates).
std::vector<Reading> assumed_readings(const action::Anchor& note);

// The profile with the parameters' changes; `x` begins with the parameters.
action::Profile profile_at(const Task& task, std::span<const double> x);
action::Note note_at(const Model& model, const action::Profile& profile, std::size_t note,
                     std::span<const double> x);

// Every reading as the model has it, SI, notes in order; NaN where the note does not do what was
// read, or cannot be put together.
void calc_read(const Model& model, std::span<const double> x, std::span<double> out);

// (calculated - read) / sd.
void calc_residuals(const Model& model, std::span<const double> x, std::span<double> residuals);

// Likewise, and d residual / d unknown by central differences (one-sided where one side does not
// work), row-major, column_count() a row.
void calc_jacobian(const Model& model, std::span<const double> x, std::span<double> residuals,
                   std::span<double> jacobian);

}  // namespace batten::fit
