#include "core/regulation/influence/action_model.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

namespace batten {
namespace {

using action::Row;

constexpr double per_mm = 1e3;  // m in mm

// About so many keys lie between two that are calculated.
constexpr int spacing = 11;
// Estimate: the model's rise of 56 mm/s a tenth and the width of a grade in docs/theory/action.md.
constexpr double grades_per_tenth = 2;

std::optional<Row> row_of(Aim aim) {
  switch (aim) {
    case Aim::key_height:
      return Row::key_height;
    case Aim::jack_position:
      return Row::jack_position;
    case Aim::jack_clearance:
      return Row::jack_clearance;
    case Aim::spring_rise:
      return std::nullopt;
    case Aim::blow:
      return Row::blow;
    case Aim::dip:
      return Row::dip;
    case Aim::let_off:
      return Row::let_off;
    case Aim::drop:
      return Row::drop;
    case Aim::check_distance:
      return Row::check_distance;
    case Aim::aftertouch:
      return Row::aftertouch;
    case Aim::damper_start:
      return Row::damper_start;
  }
  return std::nullopt;
}

// SI readings in the catalogue's units.
double unit_of(Aim aim) { return aim == Aim::damper_start ? 1 : per_mm; }

AimVector aims_of(const action::Readings& r, double spring_target) {
  AimVector v;
  v << r.key_height * per_mm, r.jack_position * per_mm, r.jack_clearance * per_mm, spring_target,
      r.blow * per_mm, r.dip * per_mm, r.let_off * per_mm, r.drop * per_mm,
      r.check_distance * per_mm, r.aftertouch * per_mm, r.damper_start;
  return v;
}

// Rows of the mechanism in the order and units of the aims. An entry is put by as not known (NaN)
// where the two steps disagree: let-off turns at either of two places a few hundredths apart.
InfluenceMatrix matrix_of(const action::Influence& in) {
  InfluenceMatrix m = InfluenceMatrix::Zero();
  constexpr auto spring = static_cast<Eigen::Index>(Adjuster::repetition_spring);
  for (const Aim aim : all_aims) {
    const auto r = static_cast<Eigen::Index>(aim);
    const auto row = row_of(aim);
    if (!row) {
      m(r, spring) = grades_per_tenth;
      continue;
    }
    for (Eigen::Index c = 0; c < m.cols(); ++c) {
      const auto i = static_cast<std::size_t>(*row), j = static_cast<std::size_t>(c);
      const double unit = unit_of(aim) * (c == spring ? 0.1 : 1 / per_mm);
      const double value = in.value[i][j] * unit, error = in.error[i][j] * unit;
      const double least = aim == Aim::damper_start ? 0.01 : 0.05;
      m(r, c) =
          error > least + 0.3 * std::abs(value) ? std::numeric_limits<double>::quiet_NaN() : value;
    }
  }
  return m;
}

struct Calculated {
  Key key;
  NoteModel model;
};

// Naturals, or sharps, from the lowest to the highest.
std::vector<Key> keys_to_calculate(Compass compass, bool sharps) {
  std::vector<Key> all;
  for (int i = 0; i < compass.count(); ++i)
    if (is_sharp(compass.at(i)) == sharps) all.push_back(compass.at(i));
  const std::size_t count =
      std::max<std::size_t>(2, static_cast<std::size_t>(compass.count() / spacing));
  std::vector<Key> list;
  for (std::size_t i = 0; i < count; ++i) list.push_back(all[i * (all.size() - 1) / (count - 1)]);
  return list;
}

// Entries that are not known, from the nearest calculated notes on either side; 0 without any.
void fill_gaps(std::vector<Calculated>& notes) {
  for (Eigen::Index r = 0; r < InfluenceMatrix::RowsAtCompileTime; ++r)
    for (Eigen::Index c = 0; c < InfluenceMatrix::ColsAtCompileTime; ++c) {
      std::vector<double> known;
      for (const Calculated& n : notes)
        if (std::isfinite(n.model.influence(r, c))) known.push_back(n.model.influence(r, c));
      double middle = 0;
      if (!known.empty()) {
        const auto at = known.begin() + static_cast<std::ptrdiff_t>(known.size() / 2);
        std::nth_element(known.begin(), at, known.end());
        middle = *at;
      }
      for (Calculated& n : notes)
        if (!std::isfinite(n.model.influence(r, c))) n.model.influence(r, c) = middle;
    }
}

Result<std::vector<Calculated>> calculate(const action::Profile& profile, const Targets& targets,
                                          const std::vector<Key>& keys) {
  std::vector<action::Dimensions> dimensions;
  std::vector<action::Wanted> wanted, usual;
  for (const Key key : keys) {
    const action::Anchor anchor = action::note_of(profile, key);
    dimensions.push_back(anchor.dimensions);
    usual.push_back(anchor.wanted);
    wanted.push_back(wanted_at(targets, key, anchor.wanted));
  }
  auto regulated = action::solve_regulation(dimensions, wanted);
  std::vector<Calculated> list;
  std::optional<Problem> why_not;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    // Targets that cannot be had are the brief's affair; what moves what is hardly changed by them,
    // nor by a setting a few hundredths off.
    auto reg = regulated[i];
    if (!reg || !reg->reached) {
      auto instead = action::solve_regulation(dimensions[i], usual[i]);
      if (instead && (instead->reached || !reg)) reg = std::move(instead);
    }
    const auto influence = reg ? action::calc_influence({dimensions[i], reg->adjustments})
                               : Result<action::Influence>(tl::unexpected(reg.error()));
    if (!influence) {
      why_not = influence.error();
      why_not->happened = note_name(keys[i]) + ": " + why_not->happened;
      continue;
    }
    Calculated c{keys[i], {}};
    c.model.influence = matrix_of(*influence);
    c.model.at_target = aims_of(reg->readings, targets.at(Aim::spring_rise, keys[i]).value_or(2));
    c.model.ratio = reg->readings.ratio_identity;
    list.push_back(c);
  }
  // The notes between two that can be calculated are drawn between them.
  constexpr std::size_t fewest = 3;
  if (list.size() < std::min(fewest, keys.size())) return tl::unexpected(*why_not);
  fill_gaps(list);
  return list;
}

NoteModel between(const std::vector<Calculated>& notes, Key key) {
  std::size_t i = 0;
  while (i + 2 < notes.size() && notes[i + 1].key <= key) ++i;
  const Calculated &a = notes[i], &b = notes[i + 1];
  const double t =
      std::clamp(double(key.number - a.key.number) / (b.key.number - a.key.number), 0.0, 1.0);
  NoteModel m;
  m.influence = (1 - t) * a.model.influence + t * b.model.influence;
  m.at_target = (1 - t) * a.model.at_target + t * b.model.at_target;
  m.ratio = (1 - t) * a.model.ratio + t * b.model.ratio;
  return m;
}

}  // namespace

