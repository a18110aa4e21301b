// "plan", "next", "done", "why": the whole regulation in words.
#pragma once

#include "app/plan_job.hpp"
#include "cli/command_line.hpp"

#include <optional>
#include <string>
#include <vector>

namespace batten::cli {

struct PlanWords {
  std::string minutes, pass;
  bool all = false;
};
struct DoneWords {
  std::vector<std::string> words;
  std::string skip, note;
  bool skipping = false;
};
struct WhyWords {
  std::string note, adjuster;
};

int plan(const Common& common, const PlanWords& words);
int next(const Common& common);
int answered(const Common& common, const DoneWords& words);
int why(const Common& common, const WhyWords& words);

struct PlanTextOptions {
  bool inches = false;
  bool all = false;              // every step of every pass
  std::optional<Adjuster> pass;  // only this one, whole
  std::optional<double> minutes;
};
// Lines of at most 100 columns.
std::string plan_text(const Piano& piano, const PianoPlan& plan, const PlanTextOptions& options);
std::string next_text(const PianoPlan& plan, bool inches);
std::string answered_text(const Answered& answered, bool inches);
std::string why_text(const PianoPlan& plan, const std::string& about,
                     const std::vector<Because>& because);

}  // namespace batten::cli
