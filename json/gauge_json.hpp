// Gauges that can be cut, as JSON. Lengths are millimetres; texts in the language asked for.
#pragma once

#include "app/gauge_job.hpp"

#include <cstdint>
#include <string>

namespace batten {

std::string to_json(const TemplateOffer& offer, std::int64_t revision);

}  // namespace batten
