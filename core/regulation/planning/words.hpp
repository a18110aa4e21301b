// A plan told as a colleague would tell it: short sentences, plain words, units always.
#pragma once

#include "core/regulation/planning/plan.hpp"
#include "core/regulation/planning/reasons.hpp"
#include "core/regulation/planning/threads.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

struct WordStyle {
  bool inches = false;
  Threads threads = {};
};

// "blow", "springs", "lever height": what a pass is called. By that name or the adjuster's code,
// blanks, '-' and letter case forgiven; nothing if neither.
std::string_view pass_name(Adjuster adjuster);
std::optional<Adjuster> pass_by_name(std::string_view text);

// "46.4 mm", "grade 2", "0.50": to as many decimals as its tolerance deserves.
std::string value_words(Reading reading, double value, bool inches);
// Without its unit; `unit_words` is "mm", "in" or "".
std::string bare_value(Reading reading, double value, bool inches);
std::string unit_words(Reading reading, bool inches);
// A spread or a tolerance, finer than the value itself: "0.25 mm".
std::string spread_words(Reading reading, double spread, bool inches);
// "0.25 mm more", "0.5 of a grade less"
std::string change_words(Reading reading, double change, bool inches);
// "3⁄64 turn", "0.10 mm", "2 steps": without direction.
std::string amount_words(Adjuster adjuster, double amount, bool inches);

// What the hand does: "raise the capstan 3⁄64 turn, clockwise", "add 0.25 + 0.08 mm of paper at the
// front rail", "read the blow".
std::string act_words(const Instruction& step, const WordStyle& style);
// "C4: raise the capstan 3⁄64 turn – blow 46.4 → 45.6 mm, wanted 45.5 mm; read it again"
std::string instruction_words(const Plan& plan, const Instruction& step, const WordStyle& style);
// Where the hammer's crown should come to, in the datum hammers are read over, and nothing where
// the blow is held by a block; other readings the value itself. "crown to 86.4 mm"
std::string goal_words(const Plan& plan, const Instruction& step, bool inches);

// What should be read right after a move, in its reading's own unit: over the datum hammers are
// read over for a hammer height; NaN where the strings there are not known.
double reading_goal(const Plan& plan, const Instruction& step);

// What to watch to know which way a screw turns, while that is not on record; else empty. Three
// short sentences that end with what to type.
std::string thread_question(Adjuster adjuster, const Threads& threads);

// Why a move that is wanted is not asked for, and what would release it.
std::string hold_words(const Hold& hold);
// What was expected, what was seen, what could be the matter and what to do.
struct QuestionWords {
  std::string happened, maybe, todo;
};
QuestionWords question_words(const Question& question, const WordStyle& style);

// Why the pass stands where it stands, a sentence.
std::string order_words(const OrderPlace& place);
std::string order_words(const OrderReport& order, Adjuster adjuster);

struct Because {
  std::string heading, text;
};
Because reason_words(const Reason& reason, const WordStyle& style);
// All that may be asked of an instruction: what is off and how sure that is, why this adjuster,
// what it moves besides, why now, what a turn does here and whence that is known, what would be
// looked at afterwards.
std::vector<Because> why_words(const Plan& plan, const ActionModel& model, const Instruction& step,
                               const WordStyle& style);
// The same of an adjuster at a note of which nothing is asked: what is known of it, and why it is
// left.
std::vector<Because> why_not_words(const Plan& plan, const ActionModel& model, Key key,
                                   Adjuster adjuster, const WordStyle& style);

}  // namespace batten
