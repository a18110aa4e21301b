#include "workshop/mechanism_piano.hpp"

#include "core/action/profile.hpp"
#include "profiles/profile_file.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <optional>
#include <string_view>
#include <utility>

namespace batten::workshop {
namespace {

using action::Dimensions;

double either_way(Chance& chance, double most) { return most * (2 * chance.uniform() - 1); }

// What of a dimension is drawn.
enum class Draw : std::uint8_t { nothing, part, rail, felt, friction, mass, spring };

Draw draw_of(const action::DimensionField& f) {
  // Settings of the design and strings have their own law here, or none.
  for (double Dimensions::*m :
       {&Dimensions::design_blow, &Dimensions::check_distance, &Dimensions::design_dip,
        &Dimensions::jack_clearance, &Dimensions::string_length, &Dimensions::lead_mass})
    if (f.member == m) return Draw::nothing;
  for (double Dimensions::*m :
       {&Dimensions::capstan_x, &Dimensions::capstan_y, &Dimensions::wippen_x,
        &Dimensions::wippen_y, &Dimensions::centres, &Dimensions::centres_angle,
        &Dimensions::key_front, &Dimensions::front_rail, &Dimensions::back_rail,
        &Dimensions::damper_x, &Dimensions::cushion_x, &Dimensions::check_angle})
    if (f.member == m) return Draw::rail;
  const auto has = [&](std::string_view word) {
    return f.code.find(word) != std::string_view::npos;
  };
  if (has("friction")) return Draw::friction;
  if (has("-depth")) return Draw::felt;
  if (has("spring") || has("bending")) return Draw::spring;
  if (f.unit == "mm" || f.unit == "deg") return Draw::part;
  if (f.unit == "g" || f.unit == "gmm2") return has("string") ? Draw::nothing : Draw::mass;
  return Draw::nothing;
}

double piano_share(const MechanismLaw& law, Draw what) {
  switch (what) {
    case Draw::part:
    case Draw::rail:
      return law.geometry;
    case Draw::felt:
      return law.felt;
    case Draw::friction:
      return law.friction;
    case Draw::mass:
      return law.mass;
    case Draw::spring:
      return law.spring;
    case Draw::nothing:
      break;
  }
  return 0;
}

double draw_note(const MechanismLaw& law, Draw what, Chance& chance) {
  switch (what) {
    case Draw::part:
    case Draw::mass:
    case Draw::spring:
      return std::clamp(law.note * chance.normal(), -law.most, law.most);
    case Draw::rail:
      return std::clamp(law.rail * chance.normal(), -law.most, law.most);
    case Draw::felt:
      return either_way(chance, law.felt_note);
    case Draw::friction:
      return either_way(chance, law.friction_note);
    case Draw::nothing:
      break;
  }
  return 0;
}

action::Profile stored(std::string_view name) {
  for (const StoredProfile& s : stored_profiles())
    if (s.name == name) {
      auto file = parse_profile(s.text, s.name);
      assert(file);
      return file->profile;
    }
  assert(false);
  return {};
}

// A profile between two stored ones, which give the same notes, every dimension then drawn anew.
action::Profile draw_profile(const Parentage& parents, const MechanismLaw& law, Chance& chance) {
  action::Profile p = stored(parents.first);
  const action::Profile other = stored(parents.second);
  assert(p.anchors.size() == other.anchors.size());
  for (const action::DimensionField& f : action::dimension_fields()) {
    const double factor = 1 + either_way(chance, piano_share(law, draw_of(f)));
    for (std::size_t i = 0; i < p.anchors.size(); ++i) {
      double& value = p.anchors[i].dimensions.*f.member;
      const double second = other.anchors[i].dimensions.*f.member;
      // Counts of strings and "no damper" are not mixed.
      if (f.member != &Dimensions::string_count && f.member != &Dimensions::damper_start)
        value += parents.share * (second - value);
      value *= factor;
    }
  }
  p.sharp_dip = 0;  // sharps are set by their own target
  return p;
}

// The usual figures, to which the piano was once set.
action::Wanted usual(Compass compass, Key key) {
  const double x = static_cast<double>(compass.position(key)) / (compass.count() - 1);
  action::Wanted w;
  w.blow = 1e-3 * (46 - x);
  w.let_off = 1e-3 * (2.0 - 0.6 * x);
  w.dip = is_sharp(key) ? 9.7e-3 : 10.0e-3;
  return w;
}

constexpr double usual_aftertouch = 1.2e-3, dip_either_way = 0.5e-3;

// Strength over that at which the spring just carries the resting hammer: where it rises firmly
// from check, and where it is while the note is set (shares, estimates).
constexpr double firm_over_carrying = 0.12, ample = 0.1;

struct OnceSet {
  std::vector<action::Note> notes;
  std::vector<double> carries;  // strength from which the lever, not the jack, carries the hammer
};

action::ReadOptions plain() {
  action::ReadOptions o;
  o.with_blow = o.keep_curves = false;
  return o;
}

// By halves: below it the hammer rests on the jack, and the clearance is gone.
std::vector<double> find_carrying(std::vector<action::Note> notes) {
  constexpr double clear = 0.1e-3;
  std::vector<double> low(notes.size(), -0.4), high(notes.size(), ample);
  for (int round = 0; round < 7; ++round) {
    for (std::size_t i = 0; i < notes.size(); ++i)
      notes[i].adjustments.spring = (low[i] + high[i]) / 2;
    const auto readings = action::calc_readings(notes, plain());
    for (std::size_t i = 0; i < notes.size(); ++i) {
      const bool carried = readings[i] && readings[i]->jack_clearance > clear;
      (carried ? high : low)[i] = notes[i].adjustments.spring;
    }
  }
  return high;
}

std::optional<OnceSet> set_once(const action::Profile& profile, const StringLine& strings,
                                const MechanismLaw& law, Chance& chance) {
  std::vector<Dimensions> dimensions;
  std::vector<action::Wanted> wanted;
  for (int i = 0; i < strings.compass.count(); ++i) {
    const Key key = strings.compass.at(i);
    action::Anchor anchor = action::note_of(profile, key);
    Dimensions d = anchor.dimensions;
    for (const action::DimensionField& f : action::dimension_fields())
      d.*f.member *= 1 + draw_note(law, draw_of(f), chance);
    // A string higher than the design's is a longer way for a hammer at rest where it was.
    d.design_blow += (strings.at(key) - 195 * millimetre).si();
    const auto lead = action::solve_lead({d, {}}, anchor.balance_weight);
    if (!lead) return std::nullopt;
    d.lead_mass = *lead;
    dimensions.push_back(d);
    wanted.push_back(usual(strings.compass, key));
    wanted.back().spring = ample;
  }
  OnceSet set;
  const auto regulated = action::solve_regulation(dimensions, wanted);
  for (std::size_t i = 0; i < regulated.size(); ++i) {
    if (!regulated[i] || !regulated[i]->readings.faults.empty()) return std::nullopt;
    action::Note note{dimensions[i], regulated[i]->adjustments};
    // Dip as whoever set it had to choose it for an aftertouch that can be played.
    note.adjustments.front_punchings -= std::clamp(
        usual_aftertouch - regulated[i]->readings.aftertouch, -dip_either_way, dip_either_way);
    set.notes.push_back(note);
  }
  set.carries = find_carrying(set.notes);
  for (std::size_t i = 0; i < set.notes.size(); ++i)
    set.notes[i].adjustments.spring = set.carries[i] + firm_over_carrying;
  return set;
}

// Millimetres of an aim for one at the part of its adjuster, about (medium grand; core/action), the
// spring's by its share: how much wear at the part makes so much in the reading.
constexpr std::array<double, note_adjuster_count> lift{-10.5, 2.1, -1.04, 1.9,  1.7,
                                                       1.0,   6.1, 6.4,   -6.4, 0.10};

void wear(action::Note& note, const Misregulation& m, double share) {
  for (std::size_t a = 0; a < note_adjuster_count; ++a) {
    if (a == index_of(Adjuster::repetition_spring))
      note.adjustments.spring += share * m[a];
    else
      note.adjustments.*action::adjustment_members[a] += 1e-3 * share * m[a] / lift[a];
  }
}

bool is(const action::Readings& r, action::Fault f) {
  return std::ranges::find(r.faults, f) != r.faults.end();
}

}  // namespace

std::unique_ptr<HiddenPiano> MechanismPiano::copy() const {
  return std::unique_ptr<HiddenPiano>(new MechanismPiano(*this));
}

std::vector<NoteTruth> MechanismPiano::calc(std::span<const Key> keys) {
  std::vector<action::Note> notes;
  for (const Key k : keys) {
    action::Note n = notes_[place(k)];
    for (const action::DimensionField& f : action::dimension_fields())
      if (draw_of(f) == Draw::friction) n.dimensions.*f.member *= day_;
    notes.push_back(n);
  }
  const auto readings = action::calc_readings(notes, plain());
  std::vector<NoteTruth> out;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    NoteTruth t;
    t.aim.fill(std::nan(""));
    if (readings[i]) {
      const action::Readings& r = *readings[i];
      using enum Aim;
      const auto put = [&](Aim aim, double metres) { t.aim[index_of(aim)] = 1e3 * metres; };
      put(key_height, r.key_height);
      put(jack_position, r.jack_position);
      put(jack_clearance, r.jack_clearance);
      put(blow, r.blow);
      put(dip, r.dip);
      put(let_off, r.let_off);
      put(drop, r.drop);
      put(aftertouch, r.aftertouch);
      // A caught hammer springs on a little from where the tail first touches: by its own law.
      t.aim[index_of(check_distance)] =
          1e3 * r.static_catch + bounce_ + bounce_slope_ * (1e3 * r.static_catch - 14);
      t.aim[index_of(damper_start)] = keys[i] < first_undamped() ? r.damper_start : std::nan("");
      // Grades over strength: an S about where this piano's spring is firm; rubbing takes from it.
      const double strength =
          notes_[place(keys[i])].adjustments.spring - firm_[place(keys[i])] - 0.3 * (day_ - 1);
      t.aim[index_of(spring_rise)] = 4 / (1 + std::exp(-gain_ * strength));
      t.ratio = r.ratio_mean;
      t.blocked = is(r, action::Fault::blocked);
      t.carried = is(r, action::Fault::lever_carried);
      t.no_escapement = is(r, action::Fault::no_escapement) || is(r, action::Fault::not_found);
      t.touches_check = is(r, action::Fault::touches_check);
      if (t.blocked) t.aim[index_of(let_off)] = 0;
    } else {
      t.no_escapement = true;
    }
    out.push_back(t);
  }
  return out;
}