action::Wanted wanted_at(const Targets& targets, Key key, const action::Wanted& usual) {
  action::Wanted w = usual;
  const auto take = [&](Aim aim, double action::Wanted::*member) {
    if (const auto v = targets.at(aim, key)) w.*member = *v / unit_of(aim);
  };
  take(Aim::blow, &action::Wanted::blow);
  take(Aim::let_off, &action::Wanted::let_off);
  take(Aim::drop, &action::Wanted::drop);
  take(Aim::dip, &action::Wanted::dip);
  take(Aim::check_distance, &action::Wanted::check_distance);
  take(Aim::jack_clearance, &action::Wanted::jack_clearance);
  take(Aim::jack_position, &action::Wanted::jack_position);
  take(Aim::damper_start, &action::Wanted::damper_start);
  return w;
}

Result<ActionModel> calc_action_model(const action::Profile& profile, Compass compass,
                                      const Targets& targets) {
  if (auto ok = action::check(profile); !ok) return tl::unexpected(ok.error());
  auto naturals = calculate(profile, targets, keys_to_calculate(compass, false));
  if (!naturals) return tl::unexpected(naturals.error());
  auto sharps = calculate(profile, targets, keys_to_calculate(compass, true));
  if (!sharps) return tl::unexpected(sharps.error());
  ActionModel model;
  model.compass = compass;
  for (int i = 0; i < compass.count(); ++i)
    model.notes.push_back(between(is_sharp(compass.at(i)) ? *sharps : *naturals, compass.at(i)));
  return model;
}

}  // namespace batten
