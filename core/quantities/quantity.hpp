// Quantities as strong types: a gram is not a newton and a millimetre is not a turn.
//
// A Quantity holds one double in the coherent SI unit of its dimension (metre, kilogram, second,
// radian) with turns of a screw as a dimension of their own, so that "millimetres per turn" has a
// type and cannot be mixed with a bare length. Construction is only through the named units below.
// Range: any finite double; nothing here rounds.
#pragma once

#include <compare>

namespace batten {

// Exponents of length, mass, time, plane angle and screw turns.
template <int L, int M, int T, int A, int S>
class Quantity {
 public:
  constexpr Quantity() = default;

  // The value in the coherent unit (m, kg, s, rad, turn and their products).
  constexpr double si() const { return value_; }
  static constexpr Quantity from_si(double value) { return Quantity(value); }

  // How many `unit`s this is: (45 * millimetre).in(inch).
  constexpr double in(Quantity unit) const { return value_ / unit.value_; }

  constexpr auto operator<=>(const Quantity&) const = default;
  constexpr Quantity operator-() const { return Quantity(-value_); }
  constexpr Quantity& operator+=(Quantity b) { value_ += b.value_; return *this; }
  constexpr Quantity& operator-=(Quantity b) { value_ -= b.value_; return *this; }
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.value_ + b.value_); }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.value_ - b.value_); }
  friend constexpr Quantity operator*(double k, Quantity a) { return Quantity(k * a.value_); }
  friend constexpr Quantity operator*(Quantity a, double k) { return Quantity(k * a.value_); }
  friend constexpr Quantity operator/(Quantity a, double k) { return Quantity(a.value_ / k); }
  friend constexpr double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }

 private:
  explicit constexpr Quantity(double value) : value_(value) {}
  double value_ = 0;
};

template <int L1, int M1, int T1, int A1, int S1, int L2, int M2, int T2, int A2, int S2>
constexpr auto operator*(Quantity<L1, M1, T1, A1, S1> a, Quantity<L2, M2, T2, A2, S2> b) {
  return Quantity<L1 + L2, M1 + M2, T1 + T2, A1 + A2, S1 + S2>::from_si(a.si() * b.si());
}
// Equal dimensions divide to a plain number (the member above); unequal ones to a new quantity.
template <int L1, int M1, int T1, int A1, int S1, int L2, int M2, int T2, int A2, int S2>
  requires(L1 != L2 || M1 != M2 || T1 != T2 || A1 != A2 || S1 != S2)
constexpr auto operator/(Quantity<L1, M1, T1, A1, S1> a, Quantity<L2, M2, T2, A2, S2> b) {
  return Quantity<L1 - L2, M1 - M2, T1 - T2, A1 - A2, S1 - S2>::from_si(a.si() / b.si());
}

using Length = Quantity<1, 0, 0, 0, 0>;
using Mass = Quantity<0, 1, 0, 0, 0>;
using Duration = Quantity<0, 0, 1, 0, 0>;
using Angle = Quantity<0, 0, 0, 1, 0>;
using Turns = Quantity<0, 0, 0, 0, 1>;
using Force = Quantity<1, 1, -2, 0, 0>;
// Newton metre. Energy has the same dimension; where both meet, names tell them apart.
using Torque = Quantity<2, 1, -2, 0, 0>;
// What one turn of a screw does to a height.
using LengthPerTurn = Quantity<1, 0, 0, 0, -1>;

// Units. Sources: inch and pound exact, International Yard and Pound Agreement 1959; standard
// gravity exact, 3rd CGPM 1901; the rest SI Brochure, 9th edition.
inline constexpr Length metre = Length::from_si(1);
inline constexpr Length millimetre = Length::from_si(1e-3);
inline constexpr Length inch = Length::from_si(0.0254);
inline constexpr Mass kilogram = Mass::from_si(1);
inline constexpr Mass gram = Mass::from_si(1e-3);
inline constexpr Mass ounce = Mass::from_si(0.45359237 / 16);
inline constexpr Force newton = Force::from_si(1);
inline constexpr Force gram_force = Force::from_si(9.80665e-3);
inline constexpr Torque newton_metre = Torque::from_si(1);
inline constexpr Torque newton_millimetre = Torque::from_si(1e-3);
inline constexpr Duration second = Duration::from_si(1);
inline constexpr Duration millisecond = Duration::from_si(1e-3);
inline constexpr Duration minute = Duration::from_si(60);
inline constexpr Angle radian = Angle::from_si(1);
inline constexpr Angle degree = Angle::from_si(0.017453292519943295);  // pi / 180
inline constexpr Turns turn = Turns::from_si(1);

constexpr Length abs(Length a) { return a.si() < 0 ? -a : a; }
constexpr Turns abs(Turns a) { return a.si() < 0 ? -a : a; }

}  // namespace batten
