#include "core/regulation/planning/state.hpp"

#include "core/regulation/planning/replay.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace batten {
namespace {

using planning::replay;
using planning::tie_of;

constexpr auto at_index(Aim aim) { return static_cast<Eigen::Index>(aim); }

// How far the aftertouch of a piano lies from its model's before any was read, and from note to
// note once the piano's is known (mm; the geometry varies by 3 % from piano to piano and by less
// than 1 % within one, of a key travel of 8 to 9 mm; estimates).
constexpr double piano_tie_sd = 0.30, note_tie_sd = 0.10;
constexpr std::size_t ties_needed = 4;

double median(std::vector<double> v) {
  const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

// Distances of the aftertouch read from the one the other readings give, section by section;
// nothing where too few were read.
std::optional<std::vector<double>> learn_ties(const Situation& s, const ActionModel& model) {
  std::vector<std::vector<double>> by_section(s.targets.sections.size());
  std::vector<double> all;
  for (const NoteState& n : s.notes) {
    if (!n.read[index_of(Aim::aftertouch)] || !n.read[index_of(Aim::dip)] ||
        !n.read[index_of(Aim::blow)] || !n.read[index_of(Aim::let_off)])
      continue;
    const NoteModel& m = model.at(n.key);
    const double off = n.at(Aim::aftertouch) - m.at_target(at_index(Aim::aftertouch)) -
                       tie_of(m).predict(n.mean - m.at_target);
    by_section[n.reg].push_back(off);
    all.push_back(off);
  }
  if (all.size() < ties_needed) return std::nullopt;
  const double piano = median(all);
  std::vector<double> ties;
  for (const auto& list : by_section)
    ties.push_back(list.size() < ties_needed ? piano : median(list));
  return ties;
}

}  // namespace

double NoteState::sd(Aim aim) const {
  return std::sqrt(std::max(0.0, cov(at_index(aim), at_index(aim))));
}

std::optional<double> wanted(const Situation& s, const ActionModel& model, Key key, Aim aim) {
  auto target = s.targets.at(aim, key);
  if (!target && aim == Aim::aftertouch) {
    const ReadingKind& kind = kind_of(reading_of(aim, key));
    target = std::clamp(model.at(key).at_target(at_index(aim)), *kind.usual_low, *kind.usual_high);
  }
  return target;
}

std::optional<SeenAim> seen_as_aim(const Situation& s, const ReadingTaken& r) {
  const auto aim = aim_of(r.reading);
  if (!aim) return std::nullopt;
  if (r.reading == Reading::hammer_height) {
    const auto i = static_cast<std::size_t>(s.compass.position(*r.note));
    if (!s.plane.transfer.ready || !std::isfinite(s.plane.sd[i].si())) return std::nullopt;
    const double blow = (s.plane.height[i] - s.plane.offset[i]).in(millimetre)-r.value;
    const double sd = std::hypot(s.plane.sd[i].in(millimetre), s.plane.offset_sd[i].in(millimetre),
                                 r.uncertainty);
    return SeenAim{*aim, blow, sd};
  }
  if (r.reading == Reading::jack_wink) {
    // What the three grades are worth in clearance, mm (estimates from the trade's 0.1 to 0.25).
    constexpr double clearance[] = {0.33, 0.16, -0.02}, width[] = {0.12, 0.06, 0.10};
    const auto g = static_cast<std::size_t>(std::clamp(std::lround(r.value), 0L, 2L));
    return SeenAim{*aim, clearance[g], width[g]};
  }
  return SeenAim{*aim, r.value, r.uncertainty};
}

UnitEffect unit_effect(const ActionModel& model, const Responses& responses, const NoteState& note,
                       Adjuster adjuster) {
  const ScrewPrior& prior = screw_prior(adjuster);
  const Factor factor = responses.factor(adjuster, note.reg);
  UnitEffect unit;
  unit.change = model.at(note.key).influence.col(static_cast<Eigen::Index>(adjuster)) *
                (prior.per_unit * factor.mean);
  unit.share_sd = std::hypot(factor.sd, prior.sd_screw);
  return unit;
}

Result<Situation> calc_situation(Compass compass, const Standing& standing,
                                 const ActionModel& model) {
  Situation s;
  s.compass = compass;
  auto line = line_settings(compass, standing.settings);
  if (!line) return tl::unexpected(line.error());
  s.line = std::move(*line);
  auto targets = targets_on_record(compass, s.line.sections, standing.settings);
  if (!targets) return tl::unexpected(targets.error());
  s.targets = std::move(*targets);
  auto catalogue = working_catalogue(standing.settings);
  if (!catalogue) return tl::unexpected(catalogue.error());
  s.catalogue = std::move(*catalogue);
  auto equipment = equipment_on_record(compass, standing.settings);
  if (!equipment) return tl::unexpected(equipment.error());
  s.equipment = std::move(*equipment);
  auto plane = calc_string_plane(compass, s.line, standing);
  if (!plane) return tl::unexpected(plane.error());
  s.plane = std::move(*plane);

  s.ties.assign(s.targets.sections.size(), 0);
  replay(standing, model, s.ties, piano_tie_sd, s);
  if (const auto ties = learn_ties(s, model)) {
    s.ties = *ties;
    replay(standing, model, s.ties, note_tie_sd, s);
  }
  return s;
}

}  // namespace batten
