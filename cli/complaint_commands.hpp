// "complaint": what a player feels, and what is behind it.
#pragma once

#include "app/complaint_job.hpp"
#include "cli/command_line.hpp"

#include <string>
#include <vector>

namespace batten::cli {

struct ComplaintWords {
  std::vector<std::string> words;  // [note [felt …]]
  std::vector<std::string> looks;
};
int complaint(const Common& common, const ComplaintWords& words);

// Lines of at most 100 columns.
std::string complaints_text();
std::string complaint_text(const Piano& piano, const PianoDiagnosis& found, bool inches);

}  // namespace batten::cli
