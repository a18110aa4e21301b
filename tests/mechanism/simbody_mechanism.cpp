#include "tests/mechanism/simbody_mechanism.hpp"

#include <Simbody.h>
#include <algorithm>
#include <cmath>
#include <cstddef>

namespace batten::tests {

using namespace SimTK;

namespace {

Vec3 flat(PlainPoint p) { return Vec3(p.x, p.y, 0); }
Vec3 quarter(const Vec3& a) { return Vec3(-a[1], a[0], 0); }

// Distance of a point from a solid and the way out, both in the solid's frame.
struct Away {
  double distance;
  Vec3 normal;
};
Away from_disc(const PlainContact& c, const Vec3& p) {
  const Vec3 d = p - flat(c.centre);
  return {d.norm() - c.disc_radius, Vec3(d / d.norm())};
}
// The nearest point of the inner rectangle; inside it, the nearest face.
Away from_box(const PlainContact& c, const Vec3& p) {
  const Rotation turn(c.angle, ZAxis);
  const Vec3 z = ~turn * (p - flat(c.centre));
  const double a = c.half_width - c.corner, b = c.half_height - c.corner;
  const Vec3 nearest(std::clamp(z[0], -a, a), std::clamp(z[1], -b, b), 0);
  const Vec3 off = z - nearest;
  if (off.norm() > 0) return {off.norm() - c.corner, Vec3(turn * Vec3(off / off.norm()))};
  const double to_side = a - std::abs(z[0]), to_top = b - std::abs(z[1]);
  const Vec3 out = to_side < to_top ? Vec3(z[0] < 0 ? -1 : 1, 0, 0) : Vec3(0, z[1] < 0 ? -1 : 1, 0);
  return {-std::min(to_side, to_top) - c.corner, Vec3(turn * out)};
}

double pressed(const PlainLaw& law, double depth, double closing) {
  if (depth <= 0) return 0;
  return law.stiffness * std::pow(depth, law.power) *
         std::clamp(1 + law.damping * closing, 0.0, 3.0);
}
double rubbing(double friction, double speed, double slip) {
  return -friction * speed / std::sqrt(speed * speed + slip * slip);
}

class Forces : public Force::Custom::Implementation {
 public:
  Forces(const PlainMechanism& plain, const SimbodyMatterSubsystem& matter,
         const std::vector<MobilizedBodyIndex>& bodies)
      : plain_(plain), matter_(matter), bodies_(bodies) {}

  void calcForce(const State& state, Vector_<SpatialVec>& forces, Vector_<Vec3>&,
                 Vector& mobility) const override {
    for (const auto& c : plain_.contacts) touch(state, c, forces);
    for (const auto& c : plain_.couplings) {
      const double w = speed(state, c.a) - speed(state, c.b);
      const double stretch = place(state, c.a) - place(state, c.b) - c.rest;
      between(state, c.a, c.b,
              -c.stiffness * stretch - c.viscous * w + rubbing(c.friction, w, c.slip), forces,
              mobility);
    }
    for (const auto& s : plain_.stops) {
      const double gap = s.side * (place(state, s.a) - place(state, s.b) - s.limit) * s.arm;
      const double closing = -s.side * (speed(state, s.a) - speed(state, s.b)) * s.arm;
      between(state, s.a, s.b, s.side * s.arm * pressed(s.law, -gap, closing), forces, mobility);
    }
    for (const auto& t : plain_.ties) {
      const auto &a = body(t.a), &b = body(t.b);
      const Vec3 apart = a.findStationLocationInGround(state, flat(t.on_a)) -
                         b.findStationLocationInGround(state, flat(t.on_b));
      const Vec3 moving = a.findStationVelocityInGround(state, flat(t.on_a)) -
                          b.findStationVelocityInGround(state, flat(t.on_b));
      const Vec3 force = -t.stiffness * apart - t.viscous * moving;
      a.applyForceToBodyPoint(state, flat(t.on_a), force, forces);
      b.applyForceToBodyPoint(state, flat(t.on_b), -force, forces);
    }
    if (plain_.pushed_body >= 0)
      body(plain_.pushed_body)
          .applyForceToBodyPoint(state, flat(plain_.pushed_at), flat(plain_.push), forces);
  }
  Real calcPotentialEnergy(const State&) const override { return 0; }

