// A brief as JSON.
#pragma once

#include "app/brief_job.hpp"

#include <string>

namespace batten {

std::string to_json(const Piano& piano, const PianoBrief& brief);

}  // namespace batten
