// What a player can feel, and what is behind it, as JSON.
#pragma once

#include "app/complaint_job.hpp"

#include <string>

namespace batten {

std::string complaints_to_json();
std::string to_json(const Piano& piano, const PianoDiagnosis& found);

}  // namespace batten
