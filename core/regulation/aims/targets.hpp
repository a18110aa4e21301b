// What every reading is to be, section by section.
#pragma once

#include "core/keyboard/compass.hpp"
#include "core/outcome/outcome.hpp"
#include "core/regulation/aims/aim.hpp"

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace batten {

// From the section's first note to its last, straight between; the reading's catalogue unit.
struct Taper {
  double at_first = 0, at_last = 0;
  bool operator==(const Taper&) const = default;
};

// Per-piano choices on record, each named "<code of the reading>-target" ("dip-target",
// "sharp-dip-target", "let-off-target", …, "blow-target" among them): one value or "a to b" over
// the whole compass, or one of these for each section with ';' between. Lengths as parse_length
// reads them, grades and fractions as numbers.
struct Targets {
  std::vector<Section> sections;
  // One per section; empty: not on record and without a usual figure (key height; aftertouch, which
  // then follows from the others).
  std::array<std::vector<Taper>, aim_count> naturals, sharps;

  // Nothing where it is not set.
  std::optional<double> at(Aim aim, Key key) const;
};

// The targets on record over the usual figures, which are the middle of the catalogue's (trade) and
// where it has none common practice, no source: blow 46 to 45 mm, dip 10.0, sharp dip 9.7, let-off
// 2.0 to 1.4, drop 1.5, check 14, jack clearance 0.15, jack position 0, spring rise 2, damper start
// 0.5. Error: a target that cannot be read, or outside what can be (catalogue), named.
Result<Targets> targets_on_record(Compass compass, const std::vector<Section>& sections,
                                  const std::map<std::string, std::string>& on_record);

// How a list of tapers is written into its setting.
std::string print_tapers(Reading reading, const std::vector<Taper>& tapers);

// Reads one alone, to refuse it before it is written down. Error also: no such target.
Result<void> check_target_setting(Compass compass, const std::vector<Section>& sections,
                                  const std::string& name, const std::string& value);
// Whether a setting's name is a target's.
bool is_target_setting(const std::string& name);

}  // namespace batten
