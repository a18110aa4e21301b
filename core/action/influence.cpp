#include "core/action/regulate.hpp"
#include "core/action/slow.hpp"

#include <cmath>
#include <iterator>

namespace batten::action {

namespace {

constexpr double Readings::*rows[row_count] = {
    &Readings::blow,         &Readings::let_off,        &Readings::drop,
    &Readings::dip,          &Readings::aftertouch,     &Readings::check_distance,
    &Readings::key_height,   &Readings::jack_clearance, &Readings::jack_position,
    &Readings::lost_motion,  &Readings::down_weight,    &Readings::up_weight,
    &Readings::damper_start, &Readings::shank_gap,      &Readings::spring_rise,
    &Readings::let_off_bump,
};

// Large against what is left of the press's steps in the readings (0.3 um), small against what
// escapement needs: the drop moves by 0.3 mm.
constexpr double wide_step = 50e-6, wide_share = 0.04;

double wide(int adjuster) {
  return adjustment_members[adjuster] == &Adjustments::spring ? wide_share : wide_step;
}

}  // namespace

Result<Influence> calc_influence(const Note& note, bool with_trials) {
  // Of every adjuster: + and - the wide step, + and - half of it.
  constexpr double steps[4] = {1, -1, 0.5, -0.5};
  std::vector<Note> notes;
  notes.reserve(std::size(steps) * static_cast<std::size_t>(adjustment_count));
  for (int a = 0; a < adjustment_count; ++a)
    for (const double step : steps) {
      notes.push_back(note);
      notes.back().adjustments.*adjustment_members[a] += step * wide(a);
    }
  slow::Wish wish;
  wish.trial = with_trials;
  const auto readings = slow::read_notes(notes, wish);
  for (const auto& r : readings)
    if (!r) return tl::unexpected(r.error());
  Influence out;
  for (int a = 0; a < adjustment_count; ++a) {
    const auto* four = &readings[4 * static_cast<std::size_t>(a)];
    for (int row = 0; row < row_count; ++row) {
      const auto slope = [&](int k) {
        return ((*four[k]).*rows[row] - (*four[k + 1]).*rows[row]) /
               ((steps[k] - steps[k + 1]) * wide(a));
      };
      const std::size_t r = static_cast<std::size_t>(row), c = static_cast<std::size_t>(a);
      out.value[r][c] = slope(0);
      out.error[r][c] = std::abs(slope(0) - slope(2));
    }
  }
  return out;
}

}  // namespace batten::action
