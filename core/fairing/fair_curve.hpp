// Measured lines along the keyboard: the fair curve of each section, how sure it is, which readings
// to doubt and which note to read next.
//
// Model, per section: height(key) = smooth curve + reading error. The curve is a Gaussian process
// (Matern 5/2 over key numbers, straight-line mean under a wide prior, a bow under a modest one);
// its amplitude and reach are shared by the sections and averaged over a grid under firm priors, so
// that one wrong reading cannot bend them. A reading is either good (its stated uncertainty, times
// a noise factor learned within bounds) or wrong (no information); the hypotheses "none wrong",
// "this one wrong", "these two wrong", … are weighed by their evidence. docs/theory/fairing.md
// derives it.
#pragma once

#include "core/keyboard/compass.hpp"
#include "core/outcome/outcome.hpp"
#include "core/quantities/quantity.hpp"

#include <vector>

namespace batten {

// One reading of a height at a key; repeats are several readings of one key.
struct HeightReading {
  Key key;
  Length height;
  Length uncertainty;  // one standard deviation, > 0
};

struct FairingOptions {
  // Log-normal priors: medians and spreads (standard deviation of the natural logarithm). The
  // medians and spreads are estimates, no source; the tests show what they do on lines of other
  // laws.
  Length amplitude = 0.5 * millimetre;  // departure of the curve from a bowed line
  double amplitude_spread = 0.5;
  double reach = 12;  // keys over which the curve holds its direction
  double reach_spread = 0.35;
  double noise_factor_spread = 0.25;  // of the stated uncertainties; median 1
  // Quadrature nodes per parameter: 3, or 1 to hold all three at their medians.
  int nodes = 3;
  Length slope = 3 * millimetre;  // standard deviation of the rise from end to end of a section
  Length bow = 0.6 * millimetre;  // of t^2, t from -1 to 1 over the section
  // Chance, before looking, that a reading is wrong, above 0 and below 1, and how far off a wrong
  // one lies.
  double wrong_share = 0.03;
  Length wrong_spread = 1.5 * millimetre;
  // Posterior chance of being wrong from which a reading is worth taking again, from which the
  // likeliest suspect of a section is flagged as doubtful, from which another one beside it is, and
  // from which a reading counts as wrong.
  double ask_from = 0.05;
  double flag_from = 0.1;
  double flag_beside_from = 0.2;
  double wrong_from = 0.5;
};

struct FairPoint {
  Key key;
  Length height;
  Length sd;  // of the curve itself, not of a new reading; infinite where nothing is known
};

enum class Doubt {
  none,
  ask,    // worth taking again where time allows
  flag,   // doubtful: followed only in proportion to the trust left in it; take it again
  wrong,  // more likely wrong than right: not followed
};

struct ReadingJudgement {
  double chance_wrong = 0;  // 0…1
  Length expected;          // what the other readings say this one should be
  Length expected_sd;       // of that expectation, reading error included
  Doubt doubt = Doubt::none;
};

// A reading worth taking next.
struct NextReading {
  Key key;
  bool settles_doubt = false;  // asked for because a reading of this key is doubtful
  Length drop;  // else: expected fall of the RMS standard deviation over the section's keys
};

struct SectionCurve {
  Section section;
  std::vector<FairPoint> points;  // one per key of the section
  int reading_count = 0;
};

struct FairCurve {
  std::vector<SectionCurve> sections;
  std::vector<ReadingJudgement> judgements;  // one per reading given, same order
  // At most five: first the keys of undecided readings (unless read four times already), the least
  // decided first, then what tells most about the curve.
  std::vector<NextReading> next;
  double noise_factor = 1;  // posterior mean, all sections

  // Nothing for a key outside all sections.
  const FairPoint* at(Key key) const;
};

// Readings in any order, any subset of the sections' keys, repeats allowed. A section with no
// readings has infinite sd everywhere; one or two readings give wide bands. Errors: a reading
// outside every section, an uncertainty not positive or not finite, a height not finite, more than
// 300 readings in one section. Cost: about 27 n^3 per section of n readings.
Result<FairCurve> fair(const std::vector<Section>& sections,
                       const std::vector<HeightReading>& readings,
                       const FairingOptions& options = {});

// Root mean square of the deviations; 0 for none.
Length evenness(const std::vector<Length>& deviations);

}  // namespace batten
