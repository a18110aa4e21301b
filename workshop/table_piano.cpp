#include "workshop/table_piano.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <utility>

namespace batten::workshop {
namespace {

using enum Aim;

double either_way(Chance& chance, double most) { return most * (2 * chance.uniform() - 1); }

struct Knot {
  double at, gives;
};
// A straight line between knots, the last two's beyond.
double look_up(std::span<const Knot> table, double x) {
  std::size_t i = 1;
  while (i + 1 < table.size() && table[i].at < x) ++i;
  const Knot &a = table[i - 1], &b = table[i];
  return a.gives + (b.gives - a.gives) * (x - a.at) / (b.at - a.at);
}

// Written by hand, in shares of a screw's usual span: a soft start, a crease to be pushed over, and
// felt that grows firm.
constexpr Knot soft[] = {{-2, -2.15}, {-1, -1.06}, {-0.3, -0.27}, {0, 0},
                         {0.3, 0.26}, {1, 1.05},   {2, 2.2}};
constexpr Knot creased[] = {{-2, -2.05},  {-0.62, -0.61}, {-0.60, -0.55}, {0, 0},
                            {0.24, 0.26}, {0.26, 0.32},   {1, 1.02},      {2, 1.96}};
constexpr Knot firming[] = {{-2, -2.5}, {-1, -1.12}, {0, 0}, {1, 0.93}, {2, 1.75}};
// Grade of rise over tenths of strength: hardly a slope where it creeps, quick in the middle.
constexpr Knot rises[] = {{-3, 0}, {-1.6, 0.2}, {-1.0, 0.7}, {-0.5, 1.0}, {-0.4, 1.3},
                          {0, 2},  {0.4, 2.5},  {0.6, 3.0},  {1.2, 3.6},  {2.5, 4}};

struct Screw {
  std::span<const Knot> table;
  double span;   // mm at the part
  double pitch;  // mm a turn, about
  double lift;   // of its aim for a millimetre at the part, about
};
constexpr double none = 1;
const std::array<Screw, note_adjuster_count> screws{{
    {creased, 0.25, 0.90, -10.0},  // capstan: blow
    {firming, 0.40, 1.00, 2.05},   // balance punchings: key height
    {soft, 0.80, 1.00, -1.0},      // front punchings: dip
    {soft, 0.40, 0.70, 1.8},       // jack button: jack position
    {creased, 0.20, 0.60, 1.6},    // lever height: clearance
    {rises, none, 0.50, 1.0},      // spring, in tenths
    {firming, 0.25, 0.70, 5.8},    // let-off
    {creased, 0.25, 0.70, 6.0},    // drop
    {soft, 1.00, 1.00, -6.0},      // check
    {soft, 1.00, 1.00, 0.10},      // damper
}};

enum Side : std::uint8_t {
  key_lifts_hammer,    // mm of blow a mm of key height
  lever_lifts_hammer,  // mm of blow a mm of clearance
  key_deepens_dip,     // a mm of key height
  let_off_takes_drop,  // mm of drop a mm of let-off
  weak_spring_drops,   // mm of drop a grade below 1.2
  dip_takes_check,     // mm of check a mm of dip
  blow_moves_jack,     // mm of jack position a mm of blow
  blow_moves_damper,   // share a mm of blow
};
constexpr double usual_side[] = {2.1, 8.0, 1.0, 0.9, 0.25, 4.6, 0.02, 0.010};

constexpr double none_left = std::numeric_limits<double>::quiet_NaN();

}  // namespace

std::unique_ptr<HiddenPiano> TablePiano::copy() const {
  return std::unique_ptr<HiddenPiano>(new TablePiano(*this));
}

NoteTruth TablePiano::calc_note(const Note& n) const {
  const auto gives = [&](Adjuster adjuster) {
    const std::size_t a = index_of(adjuster);
    const Screw& s = screws[a];
    const double x = n.felt[a] / s.span;
    return s.lift * s.span * (look_up(s.table, x) + bend_[a] * x * std::abs(x));
  };
  NoteTruth t;
  t.aim = n.set;
  const auto at = [&](Aim aim) -> double& { return t.aim[index_of(aim)]; };

  const double risen = gives(Adjuster::balance_punchings);
  at(key_height) += risen;
  const double clear = at(jack_clearance);
  at(jack_clearance) += gives(Adjuster::lever_height_button);
  at(spring_rise) = std::clamp(
      look_up(rises, n.felt[index_of(Adjuster::repetition_spring)] - 0.3 * day_), 0.0, 4.0);
  // The lever lifts the hammer only where the jack does not carry it already.
  at(blow) +=
      gives(Adjuster::capstan) - side_[key_lifts_hammer] * risen -
      side_[lever_lifts_hammer] * (std::max(0.0, at(jack_clearance)) - std::max(0.0, clear));
  const double blow_changed = at(blow) - n.set[index_of(blow)];
  at(jack_position) += gives(Adjuster::jack_button) - side_[blow_moves_jack] * blow_changed;
  at(dip) += gives(Adjuster::front_punchings) + side_[key_deepens_dip] * risen;
  const double earlier = gives(Adjuster::let_off_button);
  at(let_off) += earlier + 0.1 * (at(jack_position) - n.set[index_of(jack_position)]);
  at(drop) += gives(Adjuster::drop_screw) - side_[let_off_takes_drop] * earlier + 0.06 * day_ +
              side_[weak_spring_drops] * std::max(0.0, 1.2 - at(spring_rise));
  at(check_distance) +=
      gives(Adjuster::back_check) - side_[dip_takes_check] * (at(dip) - n.set[index_of(dip)]);
  at(damper_start) += gives(Adjuster::damper_wire) - side_[blow_moves_damper] * blow_changed;
  // What the lever lifts the hammer is lost motion to the jack (R6 in
  // docs/theory/action-checks.md): the blow is shorter, the key's way to let-off is not. A longer
  // blow goes by a shorter lever.
  const double lifted =
      side_[lever_lifts_hammer] * (std::max(0.0, at(jack_clearance)) - std::max(0.0, clear));
  const double way = at(blow) + lifted - at(let_off);
  const double travel = way / (n.ratio * (1 - 0.004 * (blow_changed + lifted)));
  at(aftertouch) = at(dip) - travel;
  t.ratio = (way - lifted) / travel;

  t.blocked = at(let_off) < 0.15;
  t.carried = !t.blocked && at(drop) < 0.12;
  t.no_escapement = !t.blocked && at(aftertouch) < 0.05;
  t.touches_check = at(check_distance) < 6;
  if (t.blocked || t.carried || t.no_escapement) at(drop) = at(aftertouch) = none_left;
  if (t.carried || t.no_escapement) at(let_off) = none_left;
  if (t.blocked) at(let_off) = 0;
  return t;
}

std::vector<NoteTruth> TablePiano::calc(std::span<const Key> keys) {
  std::vector<NoteTruth> out;
  for (const Key k : keys) out.push_back(calc_note(notes_[place(k)]));
  return out;
}

void TablePiano::move(Key key, Adjuster adjuster, double amount) {
  const std::size_t a = index_of(adjuster);
  Note& n = notes_[place(key)];
  n.screw[a] += amount * n.pitch[a];
  n.felt[a] = std::clamp(n.felt[a], n.screw[a] - n.backlash[a], n.screw[a] + n.backlash[a]);
}

void TablePiano::change_friction() { day_ = chance().normal(); }

std::unique_ptr<TablePiano> make_table_piano(std::uint64_t seed, const TableLaw& law) {
  Chance chance(seed);
  StringLaw string_law;
  string_law.scatter = law.string_scatter * millimetre;
  const StringLine strings = make_string_line(chance, string_law);
  std::unique_ptr<TablePiano> piano(
      new TablePiano(strings, Key{chance.between(66, 72)}, seed ^ 0x9e3779b97f4a7c15ULL));
  std::array<double, note_adjuster_count> response{};
  for (std::size_t a = 0; a < note_adjuster_count; ++a) {
    const auto adjuster = static_cast<Adjuster>(a);
    const bool paper =
        adjuster == Adjuster::balance_punchings || adjuster == Adjuster::front_punchings;
    response[a] = 1 + either_way(chance, paper ? 0.05 : law.response);
    piano->bend_[a] = either_way(chance, 0.08);
  }
  for (std::size_t i = 0; i < piano->side_.size(); ++i)
    piano->side_[i] = usual_side[i] * (1 + either_way(chance, law.side_effect));
  // A key deepens by what it rises, whatever the piano.
  piano->side_[key_deepens_dip] = 1 + either_way(chance, 0.05);
  const double ratio = 4.95 * (1 + either_way(chance, law.ratio));
  const double sharps = 1 + either_way(chance, 0.03);

  const auto worn = years_of_wear(strings, chance);
  for (int i = 0; i < strings.compass.count(); ++i) {
    const Key key = strings.compass.at(i);
    const double x = static_cast<double>(i) / (strings.compass.count() - 1);
    TablePiano::Note n;
    n.ratio = ratio * (is_sharp(key) ? sharps : 1.0) * (1 + law.ratio_note * chance.normal());
    const auto set = [&](Aim aim) -> double& { return n.set[index_of(aim)]; };
    set(blow) = 46 - x;
    set(let_off) = 2.0 - 0.6 * x;
    set(drop) = 1.5;
    set(check_distance) = 14;
    set(jack_clearance) = 0.15;
    set(damper_start) = key < piano->first_undamped() ? 0.5 : none_left;
    // Once set so that it could be played; see MechanismPiano.
    const double usual_dip = is_sharp(key) ? 9.7 : 10.0;
    const double travel = (set(blow) - set(let_off)) / n.ratio;
    set(dip) = usual_dip + std::clamp(1.2 - (usual_dip - travel), -0.5, 0.5);
    for (std::size_t a = 0; a < note_adjuster_count; ++a) {
      n.pitch[a] = screws[a].pitch * response[a] * (1 + law.response_note * chance.normal());
      n.backlash[a] = screws[a].span * law.backlash * std::abs(chance.normal());
    }
    const auto wear = [&](double share) {
      for (std::size_t a = 0; a < note_adjuster_count; ++a) {
        const double way = a == index_of(Adjuster::repetition_spring)
                               ? 10 * worn[static_cast<std::size_t>(i)][a]
                               : worn[static_cast<std::size_t>(i)][a] / screws[a].lift;
        n.screw[a] = n.felt[a] = share * way;
      }
    };
    double share = 1;
    wear(share);
    while (piano->calc_note(n).harmful()) wear(share *= 0.6);
    piano->notes_.push_back(n);
  }
  return piano;
}

}  // namespace batten::workshop
