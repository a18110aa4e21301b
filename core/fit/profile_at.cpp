#include "core/fit/model.hpp"

#include <algorithm>
#include <cmath>

namespace batten::fit {

namespace {

double share_of(Course course, Key key) {
  const double up = std::clamp((key.number - 1) / 87.0, 0.0, 1.0);  // A0 to C8
  switch (course) {
    case Course::bass:
      return 1 - up;
    case Course::treble:
      return up;
    case Course::even:
      break;
  }
  return 1;
}

}  // namespace

action::Profile profile_at(const Task& task, std::span<const double> x) {
  action::Profile out = task.base;
  for (std::size_t p = 0; p < task.parameters.size(); ++p) {
    const Parameter& parameter = task.parameters[p];
    for (action::Anchor& anchor : out.anchors) {
      const double change = x[p] * parameter.prior_sd * share_of(parameter.course, anchor.key);
      for (double action::Dimensions::*member : parameter.members) {
        double& value = anchor.dimensions.*member;
        value = parameter.change == Change::scaled ? value * std::exp(change) : value + change;
      }
    }
  }
  return out;
}

action::Note note_at(const Model& model, const action::Profile& profile, std::size_t note,
                     std::span<const double> x) {
  const SampleNote& sample = model.notes[note];
  action::Note out{action::note_of(profile, sample.key).dimensions, sample.start.adjustments};
  const auto own = x.subspan(model.parameter_count() + setting_count * note, setting_count);
  action::Adjustments& a = out.adjustments;
  double* const set[] = {&a.capstan, &a.front_punchings, &a.let_off_button, &a.drop_screw,
                         &out.dimensions.lead_mass};
  out.dimensions.lead_mass = sample.start.lead;
  for (std::size_t k = 0; k < setting_count; ++k) *set[k] += own[k] * setting_units[k];
  return out;
}

}  // namespace batten::fit
