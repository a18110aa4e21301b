// A piano's action profile from the readings on record.
#pragma once

#include "app/desk.hpp"
#include "core/fit/task.hpp"
#include "core/journal/fold.hpp"
#include "fitting/fit.hpp"
#include "profiles/profile_file.hpp"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

struct FitRequest {
  std::string profile;          // begin from: name or file; empty: the piano's own, else "medium"
  std::filesystem::path pairs;  // key depths and crown rises; empty: none
};

struct PianoFit {
  Fit fit;
  std::string base;                    // name of the profile begun from
  std::vector<std::string> put_aside;  // what was read and not used, and why
};

// What the journal holds of each note's action: the readings of its latest visit since it was last
// turned, repeats averaged. Notes where neither aftertouch nor both weights nor a rise were read
// are left out: blow, let-off and dip alone are explained by the screws. Whatever is not used is
// told in `put_aside`.
std::vector<fit::Reading> readings_to_fit(const Standing& standing,
                                          const std::vector<fit::Reading>& rises,
                                          std::vector<std::string>& put_aside);

// Lines of "C4 4 20.3": the key's front held 4 mm below its rest by shims, crown risen 20.3 mm from
// its own. Blanks or semicolons between, units close behind the number, "#" after a blank begins a
// remark; a fourth number is the standard deviation of the rise (0.3 mm: a height to 0.2 mm and a
// shim to 0.05 mm, five times that at the crown). Error: the first line that cannot be read, by its
// number.
Result<std::vector<fit::Reading>> parse_rises(std::string_view text);

// Errors: nothing to fit, and as find_profile, parse_rises and solve_fit.
Result<PianoFit> fit_piano(Desk& desk, const Piano& piano, const FitRequest& request);

// The fitted profile as a file to keep: named for the piano, its source telling how it was found.
ProfileFile fitted_profile(const Piano& piano, const PianoFit& fit);

}  // namespace batten
