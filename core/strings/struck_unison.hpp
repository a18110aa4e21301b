// A unison of ideal strings struck by a felt head: what the strings do to the head over one step of
// whatever mechanism carries it. It knows no piano.
#pragma once

#include "core/strings/felt_step.hpp"
#include "core/strings/unison.hpp"

#include <cstddef>
#include <vector>

namespace batten {

// What the strings did to the head over one step.
struct Impulse {
  double impulse = 0;  // N s, never negative: it pushes the head away from the strings
  // m, how much farther from the strings the head ends than impulse-free motion would: the integral
  // of F(t) (end - t) dt over the effective mass. An integrator that applies impulse / step as a
  // constant force moves the crown by impulse * step / (2 mass) or, if semi-implicit,
  // impulse * step / mass; the difference to this is its error, and it may put it right.
  double crown_shift = 0;
  double peak_force = 0;    // N
  double contact_time = 0;  // s of the step with force
  double work = 0;          // J, given to the strings
  double displacement = 0;  // m, of the strings at the strike point, when last computed
  bool touching = false;    // at the end of the step
};

// Two travelling waves each side of the strike point, each side one delay line (d'Alembert). The
// grid is chosen so that both delays are whole numbers of it: pitch is exact, the strike point
// moves by less than half a step of string (d_ratio / ratio <= 0.5 / grid steps per period), and
// nothing is interpolated. Formulas: docs/theory/string.md.
class StruckUnison {
 public:
  // Strings at rest. `longest_substep` (s, positive): the grid is at most this, and at most an
  // eighth of the delay to the near end. Unison and felt must be sound. Allocates once; memory
  // 8 bytes times period over grid (15 kB in the bass at the default).
  StruckUnison(const Unison& unison, const HammerFelt& felt, double longest_substep = 10e-6);

  // One step of `step` seconds (0 or more) of the head. At its start the crown stands
  // `crown_height` (m, positive: beyond the rest plane of the strings) and moves at `crown_speed`
  // (m/s, positive: into the strings); everything but the strings accelerates it by
  // `other_acceleration` (m/s^2) the whole step; `effective_mass` (kg, positive) is what the
  // strings feel at the crown. All finite.
  //
  // Time not yet worth a whole substep is carried over: what the strings do may lag the caller by
  // up to one substep, the sum of impulses does not. Where the crown cannot get near enough to
  // touch, nothing is computed but the time that passed.
  Impulse advance(double step, double crown_height, double crown_speed, double other_acceleration,
                  double effective_mass);

  // The strings alone for `seconds` (0 or more), after what advance() left uncomputed. Whole
  // periods cost one pass over the lines, not their number: a free period multiplies every wave by
  // the square of the reflection.
  void let_ring(double seconds);

  // Stills the strings and forgets the time carried over; all totals begin again at 0.
  void rest();

  double grid() const { return grid_; }                  // s
  double strike_ratio() const;                           // as rounded to the grid
  double displacement() const { return displacement_; }  // m, when last computed
  double work() const { return work_; }                  // J given to the strings since rest
  double string_energy() const;                          // J in the strings when last computed
  // J stored in the felt at a compression (m).
  double felt_energy(double compression) const;

 private:
  struct Waves;
  void ring_out(long long steps);
  double reach() const;

  // Fixed by the note.
  double impedance_ = 0;
  double grid_ = 0;
  double reflection_ = 0;
  strings::FeltLaw law_;
  std::size_t near_steps_ = 0;  // delay to the near end and back, in grid steps
  std::size_t far_steps_ = 0;

  // State. Waves sent to the near end, then those sent to the far end, each a ring whose oldest
  // element arrives next.
  std::vector<double> sent_;
  std::size_t near_at_ = 0;
  std::size_t far_at_ = 0;
  double displacement_ = 0;
  double lag_ = 0;         // s by which the strings trail the caller, below one grid step
  double owed_ = 0;        // s slept through
  double greatest_ = 0;    // m/s, bound of every wave on the strings
  double force_ = 0;       // N, of the last substep
  double force_rise_ = 0;  // N, over the last substep
  double work_ = 0;
};

}  // namespace batten
