#include "tests/mechanism/samples.hpp"

#include <cmath>
#include <random>
#include <string>
#include <utility>

namespace batten::tests {

using namespace mechanism;

namespace {

constexpr double pi = 3.14159265358979323846;

Point turned(Point p, double angle) {
  return {std::cos(angle) * p.x - std::sin(angle) * p.y,
          std::sin(angle) * p.x + std::cos(angle) * p.y};
}
Point millimetres(double x, double y) { return {1e-3 * x, 1e-3 * y}; }

Contact touching(std::string name, int round_body, Point centre, double radius, int solid_body,
                 const ContactLaw& law) {
  Contact c;
  c.name = std::move(name);
  c.round_body = round_body;
  c.arc = {centre, radius, 0, 0};
  c.solid_body = solid_body;
  c.law = law;
  return c;
}

Contact on_line(Contact c, Point point, Point normal) {
  c.solid = SolidKind::line;
  const double length = std::hypot(normal.x, normal.y);
  c.line = {point, {normal.x / length, normal.y / length}};
  return c;
}

}  // namespace

Description train(double variation) {
  const double s = 1 + 0.02 * variation;
  enum : int { beam, tip, lifter, prop, rocker, arm, head, weight, plate };
  Description d;
  const double rest = -18.9 * pi / 180;
  const Point knob = turned(millimetres(17, -7), rest);
  const Point head_at = turned(millimetres(90, 0), rest);
  const Point crown = turned(millimetres(40, 52), rest);  // from the head's pin
  const Point prop_top = millimetres(19.6, 47.2);
  const double lean = -std::atan2(prop_top.x, prop_top.y);
  d.bodies = {
      {"beam", ground, JointKind::pin, {}, {}, 0.10 * s, millimetres(10, 5), 2.4e-3 * s},
      {"tip", beam, JointKind::pin, {}, {}, 0.03, millimetres(-125, 5), 1.5e-4 * s},
      {"lifter",
       ground,
       JointKind::pin,
       millimetres(191, 69),
       {},
       9.5e-3 * s,
       millimetres(-55, 8),
       1.4e-5},
      {"prop",
       lifter,
       JointKind::pin,
       millimetres(-111, -3),
       {},
       4e-3,
       millimetres(8, 18),
       2.5e-6 * s},
      {"rocker",
       lifter,
       JointKind::pin,
       millimetres(-50, 33),
       {},
       5.5e-3,
       millimetres(-18, 3),
       5e-6 * s},
      {"arm",
       ground,
       JointKind::pin,
       millimetres(86, 132),
       {},
       5e-3 * s,
       millimetres(45, -12),
       1.2e-5},
      {"head", arm, JointKind::pin, head_at, {}, 8.5e-3 * s, millimetres(35, 15), 6e-6},
      {"weight", ground, JointKind::slide, millimetres(260, 60), {0, 1}, 0.15 * s, {}, 0},
      {"plate", ground, JointKind::slide, millimetres(217, 187), {0, 1}, 6e-3 * s, {}, 0},
  };
  const auto felt = [&](double force, double depth, int half_powers, double damping,
                        double friction) {
    return contact_law(force * s, 1e-3 * depth, half_powers, damping, friction);
  };
  d.contacts.push_back(on_line(touching("beam lifts lifter", beam, millimetres(119.5, 38), 5e-3,
                                        lifter, felt(20, .40, 5, .6, .15)),
                               millimetres(-71.5, -25.9), {0, -1}));
  Contact c = touching("prop under knob", arm, knob, 5e-3, prop, felt(20, .35, 4, .6, .18));
  c.solid = SolidKind::box;
  c.box = {{prop_top.x * 0.9, prop_top.y * 0.9}, 2.75e-3, 5.2e-3, 0.6e-3, lean};
  d.contacts.push_back(c);
  d.contacts.push_back(
      on_line(touching("rocker under knob", arm, knob, 5e-3, rocker, felt(20, .35, 4, .6, .18)),
              millimetres(-41.2, 12.4), {.30, 1}));
  d.contacts.push_back(on_line(
      touching("toe on button", prop, millimetres(17, 3), 2e-3, ground, felt(10, .2, 4, .8, .18)),
      millimetres(97, 77), {0, -1}));
  d.contacts.push_back(on_line(touching("rocker on screw", rocker, millimetres(-58, 18), 1e-3,
                                        ground, felt(10, .3, 4, .8, .18)),
                               millimetres(83, 126.5), {0, -1}));
  c = on_line(
      touching("tail on check", head, millimetres(-10, 5), 60e-3, beam, felt(30, .6, 4, .8, .6)),
      millimetres(252, 95), {-1, .36});
  c.round = RoundKind::arc;
  c.arc.from = -0.9 + rest;
  c.arc.to = -0.15 + rest;
  d.contacts.push_back(c);
  c = touching("head on plate", head, crown, 1e-3, plate, felt(25, .4, 6, .3, 0));
  d.contacts.push_back(on_line(c, {}, {0, -1}));
  d.contacts.push_back(on_line(
      touching("tip on pad", tip, millimetres(-240, 0), 2e-3, ground, felt(20, .6, 5, .6, 0)),
      millimetres(-240, -12.2), {0, 1}));
  d.contacts.push_back(on_line(
      touching("beam on rest", beam, millimetres(235, 0), 2e-3, ground, felt(2, .5, 4, .6, 0)),
      millimetres(235, -1.9), {0, 1}));
  c = touching("head on its rest", head, millimetres(0, -4), 4e-3, ground, felt(5, 1, 4, .8, 0.1));
  c.solid = SolidKind::disc;
  c.disc = {{86e-3 + head_at.x, 132e-3 + head_at.y - 13e-3}, 4e-3};
  d.contacts.push_back(c);
  c = touching("beam lifts weight", weight, {}, 2e-3, beam, felt(5, .4, 4, .6, .2));
  d.contacts.push_back(on_line(c, millimetres(260, 52), {0, 1}));
  const ContactLaw stop = felt(10, .2, 3, .8, 0);
  d.stops = {{"rocker's height", rocker, lifter, 0.002, 20e-3, -1, stop},
             {"prop's place", prop, lifter, -0.002, 25e-3, 1, stop}};
  d.couplings = {
      {"beam's pin", beam, ground, 0, 0, 1e-4, 5.5e-3, .01},
      {"tip's bending", tip, beam, 960 * s, 0, .02, 0, .01},
      {"lifter's pin", lifter, ground, 0, 0, 1e-5, 2e-3, .01},
      {"prop's spring", prop, lifter, .02, .25, 1e-6, 3e-4, .01},
      {"rocker's spring", rocker, lifter, .05, -.74 * s, 1e-6, 4e-4, .01},
      {"arm's pin", arm, ground, 0, 0, 1e-6, 9e-4, .01},
      {"head's bending", head, arm, 40 * s, 0, 1e-4, 0, .01},
      {"weight's guide", weight, ground, 20, 0.075, .2, .02, .01},
      {"plate's spring", plate, ground, 6e4 * s, 0, .4, 0, .01},
  };
  d.probes = {{"end", tip, millimetres(-250, 5)}, {"crown", head, crown}};
  return d;
}

Description tangle(unsigned seed) {
  std::mt19937 random(seed);
  const auto uniform = [&](double from, double to) {
    return from + (to - from) * (static_cast<double>(random()) / 4294967296.0);
  };
  const auto point = [&](double size) { return Point{uniform(-size, size), uniform(-size, size)}; };
  const double slope = uniform(-pi, pi);
  Description d;
  d.bodies = {
      {"lift", ground, JointKind::slide, point(.02), {std::cos(slope), std::sin(slope)}, .1, {}, 0},
      {"cross",
       0,
       JointKind::slide,
       point(.02),
       {std::cos(1 + slope), std::sin(1 + slope)},
       .1,
       {},
       0},
      {"a", 1, JointKind::pin, point(.1), {}, .2, point(.1), 1e-3},
      {"b", 2, JointKind::pin, point(.1), {}, .3, point(.1), 2e-3},
      {"c", 3, JointKind::pin, point(.1), {}, .2, point(.1), 1e-3},
      {"w", ground, JointKind::pin, point(.1), {}, .2, point(.1), 1e-3},
      {"j", 5, JointKind::pin, point(.1), {}, .1, point(.1), 1e-3},
      {"k", 5, JointKind::pin, point(.1), {}, .1, point(.1), 1e-3},
  };
  const int bodies = static_cast<int>(d.bodies.size());
  for (int k = 0; d.contacts.size() < 48; ++k) {
    const int round = static_cast<int>(random() % static_cast<unsigned>(bodies + 1)) - 1;
    const int solid = static_cast<int>(random() % static_cast<unsigned>(bodies + 1)) - 1;
    if (round == solid) continue;
    // One draw a statement: compilers order the arguments of a call as they like.
    const double damping = uniform(0, 3);
    const double friction = uniform(0, .6);
    ContactLaw law = contact_law(10, 1e-2, 2 + k % 7, damping, friction);
    law.slip_speed = uniform(.05, .5);
    const Point centre = point(.05);
    const double radius = uniform(.01, .07);
    Contact c = touching("c" + std::to_string(k), round, centre, radius, solid, law);
    switch (k % 4) {
      case 1:
        c.solid = SolidKind::disc;
        c.disc = {point(.05), uniform(.05, .1)};
        break;
      case 2:
        c.solid = SolidKind::box;
        c.box = {point(.05), uniform(.05, .12), uniform(.05, .1), uniform(.01, .03),
                 uniform(-pi, pi)};
        break;
      case 3:
        if (round == ground) continue;
        c.round = RoundKind::arc;
        c.arc.from = uniform(-pi, pi);
        c.arc.to = c.arc.from + uniform(.3, 3);
        [[fallthrough]];
      default: {
        const double angle = uniform(-pi, pi);
        c.line = {point(.05), {std::cos(angle), std::sin(angle)}};
      }
    }
    d.contacts.push_back(c);
  }
  ContactLaw stop = contact_law(10, 1e-2, 3, 1, 0);
  d.couplings = {{"x", 2, 3, 3., .1, .2, .3, .5},
                 {"y", 5, ground, 3., .1, .2, .3, .5},
                 {"z", 0, 1, 30., .01, 2, .3, .5}};
  d.stops = {{"s", 2, 3, uniform(-.5, .5), .02, -1, stop},
             {"t", 6, ground, uniform(-.5, .5), .03, 1, stop}};
  d.ties = {{"t", 4, 6, point(.1), point(.1), 100, 2},
            {"u", 3, ground, point(.1), point(.1), 50, 1},
            {"v", 3, 4, point(.1), point(.1), 50, 1}};
  d.probes = {{"p", 4, point(.1)}, {"q", ground, point(.1)}};
  return d;
}

}  // namespace batten::tests
