// Visits on record and two of them compared, as JSON. Values in the unit beside them, rounded to
// four decimals; times as "2026-11-25T13:00:00Z".
#pragma once

#include "app/visits_job.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace batten {

std::string visits_to_json(const Piano& piano, const std::vector<VisitOnRecord>& visits,
                           std::int64_t revision);
std::string to_json(const Piano& piano, const ComparedVisits& visits, std::int64_t revision);

}  // namespace batten
