// A mechanism in plain numbers, for libraries that do not compile as C++20.
#pragma once

#include <vector>

namespace batten::tests {

struct PlainPoint {
  double x = 0, y = 0;
};
struct PlainLaw {
  double stiffness, power, damping, friction, slip_speed;
};
struct PlainBody {
  int parent;
  bool slide;
  PlainPoint at, direction;
  double mass;
  PlainPoint centre;
  double inertia;
};
struct PlainContact {
  int round_body, solid_body;
  bool arc;
  PlainPoint round_centre;
  double radius, from, to;
  enum { line, disc, box } solid;
  PlainPoint point, normal;                       // line
  PlainPoint centre;                              // disc, box
  double disc_radius;                             // disc
  double half_width, half_height, corner, angle;  // box
  PlainLaw law;
};
struct PlainCoupling {
  int a, b;
  double stiffness, rest, viscous, friction, slip;
};
struct PlainStop {
  int a, b;
  double limit, arm, side;
  PlainLaw law;
};
struct PlainTie {
  int a, b;
  PlainPoint on_a, on_b;
  double stiffness, viscous;
};
struct PlainMechanism {
  PlainPoint gravity;
  std::vector<PlainBody> bodies;
  std::vector<PlainContact> contacts;
  std::vector<PlainCoupling> couplings;
  std::vector<PlainStop> stops;
  std::vector<PlainTie> ties;
  // A force held in direction (world axes, N) at a point of a body.
  int pushed_body = -1;
  PlainPoint pushed_at, push;
};

}  // namespace batten::tests
