// What a piano's past says of its future: from the journal to the outlook.
//
// Model, per reading: the level of every note is what was left of it at the last work, plus
// playing-in of new felt and leather that slows down, plus a swing with the moisture content of the
// wood, plus wear with the hours played, plus a wander of its own; each of them has a part common
// to the piano, one of its section and one of the note. Linear and Gaussian but for two numbers
// which are averaged over a small grid. What teaches is what was left at one visit and found at a
// later one. docs/theory/drift.md derives it and has the priors with their sources.
#pragma once

#include "core/journal/fold.hpp"
#include "core/keyboard/compass.hpp"
#include "core/outcome/outcome.hpp"
#include "core/regulation/drift/outlook.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace batten {

struct DriftOptions {
  std::int64_t from_ms = 0;  // today: the core has no clock; entries after it are left out
  int months = 24;           // 1…60
  // Share that may lie outside; nothing: the piano's setting return-limit, else 20 %.
  std::optional<double> limit;
};

// Pure; a few milliseconds. Notes out of service are left out. A piano without readings gives an
// outlook whose due is unknown. Errors: settings that cannot be read, months or limit out of range.
Result<Outlook> calc_outlook(Compass compass, const Standing& standing,
                             const DriftOptions& options);

// What to look at first after a spell: from the model in order of what moves most in tolerances,
// nothing that moves less than a tenth of one; for transport and new hammers `listed`, the user's
// lines, or where there are none the keys of our own list (data/words: "drift.list.transport.1" …),
// which is common practice, no source.
Result<FirstChecks> calc_first_checks(Compass compass, const Standing& standing, Spell spell,
                                      const DriftOptions& options,
                                      const std::vector<std::string>& listed = {});

}  // namespace batten