void MechanismPiano::move(Key key, Adjuster adjuster, double amount) {
  const std::size_t a = index_of(adjuster);
  action::Adjustments& adjustments = notes_[place(key)].adjustments;
  const double way = amount * pitch_[place(key)][a];
  if (adjuster == Adjuster::repetition_spring)
    adjustments.spring += 0.1 * way;
  else
    adjustments.*action::adjustment_members[a] += 1e-3 * way;
}

void MechanismPiano::change_friction() { day_ = std::exp(law_.day * chance().normal()); }

std::unique_ptr<MechanismPiano> make_mechanism_piano(std::uint64_t seed, const MechanismLaw& law) {
  Chance chance(seed);
  StringLaw string_law;
  string_law.scatter = law.string_scatter * millimetre;
  const StringLine strings = make_string_line(chance, string_law);
  constexpr std::string_view names[] = {"small", "medium", "concert"};
  Parentage parents;
  std::optional<OnceSet> set;
  action::Profile profile;
  do {
    const int first = chance.between(0, 1);
    parents = {names[first], names[first + 1], chance.uniform()};
    profile = draw_profile(parents, law, chance);
    set = set_once(profile, strings, law, chance);
  } while (!set);

  std::unique_ptr<MechanismPiano> piano(
      new MechanismPiano(strings, profile.first_undamped, seed ^ 0x9e3779b97f4a7c15ULL));
  piano->parentage_ = parents;
  piano->law_ = law;
  piano->notes_ = std::move(set->notes);
  std::array<double, note_adjuster_count> pitch = nominal_pitch;
  for (std::size_t a = 0; a < note_adjuster_count; ++a) {
    const auto adjuster = static_cast<Adjuster>(a);
    const bool paper =
        adjuster == Adjuster::balance_punchings || adjuster == Adjuster::front_punchings;
    if (!paper) pitch[a] *= 1 + either_way(chance, law.pitch_piano);
    if (paper) pitch[a] *= 1 + either_way(chance, 0.03);  // cloth gives a little
  }
  for (std::size_t i = 0; i < piano->notes_.size(); ++i) {
    auto& p = piano->pitch_.emplace_back(pitch);
    for (double& x : p) x *= 1 + law.pitch_screw * chance.normal();
  }
  piano->gain_ = 15 + 10 * chance.uniform();  // 1.5 to 2.5 grades a tenth of strength at the middle
  piano->bounce_ = 0.3 * chance.normal();
  piano->bounce_slope_ = 0.1 * chance.uniform();
  for (std::size_t i = 0; i < piano->notes_.size(); ++i)
    piano->firm_.push_back(set->carries[i] + firm_over_carrying + 0.02 * chance.normal());

  // The years; less of them where a note would no longer let go.
  const auto worn = years_of_wear(strings, chance);
  const std::vector<action::Note> fresh = piano->notes_;
  std::vector<double> share(fresh.size(), 1);
  for (int round = 0; round < 6; ++round) {
    for (std::size_t i = 0; i < fresh.size(); ++i) {
      piano->notes_[i] = fresh[i];
      wear(piano->notes_[i], worn[i], share[i]);
    }
    const auto readings = action::calc_readings(piano->notes_, plain());
    bool all = true;
    for (std::size_t i = 0; i < fresh.size(); ++i) {
      const bool works = readings[i] && readings[i]->faults.empty() &&
                         readings[i]->static_catch == readings[i]->static_catch;
      if (!works) share[i] = round == 4 ? 0 : 0.6 * share[i];
      all = all && works;
    }
    if (all) break;
  }
  return piano;
}

}  // namespace batten::workshop