 private:
  const MobilizedBody& body(int b) const {
    return matter_.getMobilizedBody(b < 0 ? MobilizedBodyIndex(0)
                                          : bodies_[static_cast<std::size_t>(b)]);
  }
  bool slides(int b) const { return plain_.bodies[static_cast<std::size_t>(b)].slide; }
  double place(const State& state, int b) const {
    if (b < 0) return 0;
    double sum = body(b).getOneQ(state, 0);
    if (slides(b)) return sum;
    for (int p = plain_.bodies[static_cast<std::size_t>(b)].parent; p >= 0 && !slides(p);
         p = plain_.bodies[static_cast<std::size_t>(p)].parent)
      sum += body(p).getOneQ(state, 0);
    return sum;
  }
  double speed(const State& state, int b) const {
    if (b < 0) return 0;
    return slides(b) ? body(b).getOneU(state, 0) : body(b).getBodyAngularVelocity(state)[2];
  }
  void between(const State& state, int a, int b, double effort, Vector_<SpatialVec>& forces,
               Vector& mobility) const {
    if (slides(a)) {
      body(a).applyOneMobilityForce(state, 0, effort, mobility);
      if (b >= 0) body(b).applyOneMobilityForce(state, 0, -effort, mobility);
    } else {
      body(a).applyBodyTorque(state, Vec3(0, 0, effort), forces);
      if (b >= 0) body(b).applyBodyTorque(state, Vec3(0, 0, -effort), forces);
    }
  }
  void touch(const State& state, const PlainContact& c, Vector_<SpatialVec>& forces) const {
    const auto &round = body(c.round_body), &solid = body(c.solid_body);
    const Vec3 centre = round.findStationLocationInGround(state, flat(c.round_centre));
    Vec3 point, normal;
    double gap = 0;
    if (c.arc) {
      normal = solid.expressVectorInGroundFrame(state, flat(c.normal));
      // The lowest point of the arc over the line, among its ends and, if within it, its foot.
      const Vec3 down = ~round.getBodyRotation(state) * Vec3(-normal);
      double foot = std::atan2(down[1], down[0]);
      while (foot < c.from) foot += 2 * Pi;
      while (foot >= c.from + 2 * Pi) foot -= 2 * Pi;
      std::vector<double> angles{c.from, c.to};
      if (foot <= c.to) angles = {foot};
      gap = Infinity;
      const Vec3 base = solid.findStationLocationInGround(state, flat(c.point));
      for (const double angle : angles) {
        const Vec3 at = round.findStationLocationInGround(
            state, flat(c.round_centre) + c.radius * Vec3(std::cos(angle), std::sin(angle), 0));
        const double height = dot(normal, at - base);
        if (height < gap) {
          gap = height;
          point = at;
        }
      }
    } else {
      const Vec3 p = solid.findStationAtGroundPoint(state, centre);
      Away away{dot(flat(c.normal), p - flat(c.point)), flat(c.normal)};
      if (c.solid == PlainContact::disc) away = from_disc(c, p);
      if (c.solid == PlainContact::box) away = from_box(c, p);
      normal = solid.expressVectorInGroundFrame(state, away.normal);
      gap = away.distance - c.radius;
      point = centre - c.radius * normal;
    }
    if (gap >= 0) return;
    const Vec3 on_round = round.findStationAtGroundPoint(state, point);
    const Vec3 on_solid = solid.findStationAtGroundPoint(state, point);
    const Vec3 moving = round.findStationVelocityInGround(state, on_round) -
                        solid.findStationVelocityInGround(state, on_solid);
    const double force = pressed(c.law, -gap, -dot(moving, normal));
    const Vec3 along = quarter(normal);
    const double slip = dot(moving, along);
    const Vec3 total =
        force * normal + force * rubbing(c.law.friction, slip, c.law.slip_speed) * along;
    round.applyForceToBodyPoint(state, on_round, total, forces);
    solid.applyForceToBodyPoint(state, on_solid, -total, forces);
  }

