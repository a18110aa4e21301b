#include "core/quantities/text.hpp"
#include "core/regulation/planning/amounts.hpp"
#include "core/regulation/planning/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace batten {
namespace {

constexpr auto at(Aim aim) { return static_cast<Eigen::Index>(aim); }

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string percent(double share) {
  return print_number(100 * std::min(share, 0.999), {.decimals = share > 0.99 ? 1 : 0}) + "\u202f%";
}

std::string times(int n) { return n == 1 ? "once" : n == 2 ? "twice" : fmt::format("{} times", n); }

// "Blow 46.4 ± 0.2 mm, 0.9 mm more than wanted (45.5 mm); 97 % sure to lie outside 0.25 mm."
std::string off_words(const NoteState& note, Aim aim, double target, double tolerance,
                      bool inches) {
  const Reading r = reading_of(aim, note.key);
  const double off = note.at(aim) - target, sd = note.sd(aim);
  std::string text = fmt::format("{} {} ± {}", capital(std::string(kind_of(r).name)),
                                 bare_value(r, note.at(aim), inches), spread_words(r, sd, inches));
  text += fmt::format(", {} than the {} wanted", change_words(r, off, inches),
                      value_words(r, target, inches));
  text += fmt::format("; the chance that it lies outside {} either way is {}.",
                      spread_words(r, tolerance, inches),
                      percent(planning::chance_outside(off, sd, tolerance)));
  const int count = note.readings[index_of(aim)];
  if (count > 0)
    text += fmt::format(" Read {} since its adjuster was last moved.", times(count));
  else if (note.read[index_of(aim)])
    text += " Reckoned on from an earlier reading by what was moved since.";
  else
    text += " Never read here: this is what years usually do, no more.";
  return text;
}

// What one unit does to the adjuster's own aim, and whence that is known.
std::string turn_effect_words(const Plan& plan, const ActionModel& model, const NoteState& note,
                              Adjuster adjuster, bool inches) {
  const Situation& s = plan.situation;
  const UnitEffect unit = unit_effect(model, s.responses, note, adjuster);
  const Aim aim = aim_for(adjuster);
  const Reading r = reading_of(aim, note.key);
  const AdjusterKind& kind = kind_of(adjuster);
  const std::string_view one = kind.unit == MoveUnit::turns         ? "A whole turn"
                               : kind.unit == MoveUnit::millimetres ? "One millimetre"
                                                                    : "One step";
  std::string text = fmt::format(
      "{} ({}) makes the {} {} here, give or take {}.", one, kind.positive, kind_of(r).name,
      change_words(r, unit.change(at(aim)), inches), percent(unit.share_sd));
  const int here = s.responses.moves_seen(adjuster, note.reg);
  int elsewhere = -here;
  for (std::size_t reg = 0; reg < s.responses.registers(); ++reg)
    elsewhere += s.responses.moves_seen(adjuster, reg);
  const auto moves = [](int n) { return fmt::format("{} {}", n, n == 1 ? "move" : "moves"); };
  if (here > 0)
    text += fmt::format(" Learned from {} of this section read before and after.", moves(here));
  else if (elsewhere > 0)
    text += fmt::format(
        " Learned from {} of other sections read before and after; none of this one yet.",
        moves(elsewhere));
  else
    text +=
        " That is a first guess from the model of the action and a usual screw; the first moves "
        "that are read again will teach it.";
  return text;
}

std::string effects_words(const Instruction& step, bool inches) {
  if (step.effects.empty()) return "Nothing else by as much as a quarter of its tolerance.";
  std::string text;
  for (const Effect& e : step.effects) {
    const Reading r = reading_of(e.aim, step.key);
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", kind_of(r).name,
                        change_words(r, e.change, inches));
  }
  return capital(text) + "; that is reckoned in, here and in the passes that follow.";
}

void add_purpose(std::vector<Because>& list, Adjuster adjuster) {
  list.push_back({"Why this one", std::string(kind_of(adjuster).effect)});
}

std::vector<Because> why_read(const Plan& plan, const Instruction& step, const WordStyle& style) {
  std::vector<Because> list;
  const NoteState& note = plan.situation.at(step.key);
  const auto aim = aim_of(step.reading);
  const auto what = kind_of(step.reading);
  std::string why;
  if (aim && note.doubted[index_of(*aim)])
    why = "The last reading does not fit what was read and turned before.";
  else if (aim && !note.read[index_of(*aim)])
    why =
        "It has not been read here, and what is known of it does not tell whether it is inside "
        "its tolerance.";
  else if (note.unread_move[index_of(step.adjuster)])
    why = fmt::format("The {} was moved since it was last read.", kind_of(step.adjuster).name);
  else
    why = "What is known does not tell whether it lies inside or outside its tolerance.";
  for (const Hold& h : plan.holds)
    if (h.key == step.key && h.would_settle == step.reading)
      why += fmt::format(" A move of the {} waits for it: {}.", kind_of(h.adjuster).name,
                         hold_words(h));
  list.push_back({"Why read it", why});
  if (aim && note.read[index_of(*aim)])
    list.push_back(
        {"What is known", off_words(note, *aim, step.target, step.tolerance, style.inches)});
  list.push_back({"How", std::string(what.how)});
  list.push_back({"Why now", order_words(plan.order, step.adjuster)});
  return list;
}

}  // namespace

