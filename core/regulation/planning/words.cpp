#include "core/regulation/planning/words.hpp"

#include "core/quantities/text.hpp"
#include "core/regulation/planning/papers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace batten {
namespace {

struct PassWords {
  std::string_view name;
  // What is watched while the screw is tried; empty where nothing is turned.
  std::string_view watch;
};

// Indexed as the adjusters.
constexpr std::array<PassWords, note_adjuster_count> passes{{
    {"blow", "the hammer: raising the capstan lifts it"},
    {"key height", ""},
    {"dip", ""},
    {"jack position", "the jack: its top comes toward the player"},
    {"lever height", "the repetition lever: raising it leaves more room over the jack's top"},
    {"springs", ""},
    {"let-off",
     "the hammer in a slow press: earlier let-off turns it back farther from the string"},
    {"drop", "the hammer after let-off: more drop lets it fall farther"},
    {"checks", ""},
    {"dampers", ""},
}};

std::string folded(std::string_view text) {
  std::string out;
  for (const char c : text)
    if (c != ' ' && c != '-' && c != '_')
      out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return out;
}

// What the tolerance deserves: tenths where it is a quarter of a millimetre and more.
int decimals_of(Reading reading) {
  switch (reading) {
    case Reading::blow:
    case Reading::hammer_height:
    case Reading::string_height:
    case Reading::check_distance:
    case Reading::shank_gap:
      return 1;
    default:
      return 2;
  }
}

std::string_view direction(const AdjusterKind& kind, double amount) {
  return amount < 0 ? kind.negative : kind.positive;
}

std::string hand_words(Adjuster adjuster, double amount, const Threads& threads) {
  const auto hand = threads.of(adjuster, amount);
  if (!hand) return "";
  return *hand == Rotation::clockwise ? " clockwise" : " counter-clockwise";
}

// "0.25 + 0.08 mm"; the amount itself where no papers were chosen.
std::string paper_words(const Instruction& step) {
  if (step.papers.empty()) return amount_words(step.adjuster, step.amount, false);
  std::string text;
  for (const double p : step.papers)
    text += (text.empty() ? "" : " + ") + print_number(p, {.decimals = 2});
  return text + "\u202fmm";
}

std::string turn_words(const Instruction& step, const WordStyle& style) {
  const AdjusterKind& kind = kind_of(step.adjuster);
  const std::string dir(direction(kind, step.amount));
  const std::string much = amount_words(step.adjuster, step.amount, style.inches) +
                           hand_words(step.adjuster, step.amount, style.threads);
  switch (step.adjuster) {
    case Adjuster::capstan:
      return fmt::format("{} the capstan {}", dir, much);
    case Adjuster::balance_punchings:
      return fmt::format("{} {} of paper at the balance rail", dir, paper_words(step));
    case Adjuster::front_punchings:
      return fmt::format("{} {} of paper at the front rail", dir, paper_words(step));
    case Adjuster::jack_button:
      return fmt::format("turn the jack button {}, to {}", much, dir);
    case Adjuster::lever_height_button:
      return fmt::format("turn the lever's height button {}, to {}", much, dir);
    case Adjuster::repetition_spring:
      return fmt::format("{} the repetition spring by {}", dir, much);
    case Adjuster::let_off_button:
      return fmt::format("turn the let-off button {}, for {}", much, dir);
    case Adjuster::drop_screw:
      return fmt::format("turn the drop screw {}, for {}", much, dir);
    case Adjuster::back_check:
      return fmt::format("{} the back check, {} at its pad",
                         step.amount < 0 ? "bend away" : "bend in", much);
    case Adjuster::damper_wire:
      return fmt::format("set the damper {}, for {}", much, dir);
    default:
      return fmt::format("{}: {} {}", kind.name, dir, much);
  }
}

bool of_a_grade(Reading reading) { return kind_of(reading).unit == ReadingUnit::grade; }

// The reading whose name says what is wanted: the blow, also where the hammer's height is read.
Reading meant(const Instruction& step) {
  return step.reading == Reading::hammer_height ? Reading::blow : step.reading;
}

std::string asks_again(const Instruction& step) {
  if (step.kind != Instruction::Kind::turn || !step.read_after) return "";
  if (step.reading == Reading::hammer_height) return "; tap it and read its height again";
  return "; read it again";
}

}  // namespace

std::string_view pass_name(Adjuster adjuster) {
  return index_of(adjuster) < passes.size() ? passes[index_of(adjuster)].name
                                            : kind_of(adjuster).name;
}

std::optional<Adjuster> pass_by_name(std::string_view text) {
  const std::string wanted = folded(text);
  for (std::size_t k = 0; k < note_adjuster_count; ++k) {
    const auto a = static_cast<Adjuster>(k);
    const AdjusterKind& kind = kind_of(a);
    if (wanted == folded(passes[k].name) || wanted == folded(kind.code) ||
        wanted == folded(kind.name) || wanted == folded(kind_of(kind.sets).code))
      return a;
  }
  return std::nullopt;
}

