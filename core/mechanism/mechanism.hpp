// A planar mechanism: bodies on pins and slides, springs, friction, soft one-sided contacts.
//
// Plane x, y in metres; angles counter-clockwise in radians; SI throughout. The description is
// immutable once built; a State (below) is all that changes. It knows no piano.
//
// Every body has one coordinate. A pinned body's is its angle from the posture in which it was
// described, absolute (not relative to its parent), so that the mass matrix of a chain of pins
// needs only constants and the sine and cosine of differences. A slide's is its displacement along
// a fixed direction. Loops are closed by stiff ties; a free body is two slides that carry a pin.
#pragma once

#include "core/outcome/outcome.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace batten::mechanism {

struct Point {
  double x = 0, y = 0;
  bool operator==(const Point&) const = default;
};

// The fixed world, as parent or partner of a body.
inline constexpr int ground = -1;
// More coordinates than this are refused: the state lives in fixed arrays.
inline constexpr int max_coordinates = 12;
// A body hangs on at most this many coordinates, its own included.
inline constexpr int max_chain = 6;
// Contacts are switched off by the bits of one word.
inline constexpr int max_contacts = 64;

enum class JointKind { pin, slide };

// Points "on" a body are given in its own frame: origin at its pin (or at the slide's zero), axes
// parallel to the world's in the described posture.
struct Body {
  std::string name;
  int parent = ground;  // an earlier body; a slide's parent is the ground or a slide
  JointKind joint = JointKind::pin;
  Point at{};             // the pin, in the parent's frame; a slide's zero likewise
  Point direction{0, 1};  // slides only, unit length
  double mass = 0;        // kg, >= 0; each coordinate must move some mass or inertia
  Point centre{};         // of mass, in the own frame
  double inertia = 0;     // kg m^2 about the centre of mass, >= 0; no meaning for slides
};

// Force of a soft contact pressed by d >= 0: F = stiffness d^(half_powers/2) * clamp(1 + damping
// dd/dt, 0, 3) (Hunt & Crossley's form, J. Appl. Mech. 42 (1975) 440, with its bracket limited so
// that a fast blow stays finite and a parting contact never pulls). Friction:
// -friction F v / sqrt(v^2 + slip_speed^2), v the slip at the point of the round partner that is
// deepest in the solid.
struct ContactLaw {
  double stiffness = 0;      // N/m^p, > 0
  int half_powers = 4;       // 2p, 2 (linear) to 8
  double damping = 0;        // s/m, >= 0
  double friction = 0;       // >= 0
  double slip_speed = 1e-3;  // m/s, > 0
};

// The law that gives `force` (N) at `depth` (m), both > 0.
ContactLaw contact_law(double force, double depth, int half_powers, double damping = 0,
                       double friction = 0);

// The rounder partner of a contact: a disc, or the part of a disc's rim between two angles of the
// own frame whose ends are points. Radius 0: a point.
struct Disc {
  Point centre{};
  double radius = 0;  // m, >= 0
};
struct Arc {
  Point centre{};
  double radius = 0;        // m, > 0
  double from = 0, to = 0;  // rad, from < to < from + 2 pi
};
// The other partner. Line: everything behind it is solid; `normal` points out of it.
struct Line {
  Point point;
  Point normal{0, 1};  // unit length
};
// A rectangle with rounded corners, turned by `angle` in its frame; half sizes to the outer faces.
struct RoundedBox {
  Point centre{};
  double half_width = 0, half_height = 0, corner = 0, angle = 0;
};

enum class RoundKind { disc, arc };
enum class SolidKind { line, disc, box };

struct Contact {
  std::string name;
  int round_body = ground;
  RoundKind round = RoundKind::disc;
  Arc arc;  // a disc uses centre and radius only
  int solid_body = ground;
  SolidKind solid = SolidKind::line;
  Line line;
  Disc disc;
  RoundedBox box;
  ContactLaw law;
};

// Between two coordinates of a kind (`b` may be ground): force or torque on a, its opposite on b,
// -(stiffness (qa - qb - rest) + viscous w + friction w / sqrt(w^2 + slip^2)), w = va - vb.
struct Coupling {
  std::string name;
  int a = 0, b = ground;
  double stiffness = 0, rest = 0, viscous = 0, friction = 0;
  double slip = 0.01;  // rad/s or m/s, > 0
};

// A one-sided stop between two coordinates: gap = side * (qa - qb - limit) * arm.
struct Stop {
  std::string name;
  int a = 0, b = ground;
  double limit = 0, arm = 1, side = 1;
  ContactLaw law;  // its friction is not used
};

// Holds two points together: stiffness (N/m) and viscous (N s/m) in every direction.
struct Tie {
  std::string name;
  int a = 0, b = ground;
  Point on_a, on_b;
  double stiffness = 0, viscous = 0;
};

// A point to be watched or pushed.
struct Probe {
  std::string name;
  int body = 0;
  Point at;
};

struct Description {
  std::vector<Body> bodies;
  std::vector<Contact> contacts;
  std::vector<Coupling> couplings;
  std::vector<Stop> stops;
  std::vector<Tie> ties;
  std::vector<Probe> probes;
  Point gravity{0, -9.80665};  // m/s^2, standard gravity (3rd CGPM 1901)
};

// Error: the first thing that is not as said above, by name.
Result<void> check(const Description& description);

// Coordinates and speeds.
struct State {
  double q[max_coordinates] = {};
  double v[max_coordinates] = {};
};

// Index by name, or -1.
int body_named(const Description& description, std::string_view name);
int contact_named(const Description& description, std::string_view name);
int stop_named(const Description& description, std::string_view name);
int probe_named(const Description& description, std::string_view name);

}  // namespace batten::mechanism
