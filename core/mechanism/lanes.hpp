// Eight notes at once: a number type whose eight lanes go through the same operations, in the same
// order, as one double would. Templates over `Real` take double or Lanes.
//
// Isa names the instruction set the including source was compiled for, so that code for one machine
// is never linked in for another. Without -ffast-math and with contraction off, every lane rounds
// as the scalar does.
#pragma once

#include "core/mechanism/lane_packs.hpp"

namespace batten::mechanism {

inline constexpr int lane_count = 8;

template <Isa isa>
struct LaneMask {
  typename detail::Eight<isa>::Mask bits;
  BATTEN_LANE_INLINE bool operator[](int lane) const { return bits.lane(lane); }
  friend BATTEN_LANE_INLINE LaneMask operator&(LaneMask a, LaneMask b) { return {a.bits & b.bits}; }
  friend BATTEN_LANE_INLINE LaneMask operator|(LaneMask a, LaneMask b) { return {a.bits | b.bits}; }
  friend BATTEN_LANE_INLINE LaneMask operator!(LaneMask a) { return {!a.bits}; }
};

template <Isa isa>
struct Lanes {
  using Pack = detail::Eight<isa>;
  Pack x;
  Lanes() = default;
  // A number is a lane of equals.
  BATTEN_LANE_INLINE Lanes(double a) : x(Pack::all(a)) {}  // NOLINT
  BATTEN_LANE_INLINE explicit Lanes(Pack pack) : x(pack) {}
  BATTEN_LANE_INLINE double operator[](int lane) const { return x.lane(lane); }
  BATTEN_LANE_INLINE void set(int lane, double value) { x.set(lane, value); }
  BATTEN_LANE_INLINE Lanes& operator+=(Lanes b) { return *this = *this + b; }
  BATTEN_LANE_INLINE Lanes& operator-=(Lanes b) { return *this = *this - b; }
  BATTEN_LANE_INLINE Lanes& operator*=(Lanes b) { return *this = *this * b; }
  BATTEN_LANE_INLINE Lanes operator-() const { return Lanes(-x); }
  friend BATTEN_LANE_INLINE Lanes operator+(Lanes a, Lanes b) { return Lanes(a.x + b.x); }
  friend BATTEN_LANE_INLINE Lanes operator-(Lanes a, Lanes b) { return Lanes(a.x - b.x); }
  friend BATTEN_LANE_INLINE Lanes operator*(Lanes a, Lanes b) { return Lanes(a.x * b.x); }
  friend BATTEN_LANE_INLINE Lanes operator/(Lanes a, Lanes b) { return Lanes(a.x / b.x); }
  friend BATTEN_LANE_INLINE LaneMask<isa> operator<(Lanes a, Lanes b) {
    return {Pack::less(a.x, b.x)};
  }
  friend BATTEN_LANE_INLINE LaneMask<isa> operator>(Lanes a, Lanes b) { return b < a; }
  friend BATTEN_LANE_INLINE LaneMask<isa> operator<=(Lanes a, Lanes b) {
    return {Pack::at_most(a.x, b.x)};
  }
  friend BATTEN_LANE_INLINE LaneMask<isa> operator>=(Lanes a, Lanes b) { return b <= a; }
};

template <Isa isa>
BATTEN_LANE_INLINE Lanes<isa> select(LaneMask<isa> m, Lanes<isa> a, Lanes<isa> b) {
  return Lanes<isa>(detail::Eight<isa>::select(m.bits, a.x, b.x));
}
template <Isa isa>
BATTEN_LANE_INLINE bool any(LaneMask<isa> m) {
  return m.bits.any();
}
template <Isa isa>
BATTEN_LANE_INLINE Lanes<isa> sqrt(Lanes<isa> a) {
  return Lanes<isa>(detail::Eight<isa>::root(a.x));
}

// The same words for one double.
struct OneMask {
  bool on;
  BATTEN_LANE_INLINE bool operator[](int) const { return on; }
  friend BATTEN_LANE_INLINE OneMask operator&(OneMask a, OneMask b) { return {a.on && b.on}; }
  friend BATTEN_LANE_INLINE OneMask operator|(OneMask a, OneMask b) { return {a.on || b.on}; }
  friend BATTEN_LANE_INLINE OneMask operator!(OneMask a) { return {!a.on}; }
};
BATTEN_LANE_INLINE bool any(OneMask m) { return m.on; }

template <class Real>
struct RealTraits;
template <>
struct RealTraits<double> {
  static constexpr int width = 1;
  using Mask = OneMask;
  static BATTEN_LANE_INLINE double lane(double a, int) { return a; }
  static BATTEN_LANE_INLINE void set(double& a, int, double value) { a = value; }
};
template <Isa isa>
struct RealTraits<Lanes<isa>> {
  static constexpr int width = lane_count;
  using Mask = LaneMask<isa>;
  static BATTEN_LANE_INLINE double lane(const Lanes<isa>& a, int i) { return a[i]; }
  static BATTEN_LANE_INLINE void set(Lanes<isa>& a, int i, double value) { a.set(i, value); }
};

BATTEN_LANE_INLINE OneMask less(double a, double b) { return {a < b}; }
template <Isa isa>
BATTEN_LANE_INLINE LaneMask<isa> less(Lanes<isa> a, Lanes<isa> b) {
  return a < b;
}
BATTEN_LANE_INLINE double select(OneMask m, double a, double b) { return m.on ? a : b; }
BATTEN_LANE_INLINE double sqrt(double a) { return __builtin_sqrt(a); }

template <class Real>
BATTEN_LANE_INLINE Real max_of(Real a, Real b) {
  return select(less(a, b), b, a);
}
template <class Real>
BATTEN_LANE_INLINE Real min_of(Real a, Real b) {
  return select(less(b, a), b, a);
}
template <class Real>
BATTEN_LANE_INLINE Real abs_of(Real a) {
  return select(less(a, Real(0)), -a, a);
}

namespace detail {

// Taylor's polynomials for |r| <= pi/4; the first terms left out are below 1e-17.
template <class Real>
BATTEN_LANE_INLINE void sin_cos_near_zero(const Real& r, Real& sine, Real& cosine) {
  const Real z = r * r;
  sine =
      r + r * z *
              (Real(-1.0 / 6) +
               z * (Real(1.0 / 120) +
                    z * (Real(-1.0 / 5040) +
                         z * (Real(1.0 / 362880) + z * (Real(-1.0 / 39916800) +
                                                        z * (Real(1.0 / 6227020800.0) -
                                                             z * Real(1.0 / 1307674368000.0)))))));
  cosine = Real(1) - z * Real(0.5) +
           z * z *
               (Real(1.0 / 24) +
                z * (Real(-1.0 / 720) +
                     z * (Real(1.0 / 40320) + z * (Real(-1.0 / 3628800) +
                                                   z * (Real(1.0 / 479001600.0) +
                                                        z * (Real(-1.0 / 87178291200.0) +
                                                             z * Real(1.0 / 20922789888000.0)))))));
}

}  // namespace detail

// Sine and cosine to 2 units in the last place for |a| < 1000 rad: reduced to |r| <= pi/4 by a
// three-part pi/2 (Cody & Waite, Software Manual for the Elementary Functions, 1980).
template <class Real>
BATTEN_LANE_INLINE void sin_cos(const Real& a, Real& sine, Real& cosine) {
  // Nothing to reduce in any lane; what follows would give the same bits.
  if (!any(less(Real(0.78), abs_of(a)))) {
    detail::sin_cos_near_zero(a, sine, cosine);
    return;
  }
  // Adding and taking away 1.5 * 2^52 rounds to the nearest whole number.
  const Real magic(6755399441055744.0);
  const Real k = (a * Real(0.63661977236758134308) + magic) - magic;
  Real r = a - k * Real(1.57079632673412561417e+00);
  r -= k * Real(6.07710050630396597660e-11);
  r -= k * Real(2.02226624879595063154e-21);
  Real s, c;
  detail::sin_cos_near_zero(r, s, c);
  // The quadrant, k mod 4, again by rounding: in {-1, 0, 1, 2} or {.., 3}; bring -1 to 3.
  const Real quarter = k - Real(4) * ((k * Real(0.25) - Real(0.25) + magic) - magic);
  const Real n = select(less(quarter, Real(-0.5)), quarter + Real(4), quarter);
  const auto odd = (less(Real(0.5), n) & less(n, Real(1.5))) | less(Real(2.5), n);
  const Real s1 = select(odd, c, s);
  const Real c1 = select(odd, s, c);
  sine = select(less(Real(1.5), n), -s1, s1);
  const auto flip = less(Real(0.5), n) & less(n, Real(2.5));
  cosine = select(flip, -c1, c1);
}

}  // namespace batten::mechanism