std::string bare_value(Reading reading, double value, bool inches) {
  const ReadingKind& kind = kind_of(reading);
  const bool length = kind.unit == ReadingUnit::millimetre;
  if (length && inches) return print_number(value / 25.4, {.decimals = 3});
  if (of_a_grade(reading)) {
    const bool whole = std::abs(value - std::round(value)) < 0.05;
    return print_number(value, {.decimals = whole ? 0 : 1});
  }
  return print_number(value, {.decimals = decimals_of(reading)});
}

std::string unit_words(Reading reading, bool inches) {
  const ReadingKind& kind = kind_of(reading);
  if (kind.unit == ReadingUnit::millimetre) return inches ? "in" : "mm";
  if (kind.unit == ReadingUnit::gram_force) return "gf";
  if (kind.unit == ReadingUnit::fraction) return "of the blow";
  return "";
}

std::string value_words(Reading reading, double value, bool inches) {
  if (of_a_grade(reading)) return "grade " + bare_value(reading, value, inches);
  const std::string unit = unit_words(reading, inches);
  return bare_value(reading, value, inches) + (unit.empty() ? "" : "\u202f" + unit);
}

std::string spread_words(Reading reading, double spread, bool inches) {
  if (of_a_grade(reading)) return print_number(spread, {.decimals = 1}) + " of a grade";
  const bool length = kind_of(reading).unit == ReadingUnit::millimetre;
  if (length && inches) return print_inches(spread * millimetre);
  const std::string unit = unit_words(reading, inches);
  return print_number(spread, {.decimals = 2}) + (unit.empty() ? "" : "\u202f" + unit);
}

std::string change_words(Reading reading, double change, bool inches) {
  const std::string way = change < 0 ? " less" : " more";
  if (of_a_grade(reading))
    return print_number(std::abs(change), {.decimals = 1}) + " of a grade" + way;
  const bool length = kind_of(reading).unit == ReadingUnit::millimetre;
  if (length && inches) return print_inches(std::abs(change) * millimetre) + way;
  const std::string unit = unit_words(reading, inches);
  return print_number(std::abs(change), {.decimals = 2}) + (unit.empty() ? "" : "\u202f" + unit) +
         way;
}

std::string amount_words(Adjuster adjuster, double amount, bool inches) {
  const double size = std::abs(amount);
  switch (kind_of(adjuster).unit) {
    case MoveUnit::turns:
      return print_turns(size * turn, 64);
    case MoveUnit::millimetres:
      return inches ? print_inches(size * millimetre) : print_millimetres(size * millimetre);
    case MoveUnit::bend_steps: {
      const bool whole = std::abs(size - std::round(size)) < 0.05;
      return print_number(size, {.decimals = whole ? 0 : 1}) + (size < 1.05 ? " step" : " steps");
    }
  }
  return {};
}

std::string act_words(const Instruction& step, const WordStyle& style) {
  if (step.kind == Instruction::Kind::turn) return turn_words(step, style);
  const Reading r = step.reading;
  if (r == Reading::hammer_height) return "tap the hammer and read its height";
  return "read the " + std::string(kind_of(r).name);
}

double reading_goal(const Plan& plan, const Instruction& step) {
  if (step.reading != Reading::hammer_height) return step.after;
  const StringPlane& plane = plan.situation.plane;
  const auto i = static_cast<std::size_t>(plan.situation.compass.position(step.key));
  if (i >= plane.sd.size() || !std::isfinite(plane.sd[i].si()))
    return std::numeric_limits<double>::quiet_NaN();
  return (plane.height[i] - plane.offset[i]).in(millimetre)-step.after;
}

std::string goal_words(const Plan& plan, const Instruction& step, bool inches) {
  if (step.reading != Reading::hammer_height) return {};
  const double stands = reading_goal(plan, step);
  if (!std::isfinite(stands)) return {};
  return "crown to " + value_words(Reading::hammer_height, stands, inches);
}

std::string instruction_words(const Plan& plan, const Instruction& step, const WordStyle& style) {
  const Reading r = meant(step);
  std::string text = note_name(step.key) + ": " + act_words(step, style);
  const std::string name(kind_of(r).name);
  if (step.kind == Instruction::Kind::read) {
    const auto aim = aim_of(step.reading);
    const bool known = aim && plan.situation.at(step.key).read[index_of(*aim)];
    if (!known) return text + " – not read yet";
    text += fmt::format(" – {} reckoned {} ± {}", name, bare_value(r, step.before, style.inches),
                        spread_words(r, step.before_sd, style.inches));
    // What the gauge will show, so that a slip is seen at once.
    const double height = reading_goal(plan, step);
    if (step.reading == Reading::hammer_height && std::isfinite(height))
      text += ", crown about " + value_words(step.reading, height, style.inches);
    return text;
  }
  text += fmt::format(" – {} {} → {}", name, bare_value(r, step.before, style.inches),
                      value_words(r, step.after, style.inches));
  // Where later passes are to move it, this one stops short on purpose.
  if (std::abs(step.at_the_end - step.after) > 0.25 * step.tolerance)
    text +=
        fmt::format(", with the later passes {}", value_words(r, step.at_the_end, style.inches));
  text += ", wanted " + value_words(r, step.target, style.inches);
  if (const std::string goal = goal_words(plan, step, style.inches); !goal.empty())
    text += " (" + goal + ")";
  return text + asks_again(step);
}