std::vector<Because> why_words(const Plan& plan, const ActionModel& model, const Instruction& step,
                               const WordStyle& style) {
  if (step.kind == Instruction::Kind::read) return why_read(plan, step, style);
  std::vector<Because> list;
  const NoteState& note = plan.situation.at(step.key);
  const Aim aim = aim_for(step.adjuster);
  list.push_back({"What is off", off_words(note, aim, step.target, step.tolerance, style.inches)});
  if (std::abs(step.at_the_end - step.target) > std::abs(step.before - step.target)) {
    std::string sake;
    for (const Effect& e : step.effects)
      sake +=
          (sake.empty() ? "" : " and ") + std::string(kind_of(reading_of(e.aim, step.key)).name);
    list.push_back(
        {"Why move what is right", "It gives way within its tolerance so that " +
                                       (sake.empty() ? std::string("the others") : sake) +
                                       " can come right with it."});
  }
  add_purpose(list, step.adjuster);
  list.push_back(
      {"What a turn does", turn_effect_words(plan, model, note, step.adjuster, style.inches)});
  list.push_back({"What else moves", effects_words(step, style.inches)});
  const Reading r = reading_of(aim, step.key);
  if (std::abs(step.at_the_end - step.after) > 0.25 * step.tolerance)
    list.push_back(
        {"Why not all the way",
         fmt::format("Right after the move {} stands at {}; the later passes take it to {}.",
                     kind_of(r).name, value_words(r, step.after, style.inches),
                     value_words(r, step.at_the_end, style.inches))});
  list.push_back({"Why now", order_words(plan.order, step.adjuster)});
  list.push_back(
      {"Afterwards",
       step.read_after
           ? fmt::format("Read the {} again: the amount cannot be vouched for.",
                         kind_of(step.reading).name)
           : "No reading is asked for: the amount is sure enough. A look along the line and a slow "
             "press are always worth it."});
  return list;
}

std::vector<Because> why_not_words(const Plan& plan, const ActionModel& model, Key key,
                                   Adjuster adjuster, const WordStyle& style) {
  const Situation& s = plan.situation;
  const NoteState& note = s.at(key);
  const planning::NoteTask task = planning::make_task(s, model, note);
  const Aim aim = aim_for(adjuster);
  std::vector<Because> list;
  std::string why;
  bool held = false;
  for (const Hold& h : plan.holds)
    if (h.key == key && h.adjuster == adjuster) {
      why += (held ? " Also: " : "A move is wanted and held: ") + hold_words(h) + ".";
      held = true;
    }
  const bool late = std::ranges::any_of(plan.left_for_time, [&](const Instruction& i) {
    return i.key == key && i.adjuster == adjuster;
  });
  if (std::ranges::find(s.line.out_of_service, key) != s.line.out_of_service.end())
    why = "The note is out of service.";
  else if (note.skipped[index_of(adjuster)])
    why = "It was knowingly left. A new reading there brings it back.";
  else if (late)
    why = "There is something to do, but in the minutes there are other work buys more evenness.";
  else if (!task.asked[index_of(aim)])
    why = "Nothing is asked of it: the note has no such part, or no target and tolerance.";
  else if (why.empty() && !plan.gate.open)
    why = "Nothing is moved before the preparation is passed.";
  else if (why.empty() && note.doubted[index_of(aim)])
    why = "Its last reading is doubted; nothing is moved on it.";
  else if (why.empty() && !note.read[index_of(aim)])
    why =
        "It has not been read, and what the other readings tell makes it likely enough to be "
        "inside.";
  else if (why.empty())
    why =
        "It lies inside its tolerance as surely as is asked for, or the move would be finer than "
        "a hand or than the readings can tell.";
  list.push_back({"Why nothing", why});
  if (task.asked[index_of(aim)])
    list.push_back({"What is known", off_words(note, aim, task.target(at(aim)),
                                               task.tolerance(at(aim)), style.inches)});
  list.push_back(
      {"What a turn does", turn_effect_words(plan, model, note, adjuster, style.inches)});
  return list;
}

}  // namespace batten
