// A description made ready for calculation: for one note (double) or for eight at once (Lanes).
#pragma once

#include "core/mechanism/lanes.hpp"
#include "core/mechanism/mechanism.hpp"

#include <cstdint>
#include <vector>

namespace batten::mechanism {

// The way from the ground to a point: the world position is base + sum over pins R(q) (x, y) + sum
// over slides q (x, y).
template <class Real>
struct Chain {
  int count = 0;
  int coordinate[max_chain] = {};
  bool slide[max_chain] = {};
  Real x[max_chain], y[max_chain];
  Real base_x{0}, base_y{0};
};

template <class Real>
struct LawNumbers {
  int half_powers = 4;
  bool rubs = false;  // has friction (in any lane)
  Real stiffness, damping, friction, slip_speed;
};

template <class Real>
struct ContactNumbers {
  Chain<Real> round, frame;  // to the disc's centre; to the solid's body's origin
  int round_body = ground, solid_body = ground;
  int frame_angle = -1;  // coordinate that turns the solid, -1 if nothing does
  int round_angle = -1;  // likewise the disc
  RoundKind round_kind = RoundKind::disc;
  SolidKind solid_kind = SolidKind::line;
  // Coordinates that move either partner, and their places in the two chains (-1: not in it).
  int local_count = 0;
  int local[2 * max_chain] = {}, in_round[2 * max_chain] = {}, in_frame[2 * max_chain] = {};
  bool turns[2 * max_chain] = {};  // a pin
  int turning = -1;                // which of them is the solid's own angle
  Real radius;
  // Arc only: its two ends and the unit vector to its middle, from its centre, in the own frame;
  // cosine of half its angle.
  Real end_x[2], end_y[2], middle_x, middle_y, cos_half;
  // Line: point and normal. Disc: centre and radius. Box: centre, cosine and sine of its angle,
  // half sizes without the corner, corner.
  Real solid[7];
  LawNumbers<Real> law;
};

template <class Real>
struct CouplingNumbers {
  int a = 0, b = ground;
  bool rubs = false;  // has friction (in any lane)
  Real stiffness, rest, viscous, friction, slip;
};
template <class Real>
struct StopNumbers {
  int a = 0, b = ground;
  Real limit, slope;  // slope = side * arm
  LawNumbers<Real> law;
};
template <class Real>
struct TieNumbers {
  Chain<Real> a, b;
  Real stiffness, viscous;
};
template <class Real>
struct ProbeNumbers {
  Chain<Real> chain;
};

// Mass matrix: M_ij = along cos(qj - qi) + across sin(qj - qi); a slide counts as angle zero.
template <class Real>
struct MassNumbers {
  int i = 0, j = 0;
  Real along, across;
};

// A place in the matrices.
struct Entry {
  std::uint8_t row = 0, column = 0;
};
// A plain array: a std::vector of one type for all instruction sets would leave functions made for
// one of them where the linker may take them for all.
struct Entries {
  int count = 0;
  Entry list[max_coordinates * max_coordinates] = {};
  BATTEN_LANE_INLINE const Entry* begin() const { return list; }
  BATTEN_LANE_INLINE const Entry* end() const { return list + count; }
};
// The order in which advance() solves, last coordinate first: the earlier coordinates that each is
// coupled with, directly or through those already eliminated.
struct Elimination {
  std::uint8_t count[max_coordinates] = {};
  std::uint8_t earlier[max_coordinates][max_coordinates] = {};
};

template <class Real>
struct Model {
  int count = 0;  // coordinates
  // Where mass, stiffness or damping can differ from zero (whatever touches); what elimination
  // adds.
  Entries entries, fill;
  Elimination elimination;
  bool slide[max_coordinates] = {};
  std::vector<MassNumbers<Real>> masses;                      // i <= j
  Real moment_x[max_coordinates], moment_y[max_coordinates];  // first moments; slides: mass in x
  Real slide_x[max_coordinates], slide_y[max_coordinates];
  Real gravity_x{0}, gravity_y{0};
  std::vector<ContactNumbers<Real>> contacts;
  std::vector<CouplingNumbers<Real>> couplings;
  std::vector<StopNumbers<Real>> stops;
  std::vector<TieNumbers<Real>> ties;
  std::vector<ProbeNumbers<Real>> probes;
};

// One lane's numbers. The description must have passed `check`.
Model<double> make_model(const Description& description);

// Whether two models differ in nothing but their numbers.
bool alike(const Model<double>& a, const Model<double>& b);

}  // namespace batten::mechanism