std::string thread_question(Adjuster adjuster, const Threads& threads) {
  if (index_of(adjuster) >= note_adjuster_count) return {};
  const PassWords& words = passes[index_of(adjuster)];
  if (words.watch.empty() || threads.positive[index_of(adjuster)]) return {};
  return fmt::format(
      "Which way this screw turns is not on record for this piano. Turn the first one a little "
      "clockwise and watch {}. Then say which it was: batten set {} \"{} clockwise\" (or \"{} "
      "counter-clockwise\").",
      words.watch, thread_setting(adjuster), kind_of(adjuster).positive,
      kind_of(adjuster).positive);
}

std::string hold_words(const Hold& hold) {
  std::string text;
  switch (hold.reason) {
    case Hold::Reason::could_block:
      text = "the hammer could come too near the string and block";
      break;
    case Hold::Reason::could_not_let_go:
      text = "the key could meet its bottom before the hammer lets go";
      break;
    case Hold::Reason::could_be_carried:
      text = "the lever could carry the hammer on instead of letting it fall";
      break;
    case Hold::Reason::could_trap:
      text = "the jack might not come back under the knuckle";
      break;
    case Hold::Reason::could_rub:
      text = "the check could touch the hammer's tail on the way up";
      break;
    case Hold::Reason::beyond_limit:
      text = "it would go farther than it may in one visit: look for what else is wrong there";
      break;
    case Hold::Reason::response_doubted:
      text = "turns here do not do what they should: see the questions";
      break;
    case Hold::Reason::direction_unsure:
      text = "smaller than the readings can tell";
      break;
    case Hold::Reason::lacking:
      text = "the note has no such part";
      break;
  }
  if (hold.would_settle)
    text += "; reading the " + std::string(kind_of(*hold.would_settle).name) + " could release it";
  return text;
}

QuestionWords question_words(const Question& q, const WordStyle& style) {
  const bool height = q.reading == Reading::hammer_height;
  const Reading r = height ? Reading::blow : q.reading;
  const std::string note = note_name(q.key), what(kind_of(r).name);
  const AdjusterKind& kind = kind_of(q.adjuster);
  QuestionWords words;
  if (q.kind == Question::Kind::odd_reading) {
    words.happened =
        fmt::format("{}: {} was read as {}; {} ± {} was expected.", note, what,
                    value_words(r, q.seen, style.inches), bare_value(r, q.expected, style.inches),
                    value_words(r, q.expected_sd, style.inches));
    words.maybe =
        "A misread, a hammer that was not settled, or something has been moved that is not on "
        "record.";
    words.todo = fmt::format(
        "Tap the hammer and read the {} of {} again: if it stays, it is "
        "believed.",
        kind_of(q.reading).name, note);
    return words;
  }
  words.happened = fmt::format("{}: after the {} was moved its {} changed by {}; {} was expected.",
                               note, kind.name, what, change_words(r, q.seen, style.inches),
                               change_words(r, q.expected, style.inches));
  if (q.kind == Question::Kind::wrong_way) {
    words.maybe = kind.unit == MoveUnit::turns
                      ? "The screw may run the other way than was taken for granted, the move may "
                        "have been written down the wrong way round, or one reading is wrong."
                      : "The move may have been written down the wrong way round, or one reading "
                        "is wrong.";
  } else {
    words.maybe = kind.unit == MoveUnit::turns
                      ? "A loose or tight screw, an amount written down wrongly, a hammer that was "
                        "not settled, or a misread."
                      : "An amount written down wrongly, a part that was not seated, or a misread.";
  }
  words.todo = fmt::format(
      "Read the {} of {} once more. If it stays, look at the {} itself; a wrong entry is taken "
      "back with batten undo.",
      kind_of(q.reading).name, note, kind.name);
  return words;
}

std::string order_words(const OrderPlace& place) {
  const auto named = [](Adjuster a) {
    return a == Adjuster::front_punchings ? std::string("dip and aftertouch")
                                          : std::string(pass_name(a));
  };
  std::string text;
  if (place.spares) {
    const Adjuster spared = place.spares->adjuster;
    text = fmt::format(
        "Before {}: done later it would shift {} by {:.1f} of a tolerance on average.",
        named(spared), spared == Adjuster::front_punchings ? "them" : "that", place.spares->by);
  }
  if (place.disturbed)
    text += fmt::format(
        "{}What the later {} shifts of it, {:.1f} of a tolerance on average, is "
        "reckoned in.",
        text.empty() ? "" : " ", pass_name(place.disturbed->adjuster), place.disturbed->by);
  return text.empty()
             ? "Nothing that follows disturbs it, nor it them: it could as well come later."
             : text;
}

std::string order_words(const OrderReport& order, Adjuster adjuster) {
  return order_words(place_in_order(order, adjuster));
}

}  // namespace batten
