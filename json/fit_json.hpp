// A fit of a profile to a piano as JSON.
#pragma once

#include "app/fit_job.hpp"

#include <string>

namespace batten {

std::string to_json(const Piano& piano, const PianoFit& fit);

}  // namespace batten