  const PlainMechanism& plain_;
  const SimbodyMatterSubsystem& matter_;
  const std::vector<MobilizedBodyIndex>& bodies_;
};

}  // namespace

struct SimbodyMechanism::Inside {
  explicit Inside(const PlainMechanism& p)
      : plain(p),
        matter(system),
        forces(system),
        gravity(forces, matter, Vec3(p.gravity.x, p.gravity.y, 0)) {}
  PlainMechanism plain;
  MultibodySystem system;
  SimbodyMatterSubsystem matter;
  GeneralForceSubsystem forces;
  Force::UniformGravity gravity;
  std::vector<MobilizedBodyIndex> bodies;
  State state;

  bool pin(int b) const { return b >= 0 && !plain.bodies[static_cast<std::size_t>(b)].slide; }
  const MobilizedBody& body(std::size_t b) const { return matter.getMobilizedBody(bodies[b]); }
  // What Simbody counts from the parent, from what is counted from the world, and back.
  template <class Get>
  std::vector<double> absolute(const Get& get) const {
    std::vector<double> all;
    for (std::size_t b = 0; b < bodies.size(); ++b) {
      const int parent = plain.bodies[b].parent;
      const double own = get(body(b));
      all.push_back(pin(static_cast<int>(b)) && pin(parent)
                        ? own + all[static_cast<std::size_t>(parent)]
                        : own);
    }
    return all;
  }
};

SimbodyMechanism::SimbodyMechanism(const PlainMechanism& plain)
    : in(std::make_unique<Inside>(plain)) {
  for (const PlainBody& b : in->plain.bodies) {
    // Rotation is about z only, so the other two principal moments do not matter.
    const double inertia = b.slide ? 1e-6 : b.inertia;
    const Inertia about_centre(inertia, inertia, inertia);
    const Vec3 centre = b.slide ? Vec3(0) : flat(b.centre);
    Body::Rigid rigid(
        MassProperties(b.mass, centre, about_centre.shiftFromMassCenter(centre, b.mass)));
    MobilizedBody& parent =
        b.parent < 0 ? static_cast<MobilizedBody&>(in->matter.Ground())
                     : in->matter.updMobilizedBody(in->bodies[static_cast<std::size_t>(b.parent)]);
    if (b.slide) {
      const Rotation turn(std::atan2(b.direction.y, b.direction.x), ZAxis);
      in->bodies.push_back(MobilizedBody::Slider(parent, Transform(turn, flat(b.at)), rigid,
                                                 Transform(turn, Vec3(0)))
                               .getMobilizedBodyIndex());
    } else {
      in->bodies.push_back(MobilizedBody::Pin(parent, Transform(flat(b.at)), rigid, Transform())
                               .getMobilizedBodyIndex());
    }
  }
  Force::Custom(in->forces, new Forces(in->plain, in->matter, in->bodies));
  in->state = in->system.realizeTopology();
}

SimbodyMechanism::~SimbodyMechanism() = default;

void SimbodyMechanism::set(const std::vector<double>& q, const std::vector<double>& v) {
  for (std::size_t b = 0; b < in->bodies.size(); ++b) {
    const int parent = in->plain.bodies[b].parent;
    const bool carried = in->pin(static_cast<int>(b)) && in->pin(parent);
    const auto p = static_cast<std::size_t>(carried ? parent : 0);
    in->body(b).setOneQ(in->state, 0, carried ? q[b] - q[p] : q[b]);
    in->body(b).setOneU(in->state, 0, carried ? v[b] - v[p] : v[b]);
  }
}

std::vector<double> SimbodyMechanism::accelerations() {
  in->system.realize(in->state, Stage::Acceleration);
  return in->absolute([&](const MobilizedBody& b) { return b.getOneUDot(in->state, 0); });
}
std::vector<double> SimbodyMechanism::q() const {
  return in->absolute([&](const MobilizedBody& b) { return b.getOneQ(in->state, 0); });
}
std::vector<double> SimbodyMechanism::v() const {
  return in->absolute([&](const MobilizedBody& b) { return b.getOneU(in->state, 0); });
}

void SimbodyMechanism::integrate(double seconds, double accuracy) {
  RungeKuttaMersonIntegrator integrator(in->system);
  integrator.setAccuracy(accuracy);
  integrator.setReturnEveryInternalStep(false);
  TimeStepper stepper(in->system, integrator);
  const double start = in->state.getTime();
  stepper.initialize(in->state);
  stepper.stepTo(start + seconds);
  in->state = integrator.getState();
}

}  // namespace batten::tests
