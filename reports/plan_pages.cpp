#include "reports/plan_pages.hpp"

#include "core/regulation/planning/progress.hpp"
#include "core/regulation/planning/words.hpp"
#include "reports/flow.hpp"
#include "reports/notes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <map>
#include <set>

namespace batten::paper {
namespace {

constexpr double gutter = 15, gap = 6;
constexpr double move_row = 23, read_row = 20.5, head_height = 25;
constexpr double amount_size = 15;

std::string capital(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

void flow_words(Flow& flow, const std::string& lead, const std::string& words) {
  if (lead.empty() && words.empty()) return;
  const double height = flow.page().paragraph_height(flow.width(), lead, words);
  flow.need(height);
  flow.page().paragraph(flow.left(), flow.y, flow.width(), lead, words);
  flow.y += height + gap;
}

std::string work_of(const Pass& pass) {
  std::string text;
  if (pass.readings > 0)
    text = counted(static_cast<std::size_t>(pass.readings), "reading", "readings");
  if (pass.moves > 0)
    text +=
        (text.empty() ? "" : ", ") + counted(static_cast<std::size_t>(pass.moves), "move", "moves");
  return text;
}

void flow_passes(Flow& flow, const Plan& plan) {
  if (plan.passes.empty()) return;
  flow.headline("Passes, in this order", 3 * 18);
  const double height = 18;
  int number = 0;
  for (const Pass& pass : plan.passes) {
    flow.need(height);
    Page& page = flow.page();
    const double y = flow.y;
    page.text({flow.left(), y, 18, height}, std::to_string(++number), {.grey = quiet});
    page.text({flow.left() + 20, y, 120, height}, capital(std::string(pass_name(pass.adjuster))),
              {.bold = true});
    page.text({flow.left() + 144, y, 170, height}, work_of(pass));
    page.text({flow.left() + 318, y, 80, height}, print_minutes(pass.minutes), {}, Align::right);
    if (pass.done > 0)
      page.text({flow.left() + 408, y, flow.width() - 408, height},
                counted(static_cast<std::size_t>(pass.done), "note", "notes") + " done",
                {.grey = quiet});
    page.line(flow.left(), y + height, flow.left() + flow.width(), y + height, 0.3, 0.7);
    flow.y += height;
  }
  flow.need(height);
  flow.page().text({flow.left() + 318, flow.y, 80, height}, print_minutes(plan.minutes),
                   {.bold = true}, Align::right);
  flow.page().text({flow.left() + 20, flow.y, 200, height}, "In all", {.bold = true});
  flow.y += height + 8;
}

void flow_questions(Flow& flow, const Plan& plan, const WordStyle& style) {
  if (plan.situation.questions.empty()) return;
  flow.headline("Questions only you can settle", 30);
  for (const Question& q : plan.situation.questions) {
    const QuestionWords w = question_words(q, style);
    const double indent = tick_size + 7;
    const std::string text = w.maybe + " " + w.todo;
    const double height =
        std::max(flow.page().paragraph_height(flow.width() - indent, w.happened, text), tick_size);
    flow.need(height);
    flow.page().tick_box(flow.left(), flow.y);
    flow.page().paragraph(flow.left() + indent, flow.y + 0.5, flow.width() - indent, w.happened,
                          text);
    flow.y += height + gap;
  }
}

void flow_holds(Flow& flow, const Plan& plan) {
  if (plan.holds.empty()) return;
  std::map<std::string, std::vector<Key>> groups;
  for (const Hold& h : plan.holds)
    groups[capital(std::string(pass_name(h.adjuster))) + ": " + hold_words(h)].push_back(h.key);
  flow.headline("Held back, so that nothing is harmed", 30);
  for (auto& [words, keys] : groups) {
    std::sort(keys.begin(), keys.end());
    keys.erase(std::unique(keys.begin(), keys.end()), keys.end());
    flow_words(flow, note_list(keys), words + ".");
  }
  flow.y += 4;
}

Reading meant(Reading reading) {
  return reading == Reading::hammer_height ? Reading::blow : reading;
}

struct Span {
  double left = 0, right = 0;
  double width() const { return right - left; }
};

// Across one column of moves, from its left edge.
struct Columns {
  Span step, note, verb, amount, after, blank;
};

// What is read after the move; the two ways of reading a blow are told apart by a letter.
std::string after_words(const Plan& plan, const Instruction& step, Units units) {
  const double value = reading_goal(plan, step);
  if (!std::isfinite(value)) return "–";
  const std::string text = bare_value(step.reading, value, units.inches);
  if (step.adjuster != Adjuster::capstan) return text;
  return (step.reading == Reading::hammer_height ? "c " : "b ") + text;
}

Columns measure(const Page& page, const Plan& plan, const std::vector<const Instruction*>& moves,
                Units units, double width) {
  const Instruction& first = *moves.front();
  const Type head{.size = small};
  double verb = 0, amount = page.text_width(amount_unit(first.adjuster, units), head);
  double after = std::max(page.text_width("then", head),
                          page.text_width(unit_words(meant(first.reading), units.inches), head));
  for (const Instruction* i : moves) {
    verb = std::max(verb, page.text_width(short_direction(i->adjuster, i->amount)));
    amount = std::max(
        amount, page.text_width(short_amount(*i, units), {.size = amount_size, .bold = true}));
    after = std::max(after, page.text_width(after_words(plan, *i, units)));
  }
  Columns c;
  double x = tick_size + 3;
  const auto take = [&x](double room, double between) {
    const Span span{x, x + room};
    x += room + between;
    return span;
  };
  c.step = take(page.text_width("88", {.size = small}) + 1, 5);
  c.note = take(page.text_width("G♯7", {.size = strong, .bold = true}) + 2, 5);
  c.verb = take(verb + 1, 6);
  c.amount = take(amount + 1, 9);
  c.after = take(after + 1, 8);
  c.blank = {x, width};
  return c;
}

void draw_move_head(Page& page, double left, double top, const Columns& c, Adjuster adjuster,
                    const std::string& reading_unit, Units units) {
  const auto cell = [&](Span s, double row) {
    return Box{left + s.left, top + 11 * row, s.width(), 11};
  };
  const Type head{.size = small};
  page.text({left, top + 11, c.note.left - 2, 11}, "done", head);
  page.text(cell({c.note.left, c.verb.left - 2}, 1), "note", head);
  page.text(cell({c.verb.left, c.amount.left - 2}, 1), "do", head);
  page.text(cell(c.amount, 1), amount_unit(adjuster, units), head, Align::right);
  page.text(cell(c.after, 0), "then", head, Align::right);
  page.text(cell(c.after, 1), reading_unit, head, Align::right);
  page.text(cell(c.blank, 1), "read", head);
  const double y = top + head_height - 2;
  page.line(left, y, left + c.blank.right, y, 1.1);
}

void draw_move(Page& page, double left, double top, const Columns& c, const Plan& plan,
               const Instruction& step, int number, Units units) {
  const double middle = top + move_row / 2, foot = top + move_row;
  const auto cell = [&](Span s) { return Box{left + s.left, top + 1, s.width(), move_row - 2}; };
  page.tick_box(left, middle - tick_size / 2);
  page.text(cell(c.step), std::to_string(number), {.size = small, .grey = quiet}, Align::right);
  page.text(cell(c.note), note_label(step.key), {.size = strong, .bold = true});
  page.text(cell(c.verb), short_direction(step.adjuster, step.amount));
  page.text(cell(c.amount), short_amount(step, units), {.size = amount_size, .bold = true},
            Align::right);
  page.text(cell(c.after), after_words(plan, step, units), {}, Align::right);
  page.line(left, foot, left + c.blank.left - 4, foot, 0.3, 0.7);
  // Where it must be read again the line to write on is heavier.
  page.line(left + c.blank.left, foot - 2, left + c.blank.right, foot - 2,
            step.read_after ? 1.4 : 0.4, step.read_after ? black : rule_grey);
}

// Rows into `columns` columns down a page and on to the next; `draw` draws row i at its place.
template <class Head, class Row>
void flow_rows(Flow& flow, std::size_t rows, std::size_t columns, double row_height, double head,
               Head&& draw_head, Row&& draw_row) {
  const double column_width =
      (flow.width() - gutter * static_cast<double>(columns - 1)) / static_cast<double>(columns);
  std::size_t from = 0;
  while (from < rows) {
    flow.need(head + 2 * row_height);
    const auto fits = static_cast<std::size_t>(std::max(1.0, (flow.room() - head) / row_height));
    const std::size_t left = rows - from;
    const std::size_t high = std::min(fits, (left + columns - 1) / columns);
    for (std::size_t c = 0; c < columns && from < rows; ++c) {
      const double x = flow.left() + static_cast<double>(c) * (column_width + gutter);
      draw_head(x, flow.y);
      for (std::size_t r = 0; r < high && from < rows; ++r, ++from)
        draw_row(from, x, flow.y + head + static_cast<double>(r) * row_height, column_width);
    }
    flow.y += head + static_cast<double>(high) * row_height + 8;
    if (from < rows) flow.new_page();
  }
}

// By kind, each in working order: what a gauge is taken up for once.
void flow_readings(Flow& flow, const std::vector<const Instruction*>& readings, Units units) {
  std::vector<Reading> kinds;
  for (const Instruction* i : readings)
    if (std::ranges::find(kinds, i->reading) == kinds.end()) kinds.push_back(i->reading);
  for (const Reading kind : kinds) {
    std::vector<const Instruction*> notes;
    for (const Instruction* i : readings)
      if (i->reading == kind) notes.push_back(i);
    const std::string unit = unit_words(kind, units.inches);
    flow.need(17 + 2 * read_row);
    flow.page().text(
        {flow.left(), flow.y, flow.width(), 15},
        "Read the " + std::string(kind_of(kind).name) + (unit.empty() ? "" : ", " + unit) + ":",
        {.size = reading});
    flow.y += 17;
    flow_rows(
        flow, notes.size(), 5, read_row, 0, [](double, double) {},
        [&](std::size_t i, double left, double top, double width) {
          Page& page = flow.page();
          page.tick_box(left, top + (read_row - tick_size) / 2);
          page.text({left + tick_size + 5, top, 32, read_row}, note_label(notes[i]->key),
                    {.size = strong, .bold = true});
          const double from = left + tick_size + 5 + 34;
          page.line(from, top + read_row - 3, left + width, top + read_row - 3, 0.8, quiet);
        });
  }
}

void flow_moves(Flow& flow, const Plan& plan, const std::vector<const Instruction*>& moves,
                Units units) {
  if (moves.empty()) return;
  // Beside each other where there is room to write, else one below the other.
  constexpr double least_blank = 24;
  std::size_t beside = 2;
  Columns columns = measure(flow.page(), plan, moves, units, (flow.width() - gutter) / 2);
  if (columns.blank.width() < least_blank) {
    beside = 1;
    columns = measure(flow.page(), plan, moves, units, flow.width());
  }
  const Adjuster adjuster = moves.front()->adjuster;
  const std::string unit = unit_words(meant(moves.front()->reading), units.inches);
  flow_rows(
      flow, moves.size(), beside, move_row, head_height,
      [&](double left, double top) {
        draw_move_head(flow.page(), left, top, columns, adjuster, unit, units);
      },
      [&](std::size_t i, double left, double top, double) {
        draw_move(flow.page(), left, top, columns, plan, *moves[i], static_cast<int>(i) + 1, units);
      });
}

void flow_pass(Flow& flow, const Plan& plan, const Pass& pass, const PlanSheetWords& words,
               Units units, std::set<Caution>& told) {
  const std::string why = order_words(plan.order, pass.adjuster);
  const double why_height = flow.page().paragraph_height(flow.width(), "Why here", why);
  flow.headline(capital(std::string(pass_name(pass.adjuster))) + ": " + work_of(pass) + ", " +
                    print_minutes(pass.minutes),
                why_height + head_height + 3 * move_row);
  flow_words(flow, "Why here", why);
  std::vector<const Instruction*> readings, moves;
  for (const Instruction& step : pass.steps)
    (step.kind == Instruction::Kind::turn ? moves : readings).push_back(&step);
  flow_readings(flow, readings, units);
  if (!moves.empty()) {
    if (const std::string ask = thread_question(pass.adjuster, words.threads); !ask.empty())
      flow_words(flow, "First", ask);
    if (const auto hand = words.threads.of(pass.adjuster, 1))
      flow_words(
          flow, capital(std::string(kind_of(pass.adjuster).positive)),
          *hand == Rotation::clockwise ? "turns clockwise here." : "turns counter-clockwise here.");
    // Whole at the first pass that needs it, named at the others.
    for (const Caution c : kind_of(pass.adjuster).cautions)
      if (told.insert(c).second)
        flow_words(flow, std::string(text_of(c).heading), std::string(text_of(c).text));
      else
        flow_words(flow, std::string(text_of(c).heading), "as told above.");
    if (pass.adjuster == Adjuster::capstan)
      flow_words(
          flow, "",
          "Then: c is the crown's height over the datum hammers are read over, b the blow by "
          "the block.");
  }
  // A pass of let-off may hold turns of the drop screw, which go first at their notes.
  for (std::size_t from = 0; from < moves.size();) {
    std::size_t to = from;
    while (to < moves.size() && moves[to]->adjuster == moves[from]->adjuster) ++to;
    if (moves[from]->adjuster != pass.adjuster)
      flow_words(flow, "Before the next", std::string(kind_of(moves[from]->adjuster).name) + ":");
    flow_moves(flow, plan,
               std::vector<const Instruction*>(moves.begin() + static_cast<std::ptrdiff_t>(from),
                                               moves.begin() + static_cast<std::ptrdiff_t>(to)),
               units);
    from = to;
  }
  flow.y += 6;
}

}  // namespace

std::string short_direction(Adjuster adjuster, double amount) {
  struct Pair {
    std::string_view more, less;
  };
  static constexpr std::array<Pair, note_adjuster_count> words{{{"raise", "lower"},
                                                                {"add", "take out"},
                                                                {"add", "take out"},
                                                                {"to player", "to hammer"},
                                                                {"raise", "lower"},
                                                                {"stronger", "weaker"},
                                                                {"earlier", "later"},
                                                                {"more", "less"},
                                                                {"bend in", "bend away"},
                                                                {"later", "earlier"}}};
  const Pair& pair = words.at(index_of(adjuster));
  return std::string(amount < 0 ? pair.less : pair.more);
}

std::string short_amount(const Instruction& step, Units units) {
  const double size = std::abs(step.amount);
  switch (kind_of(step.adjuster).unit) {
    case MoveUnit::turns:
      return turn_fraction(size * turn, 64);
    case MoveUnit::millimetres: {
      if (step.papers.empty()) return units.fine(size * millimetre);
      std::string text;
      // Papers are named by what is written on them.
      for (const double p : step.papers) text += (text.empty() ? "" : " + ") + units.number(p, 2);
      return text;
    }
    case MoveUnit::bend_steps:
      return units.number(size, size == std::round(size) ? 0 : 1);
  }
  return {};
}

std::string amount_unit(Adjuster adjuster, Units units) {
  switch (kind_of(adjuster).unit) {
    case MoveUnit::turns:
      return "turn";
    case MoveUnit::millimetres:
      return adjuster == Adjuster::front_punchings || adjuster == Adjuster::balance_punchings
                 ? "papers, mm"
                 : units.symbol();
    case MoveUnit::bend_steps:
      return "steps";
  }
  return {};
}

std::vector<std::unique_ptr<Page>> compose_plan_sheet(const Plan& plan, const PlanSheetWords& words,
                                                      const SheetHeading& heading,
                                                      const SheetOptions& options) {
  const Units units{options.inches, options.decimal_comma};
  const WordStyle style{options.inches, words.threads};
  Flow flow(options.paper, heading, "Work plan");
  flow_words(flow, "", words.standing);
  flow.y += 4;
  flow_questions(flow, plan, style);
  flow_passes(flow, plan);
  flow_words(flow, "What it rests on", words.rests_on);
  flow_words(flow, "Your hands", words.hands);
  // Those that belong to one kind of move are told where it is made.
  std::vector<Caution> general = plan.cautions;
  std::erase_if(general, [&](Caution c) {
    return std::ranges::any_of(plan.passes, [&](const Pass& pass) {
      return pass.moves > 0 && (!words.pass || pass.adjuster == *words.pass) &&
             std::ranges::find(kind_of(pass.adjuster).cautions, c) !=
                 kind_of(pass.adjuster).cautions.end();
    });
  });
  flow_caution_box(flow, general, "Before the first move");
  std::set<Caution> told;
  for (const Pass& pass : plan.passes)
    if (!words.pass || pass.adjuster == *words.pass)
      flow_pass(flow, plan, pass, words, units, told);
  flow_holds(flow, plan);
  return flow.finish();
}

}  // namespace batten::paper
