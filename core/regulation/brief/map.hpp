// One register over blow and dip: where it lets go, how much aftertouch, when key and string meet,
// what power each point gives.
#pragma once

#include "core/regulation/brief/brief.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace batten {

struct MapAxes {
  double blow_low = 42, blow_high = 50, dip_low = 8.5, dip_high = 11.5;  // mm
  int blows = 40, dips = 40;  // points, ends included; 2…400
};

// Why a point of a map does not work; several may hold.
enum class MapFault : std::uint8_t {
  no_escapement = 1,  // the key bottoms before the hammer lets go
  thin = 2,           // aftertouch below its band
  fat = 4,            // above it
  check = 8,          // the tail touches the check on the way up
  other = 16,         // the solver finds no setting here
};

struct MapPoint {
  double escape_margin = 0;                    // mm, signed; the aftertouch where positive
  std::array<double, 3> bottom_less_string{};  // ms at soft, middling, loud
  double power = 0;                            // %, loud, against today or the sheet
  double travel = 0;                           // ms, middling, key start to string
  std::uint8_t faults = 0;                     // MapFault's, added
  bool has(MapFault f) const { return (faults & static_cast<std::uint8_t>(f)) != 0; }
};

struct BriefMap {
  Register where;
  MapAxes axes;
  double let_off = 0, drop = 0;  // mm, the sheet's
  BriefPoint sheet;
  std::optional<BriefPoint> today;
  // What power is against: today where it is known, else the sheet; and what a stroke is there: ms
  // of bottom less string at soft, middling, loud, ms of travel. NaN: cannot be set there.
  std::array<double, 3> base_bottom_less_string{};
  double base_travel = 0;
  std::vector<MapPoint> points;  // blow fastest
  Band aftertouch;               // as it holds here
  // Largest difference from notes regulated and struck at points between the solved ones: mm, ms of
  // bottom less string, %, ms of travel.
  double margin_error = 0, timing_error = 0, power_error = 0, travel_error = 0;

  double blow(int i) const {
    return axes.blow_low + (axes.blow_high - axes.blow_low) * i / (axes.blows - 1);
  }
  double dip(int j) const {
    return axes.dip_low + (axes.dip_high - axes.dip_low) * j / (axes.dips - 1);
  }
  std::size_t index(int i, int j) const {
    return static_cast<std::size_t>(j) * static_cast<std::size_t>(axes.blows) +
           static_cast<std::size_t>(i);
  }
  const MapPoint& at(int i, int j) const { return points[index(i, j)]; }
};

// All registers of the task. Regulated at few blows and dips, drawn between with polynomials.
// Error: as calc_brief, or axes that make no sense.
Result<std::vector<BriefMap>> calc_brief_maps(const BriefTask& task, const MapAxes& axes);

}  // namespace batten
