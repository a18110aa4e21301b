#include "cli/history_text.hpp"
#include "cli/line_text.hpp"
#include "cli/plan_commands.hpp"
#include "cli/terminal.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/catalogue/preparation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <utility>

namespace batten::cli {

namespace {

constexpr std::size_t steps_shown = 4;

void heading(std::string& out, std::string_view text) {
  out += "\n" + inked(text, Ink::strong) + "\n";
}

std::string count(std::size_t n, const char* one, const char* many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string notes(const std::vector<Key>& keys) {
  std::string text;
  for (const Key k : keys) text += (text.empty() ? "" : " ") + note_name(k);
  return text;
}

// 0.97 of its tolerance: what the unevenness is counted in.
std::string share(double tolerances) { return print_number(tolerances, {.decimals = 2}); }

void say_state(std::string& out, const Piano& piano, const PianoPlan& p) {
  out += inked(piano.name, Ink::strong);
  if (!piano.place.empty()) out += " · " + piano.place;
  out += "\n" + wrapped(progress_words(p.plan, p.progress), "");
}

void say_gate(std::string& out, const PreparationGate& gate) {
  if (gate.open) return;
  heading(out, "First the preparation: nothing is turned before it is passed");
  for (const auto& item : gate.items)
    if (!item.passed) {
      out += "  [ ] " + std::string(kind_of(item.item).code) + "\n";
      out += wrapped(kind_of(item.item).how, "      ");
    }
}

void say_questions(std::string& out, const PianoPlan& p, bool inches) {
  if (p.plan.situation.questions.empty()) return;
  heading(out, "Questions only you can settle");
  for (const Question& q : p.plan.situation.questions) {
    const QuestionWords w = question_words(q, p.style(inches));
    out += wrapped(inked("? ", Ink::doubt) + w.happened + " " + w.maybe + " " + w.todo, "  ");
  }
}

std::string pass_work(const Pass& pass) {
  std::string text;
  if (pass.readings > 0)
    text = count(static_cast<std::size_t>(pass.readings), "reading", "readings");
  if (pass.moves > 0)
    text +=
        (text.empty() ? "" : ", ") + count(static_cast<std::size_t>(pass.moves), "move", "moves");
  return text;
}

void say_first(std::string& out, const PianoPlan& p, bool inches) {
  const Instruction* next = p.plan.next();
  if (next == nullptr) return;
  heading(out, "First");
  const WordStyle style = p.style(inches);
  out += wrapped(inked(instruction_words(p.plan, *next, style), Ink::move), "  ");
  if (next->kind == Instruction::Kind::turn)
    if (const std::string ask = thread_question(next->adjuster, p.threads); !ask.empty())
      out += wrapped(ask, "  ");
  for (const Because& b : why_words(p.plan, p.model, *next, style))
    if (b.heading == "What is off" || b.heading == "Why read it" || b.heading == "Why now")
      out += wrapped(b.heading + ": " + b.text, "  ");
  out += next->kind == Instruction::Kind::turn
             ? "  Then: batten done   (or what you did instead: batten done \"" +
                   std::string(kind_of(next->adjuster).positive) + " …\")\n"
             : "  Then: batten done VALUE\n";
}

void say_passes(std::string& out, const PianoPlan& p) {
  if (p.plan.passes.empty()) return;
  heading(out, "Passes, in this order");
  for (const Pass& pass : p.plan.passes) {
    out += fmt::format(
        "  {} {} {} {}\n", padded(pass_name(pass.adjuster), 14), padded(pass_work(pass), 24),
        right(print_minutes(pass.minutes), 9),
        pass.done > 0
            ? fmt::format("  {} done", count(static_cast<std::size_t>(pass.done), "note", "notes"))
            : "");
    out += wrapped(inked(order_words(p.plan.order, pass.adjuster), Ink::quiet), "      ");
  }
  out += fmt::format("  {} {} {}\n", padded("in all", 14), padded("", 24),
                     right(print_minutes(p.plan.minutes), 9));
}

void say_steps(std::string& out, const PianoPlan& p, const Pass& pass, std::size_t most,
               bool inches) {
  std::string name(pass_name(pass.adjuster));
  name[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(name[0])));
  heading(out, name + ": " + pass_work(pass));
  // Of a beginning: a reading or two, and the first few moves.
  const bool whole = most >= pass.steps.size();
  std::size_t number = 0, readings = 0, moves = 0, left = 0;
  for (const Instruction& step : pass.steps) {
    ++number;
    std::size_t& of_kind = step.kind == Instruction::Kind::turn ? moves : readings;
    if (!whole && of_kind == (&of_kind == &moves ? most : most / 2)) {
      ++left;
      continue;
    }
    ++of_kind;
    const std::string text = instruction_words(p.plan, step, p.style(inches));
    out += wrapped(fmt::format("{} {}", right(std::to_string(number), 3), text), " ");
  }
  if (left > 0)
    out += fmt::format("   … and {} more (batten plan --pass \"{}\")\n", left,
                       pass_name(pass.adjuster));
}

void say_holds(std::string& out, const Plan& plan) {
  if (plan.holds.empty()) return;
  std::map<std::string, std::vector<Key>> groups;
  for (const Hold& h : plan.holds)
    groups[std::string(pass_name(h.adjuster)) + ": " + hold_words(h)].push_back(h.key);
  heading(out, "Held back, so that nothing is harmed");
  for (auto& [words, keys] : groups) {
    std::sort(keys.begin(), keys.end());
    keys.erase(std::unique(keys.begin(), keys.end()), keys.end());
    out += wrapped(words + " (" + notes(keys) + ").", "  ");
  }
}

std::string order_list(const std::vector<Adjuster>& order) {
  std::string text;
  for (const Adjuster a : order) text += (text.empty() ? "" : ", ") + std::string(pass_name(a));
  return text;
}

void say_order(std::string& out, const OrderReport& order) {
  heading(out, "Why this order");
  if (order.derived == order.common) {
    out += wrapped(
        fmt::format("It is also that of common practice; what later passes undo of earlier ones "
                    "comes to {} tolerances a note, which is reckoned in.",
                    share(order.rework_derived)),
        "  ");
    return;
  }
  out += wrapped("Computed from what moves what on this action: " + order_list(order.derived) + ".",
                 "  ");
  out += wrapped("Common practice: " + order_list(order.common) + ".", "  ");
  out += wrapped(
      fmt::format("Later passes undo {} tolerances a note of what earlier ones set; in the common "
                  "order it would be {}.",
                  share(order.rework_derived), share(order.rework_common)),
      "  ");
}

void say_evenness(std::string& out, const PianoPlan& p, const PlanTextOptions& options) {
  const Plan& plan = p.plan;
  heading(out, options.minutes ? "In " + print_minutes(*options.minutes) : "What it brings");
  if (options.minutes) {
    std::map<Adjuster, std::size_t> left;
    for (const Instruction& i : plan.left_for_time) ++left[i.adjuster];
    std::string text;
    for (const Adjuster a : plan.order.derived)
      if (left.contains(a))
        text += fmt::format("{}{} of {}", text.empty() ? "" : ", ", count(left[a], "step", "steps"),
                            pass_name(a));
    if (text.empty())
      out += "  All of it fits.\n";
    else
      out += wrapped(fmt::format("Left out, because other work buys more evenness: {}. All of it "
                                 "would take {}.",
                                 text, print_minutes(p.minutes_of_all)),
                     "  ");
  }
  out += wrapped(fmt::format("Unevenness, in tolerances (1 is just inside): {} as it stands, {} "
                             "when this is done{}.",
                             share(plan.unevenness), share(plan.unevenness_after),
                             options.minutes ? fmt::format(", {} were all of it done",
                                                           share(p.unevenness_of_all))
                                             : std::string()),
                 "  ");
  out += inked("  " + padded("", 16) + right("read", 9) + right("likely outside", 16) +
                   right("now", 7) + right("after", 7),
               Ink::quiet) +
         "\n";
  for (const AimSummary& a : plan.aims)
    out += "  " + padded(kind_of(reading_of(a.aim, Key{40})).name, 16) +
           right(fmt::format("{} of {}", a.read, a.notes), 9) +
           right(fmt::format("{:.0f}", a.expected_outside), 16) + right(share(a.unevenness), 7) +
           right(share(a.unevenness_after), 7) + "\n";
  out += "  What was not read counts as on its target, give or take what years do.\n";
}

void say_model(std::string& out, const PianoPlan& p) {
  heading(out, "What it rests on");
  out += wrapped(rests_on(p), "  ");
}

void say_hands(std::string& out, const PianoPlan& p) {
  if (!p.rest) return;
  heading(out, "Your hands");
  out += wrapped(print_rest(*p.rest), "  ");
}

void say_cautions(std::string& out, const std::vector<Caution>& cautions) {
  if (cautions.empty()) return;
  heading(out, "Mind");
  for (const Caution c : cautions)
    out += wrapped(std::string(text_of(c).heading) + ". " + std::string(text_of(c).text), "  ");
}

// Those of one adjuster, where the hand is about to use it.
std::vector<Caution> cautions_at(Adjuster adjuster) {
  std::vector<Caution> list;
  for (const Caution c : kind_of(adjuster).cautions)
    if (std::ranges::find(list, c) == list.end()) list.push_back(c);
  return list;
}

}  // namespace

std::string plan_text(const Piano& piano, const PianoPlan& p, const PlanTextOptions& options) {
  std::string out;
  if (options.pass) {
    const auto pass = std::ranges::find_if(
        p.plan.passes, [&](const Pass& x) { return x.adjuster == *options.pass; });
    if (pass == p.plan.passes.end())
      return fmt::format("Nothing is asked for in the pass \"{}\".\n", pass_name(*options.pass));
    say_cautions(out, cautions_at(pass->adjuster));
    if (const std::string ask = thread_question(pass->adjuster, p.threads);
        !ask.empty() && pass->moves > 0)
      out += wrapped(ask, "  ");
    say_steps(out, p, *pass, pass->steps.size(), options.inches);
    out += wrapped("Why here: " + order_words(p.plan.order, pass->adjuster), "  ");
    return out.starts_with('\n') ? out.substr(1) : out;
  }
  say_state(out, piano, p);
  say_gate(out, p.plan.gate);
  say_questions(out, p, options.inches);
  if (p.line) out += look_first_text(*p.line, options.inches);
  say_first(out, p, options.inches);
  say_passes(out, p);
  const std::size_t most = options.all ? static_cast<std::size_t>(-1) : steps_shown;
  for (std::size_t i = 0; i < p.plan.passes.size(); ++i)
    if (options.all || i == 0) say_steps(out, p, p.plan.passes[i], most, options.inches);
  say_holds(out, p.plan);
  say_evenness(out, p, options);
  say_order(out, p.plan.order);
  say_model(out, p);
  say_hands(out, p);
  say_cautions(out, p.plan.cautions);
  return out;
}

std::string next_text(const PianoPlan& p, bool inches) {
  const Instruction* next = p.plan.next();
  std::string out;
  if (next == nullptr) return wrapped(progress_words(p.plan, p.progress), "");
  const WordStyle style = p.style(inches);
  out += wrapped(inked(instruction_words(p.plan, *next, style), Ink::move), "");
  if (next->kind == Instruction::Kind::turn) {
    if (const std::string ask = thread_question(next->adjuster, p.threads); !ask.empty())
      out += wrapped(ask, "  ");
    // Before the first move of a pass, where the hand is about to do the risky thing.
    const auto pass = std::ranges::find_if(
        p.plan.passes, [&](const Pass& x) { return x.adjuster == next->adjuster; });
    if (pass != p.plan.passes.end() && pass->done == 0)
      for (const Caution c : cautions_at(next->adjuster))
        out += wrapped(std::string(text_of(c).heading) + ". " + std::string(text_of(c).text), "  ");
  } else {
    out += wrapped(kind_of(next->reading).how, "  ");
  }
  const Pass& pass = p.plan.passes.front();
  return out + fmt::format("  {}: {} left, {}; in all {}.\n", pass_name(pass.adjuster),
                           pass_work(pass), print_minutes(pass.minutes),
                           print_minutes(p.plan.minutes));
}

std::string answered_text(const Answered& a, bool inches) {
  std::string out;
  const std::string asked =
      note_name(a.instruction.key) + ": " + act_words(a.instruction, a.now.style(inches));
  out += fmt::format("asked: {}{}\n", asked, a.as_asked ? "" : "  – not as asked");
  for (const Entry& e : a.kept) out += "kept: " + entry_text(e.content) + "\n";
  for (const Question& q : a.now.plan.situation.questions)
    if (q.key == a.instruction.key) {
      const QuestionWords w = question_words(q, a.now.style(inches));
      out += wrapped("? " + w.happened + " " + w.maybe + " " + w.todo, "");
    }
  const Instruction* next = a.now.plan.next();
  out += next != nullptr
             ? wrapped("next: " + instruction_words(a.now.plan, *next, a.now.style(inches)), "")
             : wrapped(progress_words(a.now.plan, a.now.progress), "");
  return out;
}

std::string why_text(const PianoPlan& p, const std::string& about,
                     const std::vector<Because>& because) {
  std::string out = wrapped(inked(about, Ink::strong), "");
  for (const Because& b : because) {
    out += inked(b.heading, Ink::quiet) + "\n";
    out += wrapped(b.text, "  ");
  }
  if (!p.profile_chosen)
    out += wrapped("The action's figures are those of the stored profile \"" + p.profile +
                       "\", a first guess for this piano.",
                   "");
  return out;
}

}  // namespace batten::cli
