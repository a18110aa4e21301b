#include "cli/fit_commands.hpp"

#include "app/files.hpp"
#include "cli/desk_work.hpp"
#include "json/fit_json.hpp"

namespace batten::cli {

int fit_action(const Common& common, const FitWords& words) {
  Common meant = common;
  if (!words.piano.empty()) meant.piano = words.piano;
  return with_piano(meant, [&](Desk& desk, const Piano& piano) {
    auto fit = fit_piano(desk, piano, {words.profile, words.pairs});
    if (!fit) return fail(common, fit.error());
    if (!words.output.empty()) {
      auto kept = write_file(words.output, print_profile(fitted_profile(piano, *fit)));
      if (!kept) return fail(common, kept.error());
    }
    say(common.json ? to_json(piano, *fit) : fit_text(piano, *fit));
    if (!words.output.empty() && !common.json) say_aside("written: " + words.output);
    return done;
  });
}

}  // namespace batten::cli
