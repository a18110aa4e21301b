#include "core/quantities/text.hpp"
#include "core/regulation/planning/reasons.hpp"
#include "core/regulation/planning/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace batten {
namespace {

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string percent(double share) {
  return print_number(100 * std::min(share, 0.999), {.decimals = share > 0.99 ? 1 : 0}) + "\u202f%";
}

std::string times(int n) { return n == 1 ? "once" : n == 2 ? "twice" : fmt::format("{} times", n); }

std::string moves(int n) { return fmt::format("{} {}", n, n == 1 ? "move" : "moves"); }

std::string name(Reading reading) { return std::string(kind_of(reading).name); }

// "Blow 46.4 ± 0.2 mm, 0.9 mm more than wanted (45.5 mm); 97 % sure to lie outside 0.25 mm."
std::string stands_words(const StandsAt& s, bool inches) {
  const Reading r = s.reading;
  std::string text = fmt::format("{} {} ± {}", capital(name(r)), bare_value(r, s.value, inches),
                                 spread_words(r, s.sd, inches));
  text += fmt::format(", {} than the {} wanted", change_words(r, s.value - s.target, inches),
                      value_words(r, s.target, inches));
  text += fmt::format("; the chance that it lies outside {} either way is {}.",
                      spread_words(r, s.tolerance, inches), percent(s.chance));
  if (s.readings > 0)
    text += fmt::format(" Read {} since its adjuster was last moved.", times(s.readings));
  else if (s.read)
    text += " Reckoned on from an earlier reading by what was moved since.";
  else
    text += " Never read here: this is what years usually do, no more.";
  return text;
}

std::string read_cause(const WhyRead& why) {
  using Cause = WhyRead::Cause;
  switch (why.cause) {
    case Cause::does_not_fit:
      return "The last reading does not fit what was read and turned before.";
    case Cause::never_read:
      return "It has not been read here, and what is known of it does not tell whether it is "
             "inside its tolerance.";
    case Cause::moved_since:
      return fmt::format("The {} was moved since it was last read.", kind_of(why.adjuster).name);
    case Cause::unsure:
      return "What is known does not tell whether it lies inside or outside its tolerance.";
  }
  return {};
}

std::string nothing_cause(const WhyNothing& why) {
  using Cause = WhyNothing::Cause;
  std::string held;
  switch (why.cause) {
    case Cause::held:
      for (const Hold& h : why.holds)
        held += (held.empty() ? "A move is wanted and held: " : " Also: ") + hold_words(h) + ".";
      return held;
    case Cause::out_of_service:
      return "The note is out of service.";
    case Cause::left_knowingly:
      return "It was knowingly left. A new reading there brings it back.";
    case Cause::no_time:
      return "There is something to do, but in the minutes there are other work buys more "
             "evenness.";
    case Cause::not_asked:
      return "Nothing is asked of it: the note has no such part, or no target and tolerance.";
    case Cause::gate_shut:
      return "Nothing is moved before the preparation is passed.";
    case Cause::doubted:
      return "Its last reading is doubted; nothing is moved on it.";
    case Cause::not_read:
      return "It has not been read, and what the other readings tell makes it likely enough to "
             "be inside.";
    case Cause::inside:
      return "It lies inside its tolerance as surely as is asked for, or the move would be finer "
             "than a hand or than the readings can tell.";
  }
  return {};
}

// One for each kind of fact.
struct Teller {
  bool inches = false;

  Because operator()(const WhatIsOff& f) const {
    return {"What is off", stands_words(f.stands, inches)};
  }
  Because operator()(const WhatIsKnown& f) const {
    return {"What is known", stands_words(f.stands, inches)};
  }
  Because operator()(const GivesWay& f) const {
    std::string sake;
    for (const Reading r : f.sake) sake += (sake.empty() ? "" : " and ") + name(r);
    return {"Why move what is right", "It gives way within its tolerance so that " +
                                          (sake.empty() ? std::string("the others") : sake) +
                                          " can come right with it."};
  }
  Because operator()(const Purpose& f) const {
    return {"Why this one", std::string(kind_of(f.adjuster).effect)};
  }
  Because operator()(const TurnDoes& f) const {
    const AdjusterKind& kind = kind_of(f.adjuster);
    const std::string_view one = kind.unit == MoveUnit::turns         ? "A whole turn"
                                 : kind.unit == MoveUnit::millimetres ? "One millimetre"
                                                                      : "One step";
    std::string text = fmt::format("{} ({}) makes the {} {} here, give or take {}.", one,
                                   kind.positive, name(f.reading),
                                   change_words(f.reading, f.change, inches), percent(f.share_sd));
    if (f.here > 0)
      text += fmt::format(" Learned from {} of this section read before and after.", moves(f.here));
    else if (f.elsewhere > 0)
      text += fmt::format(
          " Learned from {} of other sections read before and after; none of this one yet.",
          moves(f.elsewhere));
    else
      text +=
          " That is a first guess from the model of the action and a usual screw; the first moves "
          "that are read again will teach it.";
    return {"What a turn does", text};
  }
  Because operator()(const AlsoMoves& f) const {
    if (f.effects.empty())
      return {"What else moves", "Nothing else by as much as a quarter of its tolerance."};
    std::string text;
    for (const Effect& e : f.effects) {
      const Reading r = reading_of(e.aim, f.key);
      text += fmt::format("{}{} {}", text.empty() ? "" : ", ", name(r),
                          change_words(r, e.change, inches));
    }
    return {"What else moves",
            capital(text) + "; that is reckoned in, here and in the passes that follow."};
  }
  Because operator()(const LaterPasses& f) const {
    return {"Why not all the way",
            fmt::format("Right after the move {} stands at {}; the later passes take it to {}.",
                        name(f.reading), value_words(f.reading, f.after, inches),
                        value_words(f.reading, f.at_the_end, inches))};
  }
  Because operator()(const OrderPlace& f) const { return {"Why now", order_words(f)}; }
  Because operator()(const Afterwards& f) const {
    return {"Afterwards",
            f.read_again ? fmt::format("Read the {} again: the amount cannot be vouched for.",
                                       name(f.reading))
                         : "No reading is asked for: the amount is sure enough. A look along the "
                           "line and a slow press are always worth it."};
  }
  Because operator()(const WhyRead& f) const {
    std::string text = read_cause(f);
    for (const Hold& h : f.waiting)
      text += fmt::format(" A move of the {} waits for it: {}.", kind_of(h.adjuster).name,
                          hold_words(h));
    return {"Why read it", text};
  }
  Because operator()(const HowToRead& f) const {
    return {"How", std::string(kind_of(f.reading).how)};
  }
  Because operator()(const WhyNothing& f) const { return {"Why nothing", nothing_cause(f)}; }
};

std::vector<Because> told(const std::vector<Reason>& reasons, const WordStyle& style) {
  std::vector<Because> list;
  for (const Reason& reason : reasons) list.push_back(reason_words(reason, style));
  return list;
}

}  // namespace

Because reason_words(const Reason& reason, const WordStyle& style) {
  return std::visit(Teller{style.inches}, reason);
}

std::vector<Because> why_words(const Plan& plan, const ActionModel& model, const Instruction& step,
                               const WordStyle& style) {
  return told(reasons_for(plan, model, step), style);
}

std::vector<Because> why_not_words(const Plan& plan, const ActionModel& model, Key key,
                                   Adjuster adjuster, const WordStyle& style) {
  return told(reasons_for_nothing(plan, model, key, adjuster), style);
}

}  // namespace batten
