// One register made ready to be asked. Internal to core/regulation/brief.
#pragma once

#include "core/action/regulate.hpp"
#include "core/action/strokes.hpp"
#include "core/regulation/brief/brief.hpp"

#include <array>
#include <span>
#include <vector>

namespace batten::brief {

inline constexpr double per_mm = 1e3;  // m in mm
inline constexpr double per_ms = 1e3;  // s in ms
// Steps a hand can tell, mm: departures are whole numbers of them.
inline constexpr double blow_step = 0.1, dip_step = 0.05, let_off_step = 0.05, drop_step = 0.1;

struct Bench {
  Register where;
  action::Dimensions dimensions;  // with leads
  action::Wanted wanted;          // the sheet's, SI
  BriefPoint sheet;
  // The wishes' bands, those not on record wide enough for the sheet's own figures.
  std::array<Band, need_count> bands;
  double wanted_clearance = 0, wanted_check = 0;  // mm

  const Band& at(Need need) const { return bands[index_of(need)]; }
  // The band of this register's dip.
  Need dip_need() const { return is_sharp(where.key) ? Need::sharp_dip : Need::dip; }
};

// Error: as solve_lead; the note is named.
Result<Bench> make_bench(const BriefTask& task, const Register& where);

action::Wanted wanted_for(const Bench& bench, const BriefPoint& point);

// A note regulated to the point, were it not for the dip: where the key would bottom before the
// hammer lets go, it is regulated with a deeper one and the front punchings are then built up
// again.
struct SetNote {
  action::Note note;
  bool reached = false;   // the point's own readings can be had
  std::string hindrance;  // why not
  bool usable = false;    // `note` stands for something
  double falls = 0;       // mm of key travel to the hammer's fall
  double note_dip = 0;    // mm, the note's own
};
// `start`: a neighbour's adjustments, or null. Order of the points.
std::vector<SetNote> set_notes(const Bench& bench, std::span<const BriefPoint> points,
                               const action::Adjustments* start);

// Front punchings built up or taken away until the key goes `dip` mm deep, the check moved with it.
// Within 2 um of the dip, 0.1 mm of the catch.
std::vector<action::Note> at_dips(const Bench& bench, const action::Note& regulated,
                                  double regulated_dip, std::span<const double> dips);

// Pressed strokes of all notes at one of the standard efforts, long enough for string and key
// bottom of any action that can be played (s: soft, middling, loud).
inline constexpr double stroke_times[] = {0.20, 0.13, 0.09};
std::vector<Result<action::Stroke>> strike(std::span<const action::Note> notes,
                                           action::Effort effort);

// Everything at the points, by the solver, but the repetition.
std::vector<BriefFigures> calc_figures(const Bench& bench, std::span<const BriefPoint> points,
                                       const action::Adjustments* start);
// Which costs as much as all the rest.
void add_repetition(BriefFigures& figures);

}  // namespace batten::brief
