// "brief": can this piano do what its sheet says, and what is to give way.
#pragma once

#include "app/brief_job.hpp"
#include "cli/command_line.hpp"

#include <string>

namespace batten::cli {

struct BriefWords {
  std::string where, map, accept, because;
};
int brief(const Common& common, const BriefWords& words);

// Lines of at most 100 columns.
std::string brief_text(const Piano& piano, const PianoBrief& brief, bool inches);

// Words in which lengths are millimetres ("0.30 mm"), with each of them in inches.
std::string in_inches(const std::string& text);

}  // namespace batten::cli
