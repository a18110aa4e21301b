// The whole regulation: what to read and turn next and why, and the answer of the hand.
#pragma once

#include "app/desk.hpp"
#include "app/line_job.hpp"
#include "core/regulation/planning/plan.hpp"
#include "core/regulation/planning/progress.hpp"
#include "core/regulation/planning/rest.hpp"
#include "core/regulation/planning/words.hpp"

#include <optional>
#include <string>
#include <vector>

namespace batten {

struct PlanRequest {
  std::optional<double> minutes;  // there are; nothing: all of it
};

struct PianoPlan {
  Standing standing;
  ActionModel model;
  Plan plan;
  // With minutes given: what all of the work would be.
  double minutes_of_all = 0, unevenness_of_all = 0;
  JobProgress progress;
  Threads threads;
  std::string profile;           // whose figures the model has
  bool profile_chosen = false;   // set for this piano; else "medium" stands in
  std::optional<RestPlan> rest;  // nothing without moves
  std::optional<Line> line;      // doubts about the strings, and which of them to read
  // Paces learned from the journal, how many adjusters and readings; the rest are first guesses.
  std::size_t paces_learned = 0;

  WordStyle style(bool inches) const { return {inches, threads}; }
};

// Minutes from text: "150", "150 min", "2 h 30", "2.5 h". Error: cannot be read, none, over a day.
Result<double> parse_minutes(const std::string& text);

// Errors: settings that cannot be read, sections missing, an action profile that is gone.
Result<PianoPlan> plan_work(Desk& desk, const Piano& piano, const PlanRequest& request = {});

// Whose figures the model has where none is set for the piano.
inline constexpr const char* stand_in_profile = "medium";

// The action of what stands on record: the profile set, or "medium" in its stead, regulated to the
// targets. Errors: as plan_work.
struct ModelOnRecord {
  ActionModel action;
  std::string profile;
  bool chosen = false;
};
Result<ModelOnRecord> model_on_record(const Standing& standing, const Piano& piano);

// plan_work of a journal read already, with a model calculated already.
Result<PianoPlan> plan_standing(Desk& desk, const Piano& piano, Standing standing,
                                const ActionModel& model, const PlanRequest& request = {});

// What the hand says to the next instruction.
struct Answer {
  // Nothing: done as asked (a move only). A move's amount with its direction ("raise 1/32") where
  // the hand did something else; a value where a reading was taken; both behind each other for a
  // move read again at once.
  std::vector<std::string> words = {};
  std::string note = {};  // the note it is meant for; empty: whichever is next
  bool skip = false;
  std::string reason = {};  // needed when skipped
};

struct Answered {
  Instruction instruction;  // that was answered
  std::vector<Entry> kept;  // in one durable step
  bool as_asked = true;
  PianoPlan now;  // made again
};

// Writes down what was done to the next instruction of the plan. Errors, nothing being written: no
// instruction is left, it is at another note, a reading without its value, a value that cannot be,
// an amount without direction or of another unit, a skip without reason.
Result<Answered> answer_next(Desk& desk, const Piano& piano, const Answer& answer);

// Writes the sheet of every pass, or of one (only its steps, after the same head). Returns the
// number of pages. Errors: as plan_work, a file that cannot be written.
Result<int> write_plan_sheet(Desk& desk, const Piano& piano, const std::filesystem::path& file,
                             SheetRequest request, std::optional<Adjuster> pass = {});

// What the figures rest on: whose action, and what is a first guess.
std::string rests_on(const PianoPlan& plan);

// Instruction of the plan at a note, of one adjuster or the first; nothing if there is none.
const Instruction* find_instruction(const Plan& plan, Key key, std::optional<Adjuster> adjuster);

}  // namespace batten
