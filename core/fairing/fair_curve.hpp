// Measured lines along the keyboard: the fair curve of each section, how sure it is, which readings
// to doubt and which note to read next.
//
// Model, per section: height(key) = smooth curve + reading error. The curve is a Gaussian process
// (Matern 5/2 over key numbers, straight-line mean under a wide prior, a bow under a modest one);
// its amplitude and reach are shared by the sections and averaged over a grid under firm priors, so
// that one wrong reading cannot bend them. A reading is either good (its stated uncertainty, times a
// noise factor learned within bounds) or wrong (no information); the hypotheses "none wrong", "this
// one wrong", "these two wrong", … are weighed by their evidence. docs/theory/fairing.md derives it.
#pragma once

#include <vector>

#include "core/keyboard/compass.hpp"
#include "core/outcome/outcome.hpp"
#include "core/quantities/quantity.hpp"

namespace batten {

// One reading of a height at a key; repeats are several readings of one key.
struct HeightReading {
  Key key;
  Length height;
  Length uncertainty;  // one standard deviation, > 0
};

struct FairingOptions {
  // Medians of the log-normal priors and their spreads (standard deviation of the natural log).
  Length amplitude = 0.5 * millimetre;  // departure of the curve from a bowed line
  double amplitude_spread = 0.5;
  double reach = 15;  // keys over which the curve holds its direction
  double reach_spread = 0.35;
  double noise_factor_spread = 0.25;  // of the stated uncertainties, median 1
  Length slope_per_section = 3 * millimetre;  // standard deviation of the rise from end to end
  Length bow = 0.7 * millimetre;              // of the middle against the ends
  // Chance, before looking, that a reading is wrong, and how far wrong ones lie.
  double wrong_share = 0.02;
  Length wrong_spread = 1.5 * millimetre;
  // Posterior chance of being wrong from which a reading is flagged, and from which it is asked for
  // again.
  double flag_from = 0.5;
  double ask_from = 0.1;
};

struct FairPoint {
  Key key;
  Length height;
  Length sd;  // of the curve itself, not of a new reading; infinite where nothing is known
};

enum class Doubt {
  none,
  ask,   // may be wrong: read it or its neighbour again before trusting it
  flag,  // taken to be wrong: not followed
};

struct ReadingJudgement {
  double chance_wrong = 0;    // 0…1
  Length expected;            // what the other readings say this one should be
  Length expected_sd;         // of that expectation, reading error included
  Doubt doubt = Doubt::none;
};

struct NextReading {
  Key key;
  Length drop;  // expected fall of the RMS standard deviation over the section's targets
  bool settles_doubt = false;  // asked for because it tells a wrong reading from a right one
  Key doubted;                 // which, if so
};

struct SectionCurve {
  Section section;
  std::vector<FairPoint> points;  // one per key of the section
  int reading_count = 0;
};

struct FairCurve {
  std::vector<SectionCurve> sections;
  std::vector<ReadingJudgement> judgements;  // one per reading given, same order
  std::vector<NextReading> next;             // best first; at most a handful
  double noise_factor = 1;                   // posterior mean, all sections

  // Nothing for a key outside all sections.
  const FairPoint* at(Key key) const;
};

// Readings in any order, any subset of the sections' keys, repeats allowed. A section with no
// readings has infinite sd everywhere; one or two readings give wide bands. Errors: a reading outside
// every section, an uncertainty not positive or not finite, a height not finite.
// Cost: about n^3 per section for n readings, times the grid.
Result<FairCurve> fair(const std::vector<Section>& sections,
                       const std::vector<HeightReading>& readings,
                       const FairingOptions& options = {});

// Root mean square of the deviations; 0 for none.
Length evenness(const std::vector<Length>& deviations);

}  // namespace batten
