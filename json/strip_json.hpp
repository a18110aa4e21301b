// Every note of a piano, by column, and what to read next, as JSON. Lengths are millimetres, other
// values in the unit beside them, rounded to four decimals; what is not known is null.
#pragma once

#include "app/plan_job.hpp"
#include "app/read_next.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace batten {

// Columns have one place for each key of the compass, lowest first. Of the aims: `read` is the last
// reading since its own adjuster was turned, `mean` and `sd` what is believed now.
std::string strip_to_json(const Piano& piano, const PianoPlan& plan, std::int64_t revision);
// Of a piano no plan can be made for yet: its keys, and what is lacking.
std::string strip_to_json(const Piano& piano, const Problem& lacking, std::int64_t revision);

std::string read_next_to_json(const std::vector<ReadingWanted>& wanted,
                              const std::vector<ReadingProgress>& progress, std::int64_t revision);
std::string read_next_to_json(const Problem& lacking, std::int64_t revision);

}  // namespace batten
