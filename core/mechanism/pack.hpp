// Several alike models side by side, one per lane.
#pragma once

#include "core/mechanism/model.hpp"

#include <cstddef>

namespace batten::mechanism {

namespace detail {

template <class Real>
void pack_chain(const Chain<double>& from, Chain<Real>& to, int lane) {
  to.count = from.count;
  for (int k = 0; k < from.count; ++k) {
    to.coordinate[k] = from.coordinate[k];
    to.slide[k] = from.slide[k];
    RealTraits<Real>::set(to.x[k], lane, from.x[k]);
    RealTraits<Real>::set(to.y[k], lane, from.y[k]);
  }
  RealTraits<Real>::set(to.base_x, lane, from.base_x);
  RealTraits<Real>::set(to.base_y, lane, from.base_y);
}

template <class Real>
void pack_law(const LawNumbers<double>& from, LawNumbers<Real>& to, int lane) {
  to.half_powers = from.half_powers;
  to.rubs = to.rubs || from.rubs;
  RealTraits<Real>::set(to.stiffness, lane, from.stiffness);
  RealTraits<Real>::set(to.damping, lane, from.damping);
  RealTraits<Real>::set(to.friction, lane, from.friction);
  RealTraits<Real>::set(to.slip_speed, lane, from.slip_speed);
}

template <class Real>
void pack_contact(const ContactNumbers<double>& from, ContactNumbers<Real>& to, int lane) {
  using T = RealTraits<Real>;
  pack_chain(from.round, to.round, lane);
  pack_chain(from.frame, to.frame, lane);
  to.round_body = from.round_body;
  to.solid_body = from.solid_body;
  to.frame_angle = from.frame_angle;
  to.round_angle = from.round_angle;
  to.round_kind = from.round_kind;
  to.solid_kind = from.solid_kind;
  T::set(to.radius, lane, from.radius);
  for (int k = 0; k < 2; ++k) {
    T::set(to.end_x[k], lane, from.end_x[k]);
    T::set(to.end_y[k], lane, from.end_y[k]);
  }
  T::set(to.middle_x, lane, from.middle_x);
  T::set(to.middle_y, lane, from.middle_y);
  T::set(to.cos_half, lane, from.cos_half);
  for (int k = 0; k < 7; ++k) T::set(to.solid[k], lane, from.solid[k]);
  pack_law(from.law, to.law, lane);
  to.local_count = from.local_count;
  for (int k = 0; k < from.local_count; ++k) {
    to.local[k] = from.local[k];
    to.in_round[k] = from.in_round[k];
    to.in_frame[k] = from.in_frame[k];
    to.turns[k] = from.turns[k];
  }
  to.turning = from.turning;
}

}  // namespace detail

// Puts `from` into one lane of `to`. All lanes must be filled with alike models.
template <class Real>
void put_lane(const Model<double>& from, Model<Real>& to, int lane) {
  using T = RealTraits<Real>;
  to.count = from.count;
  to.entries = from.entries;
  to.fill = from.fill;
  to.elimination = from.elimination;
  to.masses.resize(from.masses.size());
  to.contacts.resize(from.contacts.size());
  to.couplings.resize(from.couplings.size());
  to.stops.resize(from.stops.size());
  to.ties.resize(from.ties.size());
  to.probes.resize(from.probes.size());
  for (int i = 0; i < from.count; ++i) {
    to.slide[i] = from.slide[i];
    T::set(to.moment_x[i], lane, from.moment_x[i]);
    T::set(to.moment_y[i], lane, from.moment_y[i]);
    T::set(to.slide_x[i], lane, from.slide_x[i]);
    T::set(to.slide_y[i], lane, from.slide_y[i]);
  }
  T::set(to.gravity_x, lane, from.gravity_x);
  T::set(to.gravity_y, lane, from.gravity_y);
  for (std::size_t k = 0; k < from.masses.size(); ++k) {
    to.masses[k].i = from.masses[k].i;
    to.masses[k].j = from.masses[k].j;
    T::set(to.masses[k].along, lane, from.masses[k].along);
    T::set(to.masses[k].across, lane, from.masses[k].across);
  }
  for (std::size_t k = 0; k < from.contacts.size(); ++k)
    detail::pack_contact(from.contacts[k], to.contacts[k], lane);
  for (std::size_t k = 0; k < from.couplings.size(); ++k) {
    const auto& c = from.couplings[k];
    auto& r = to.couplings[k];
    r.a = c.a;
    r.b = c.b;
    r.rubs = r.rubs || c.rubs;
    T::set(r.stiffness, lane, c.stiffness);
    T::set(r.rest, lane, c.rest);
    T::set(r.viscous, lane, c.viscous);
    T::set(r.friction, lane, c.friction);
    T::set(r.slip, lane, c.slip);
  }
  for (std::size_t k = 0; k < from.stops.size(); ++k) {
    to.stops[k].a = from.stops[k].a;
    to.stops[k].b = from.stops[k].b;
    T::set(to.stops[k].limit, lane, from.stops[k].limit);
    T::set(to.stops[k].slope, lane, from.stops[k].slope);
    detail::pack_law(from.stops[k].law, to.stops[k].law, lane);
  }
  for (std::size_t k = 0; k < from.ties.size(); ++k) {
    detail::pack_chain(from.ties[k].a, to.ties[k].a, lane);
    detail::pack_chain(from.ties[k].b, to.ties[k].b, lane);
    T::set(to.ties[k].stiffness, lane, from.ties[k].stiffness);
    T::set(to.ties[k].viscous, lane, from.ties[k].viscous);
  }
  for (std::size_t k = 0; k < from.probes.size(); ++k)
    detail::pack_chain(from.probes[k].chain, to.probes[k].chain, lane);
}

}  // namespace batten::mechanism
