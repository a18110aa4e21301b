// Tying the bench to the strings' datum. Internal to core/regulation/line.
#pragma once

#include "core/fairing/fair_curve.hpp"
#include "core/keyboard/compass.hpp"
#include "core/regulation/line/line.hpp"

#include <array>
#include <vector>

namespace batten::line {

// height over the strings' datum = height over the bench + offset, offset = a + b x with x from −1
// at the bass end to 1 at the treble end. A datum-transfer reading is that offset at one note: the
// same point measured over both.
class Transfer {
 public:
  // Least squares weighted by the readings' uncertainties, with a prior on b: bench and key bed lie
  // parallel to 1 mm over the keyboard (one standard deviation, common practice, no source). The
  // stated uncertainties are widened when the readings scatter more than they state (Birge ratio).
  Transfer(Compass compass, const std::vector<HeightReading>& readings);

  Length offset(Key key) const;
  Length sd(Key key) const;  // one standard deviation of the offset at the key

 private:
  double place(Key key) const;
  Compass compass_;
  double a_ = 0, b_ = 0;                       // mm
  double var_a_ = 0, var_b_ = 0, cov_ab_ = 0;  // mm^2
};

// What is known of the tie, for the reader. Ready when not needed or read at three notes.
TransferEstimate estimate_transfer(Compass compass, bool needed,
                                   const std::vector<HeightReading>& readings,
                                   const Transfer& transfer);

}  // namespace batten::line
