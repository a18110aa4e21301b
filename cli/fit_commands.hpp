// "batten fit": a piano's action from its readings.
#pragma once

#include "app/fit_job.hpp"
#include "cli/command_line.hpp"

#include <string>

namespace batten::cli {

struct FitWords {
  std::string piano, profile, pairs, output;
};
int fit_action(const Common& common, const FitWords& words);

// Lines of at most 100 columns.
std::string fit_text(const Piano& piano, const PianoFit& fit);

}  // namespace batten::cli
