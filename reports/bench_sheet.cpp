#include "core/regulation/planning/words.hpp"
#include "reports/bench_pages.hpp"
#include "reports/output.hpp"
#include "reports/plan_pages.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>
#include <string>
#include <utility>

namespace batten {

std::string short_direction(Language language, Adjuster adjuster, double amount) {
  return say(language, "sheet.short." + std::string(kind_of(adjuster).code) +
                           (amount < 0 ? ".negative" : ".positive"));
}

namespace paper {
namespace {

constexpr double margin = 12 * mm;
constexpr double foot = 16;

struct Sizes {
  double row, amount, note, words, number;
};
constexpr Sizes usual{25, 15, 13, 11, 10}, large{37, 22, 19, 14, 12};

Reading meant(Reading reading) {
  return reading == Reading::hammer_height ? Reading::blow : reading;
}

class BenchRun {
 public:
  BenchRun(const Plan& plan, const BenchPass& of, const BenchWords& words, Paper paper)
      : plan_(plan),
        of_(of),
        pass_(*of.pass),
        words_(words),
        said_(words.style),
        sizes_(words.large ? large : usual),
        width_(paper == Paper::a4 ? 210 * mm : 8.5 * 72),
        height_(paper == Paper::a4 ? 297 * mm : 11 * 72) {}

  Sheets run() {
    start();
    intro();
    measure();
    head();
    int number = 0;
    for (const Instruction& step : pass_.steps) {
      if (y_ + sizes_.row > height_ - margin - foot) {
        start();
        head();
      }
      row(step, ++number);
      y_ += sizes_.row;
    }
    if (pass_.steps.empty()) paragraph(said_.words("sheet.nothing"));
    feet();
    return std::move(sheets_);
  }

 private:
  Page& page() { return *sheets_.back(); }
  double inner() const { return width_ - 2 * margin; }

  // The code stands on every sheet: pages part.
  void start() {
    sheets_.push_back(std::make_unique<Page>(width_, height_));
    y_ = margin;
    const Type code{.size = 16, .bold = true};
    const std::string text = said_.words("sheet.code") + " " + of_.code;
    const double wide = page().text_width(text, code) + 1;
    page().text({margin + inner() - wide, y_, wide, 22}, text, code, Align::right);
    page().text({margin, y_, inner() - wide - 12, 22}, pass_name(), {.size = 18, .bold = true});
    y_ += 24;
    std::string line = words_.piano;
    for (const std::string& part : {words_.place, words_.visit, words_.date})
      if (!part.empty()) line += " · " + part;
    page().text({margin, y_, inner(), 15}, line, {.size = 11});
    y_ += 18;
    page().line(margin, y_, margin + inner(), y_, 1.2);
    y_ += 6;
  }
  std::string pass_name() const {
    return capital(said_.words("sheet.pass." + std::string(kind_of(pass_.adjuster).code)));
  }
  void paragraph(const std::string& text, const std::string& lead = {}) {
    y_ += page().paragraph(margin, y_, inner(), lead, text, {.size = 11}) + 4;
  }
  void intro() {
    std::string work;
    if (pass_.readings > 0) work = said_.count("sheet.readings", pass_.readings);
    if (pass_.moves > 0)
      work += (work.empty() ? "" : ", ") + said_.count("sheet.moves", pass_.moves);
    if (!work.empty())
      paragraph(
          said_.words("sheet.about", {{"work", work}, {"minutes", said_.minutes(pass_.minutes)}}));
    paragraph(said_.words("sheet.type_back"));
    if (!plan_.gate.open) paragraph(said_.words("sheet.gate"));
    if (pass_.moves > 0) moves_intro();
    y_ += 2;
  }
  void moves_intro() {
    if (kind_of(pass_.adjuster).unit == MoveUnit::turns) {
      const auto hand = words_.threads.of(pass_.adjuster, 1);
      const std::string direction = capital(short_direction(said_.language(), pass_.adjuster, 1));
      paragraph(!hand ? said_.words("sheet.thread_unknown")
                      : said_.words(*hand == Rotation::clockwise ? "sheet.clockwise"
                                                                 : "sheet.counter_clockwise",
                                    {{"direction", direction}}));
    }
    if (pass_.adjuster == Adjuster::capstan) paragraph(said_.words("sheet.crown"));
    if (std::ranges::any_of(pass_.steps, &Instruction::read_after))
      paragraph(said_.words("sheet.must_read"));
    std::set<Caution> cautions;
    for (const Instruction& step : pass_.steps)
      if (step.kind == Instruction::Kind::turn)
        for (const Caution c : kind_of(step.adjuster).cautions) cautions.insert(c);
    for (const Caution c : cautions) {
      const std::string key = "caution." + std::string(text_of(c).code);
      const double inset = 6;
      const double high = page().paragraph_height(inner() - 2 * inset, said_.words(key),
                                                  said_.words(key + ".text"), {.size = 11});
      page().outline({margin + 0.6, y_ + 0.6, inner() - 1.2, high + 2 * inset - 1.2}, 1.2);
      page().paragraph(margin + inset, y_ + inset, inner() - 2 * inset, said_.words(key),
                       said_.words(key + ".text"), {.size = 11});
      y_ += high + 2 * inset + 4;
    }
  }

  struct Span {
    double left = 0, width = 0;
  };
  Box cell(const Span& s, double high, double down = 0) const {
    return {margin + s.left, y_ + down, s.width, high};
  }

  std::string amount_of(const Instruction& step) const {
    return step.kind == Instruction::Kind::turn
               ? short_amount(step, {said_.inches(), said_.language() == Language::german})
               : "";
  }
  std::string act_of(const Instruction& step) const {
    if (step.kind == Instruction::Kind::read)
      return said_.words("sheet.read") + ": " + name_of(said_.language(), step.reading);
    return short_direction(said_.language(), step.adjuster, step.amount);
  }
  std::string unit_of(const Instruction& step) const {
    switch (kind_of(step.adjuster).unit) {
      case MoveUnit::turns:
        return said_.words("sheet.turns");
      case MoveUnit::bend_steps:
        return said_.words("sheet.steps");
      case MoveUnit::millimetres:
        return step.papers.empty() ? (said_.inches() ? "in" : "mm") : said_.words("sheet.papers");
    }
    return {};
  }
  std::string then_of(const Instruction& step) const {
    if (step.kind == Instruction::Kind::read) return "";
    const double value = reading_goal(plan_, step);
    if (!std::isfinite(value)) return "–";
    const std::string text = said_.bare(step.reading, value);
    if (step.adjuster != Adjuster::capstan) return text;
    return (step.reading == Reading::hammer_height ? "c " : "b ") + text;
  }
  const Instruction* first_move() const {
    const auto move = std::ranges::find(pass_.steps, Instruction::Kind::turn, &Instruction::kind);
    return move == pass_.steps.end() ? nullptr : &*move;
  }

  void measure() {
    const Type column{.size = 9};
    const Instruction* move = first_move();
    double act = 0, amount = move == nullptr ? 0 : page().text_width(unit_of(*move), column);
    double then = page().text_width(said_.words("sheet.column.then"), column);
    for (const Instruction& step : pass_.steps) {
      // What is read is named over the width of the row.
      if (step.kind == Instruction::Kind::read) continue;
      act = std::max(act, page().text_width(act_of(step), {.size = sizes_.words}));
      amount = std::max(amount,
                        page().text_width(amount_of(step), {.size = sizes_.amount, .bold = true}));
      then = std::max(then, page().text_width(then_of(step), {.size = sizes_.words}));
    }
    double x = 0;
    const auto take = [&x](double width, double gap) {
      const Span span{x, width};
      x += width + gap;
      return span;
    };
    number_ = take(page().text_width("888", {.size = sizes_.number}) + 1, 5);
    box_ = take(tick_size, 8);
    note_ = take(page().text_width("G♯7", {.size = sizes_.note, .bold = true}) + 2, 10);
    act_ = take(act + 1, 8);
    amount_ = take(amount + 1, 14);
    then_ = take(then + 1, 12);
    blank_ = {x, inner() - x};
  }
  void head() {
    const Type column{.size = 9, .grey = quiet};
    page().text({margin, y_, note_.left - 4, 12}, said_.words("sheet.column.done"), column);
    page().text(cell({note_.left, act_.left - note_.left - 4}, 12),
                said_.words("sheet.column.note"), column);
    if (const Instruction* move = first_move()) {
      page().text(cell({act_.left, act_.width}, 12), said_.words("sheet.column.do"), column);
      page().text(cell(amount_, 12), unit_of(*move), column, Align::right);
      page().text(cell(then_, 12), said_.words("sheet.column.then"), column, Align::right);
    }
    const std::string unit =
        pass_.steps.empty() ? "" : said_.unit(meant(pass_.steps.front().reading));
    page().text(cell(blank_, 12),
                said_.words("sheet.column.read") + (unit.empty() ? "" : ", " + unit), column);
    y_ += 13;
    page().line(margin, y_, margin + inner(), y_, 1.1);
  }
  void row(const Instruction& step, int number) {
    const double row = sizes_.row;
    page().text(cell(number_, row), std::to_string(number), {.size = sizes_.number, .grey = quiet},
                Align::right);
    page().tick_box(margin + box_.left, y_ + (row - tick_size) / 2);
    page().text(cell(note_, row), Said::note(step.key), {.size = sizes_.note, .bold = true});
    if (step.kind == Instruction::Kind::turn) {
      page().text(cell(act_, row), act_of(step), {.size = sizes_.words});
      page().text(cell(amount_, row), amount_of(step), {.size = sizes_.amount, .bold = true},
                  Align::right);
      page().text(cell(then_, row), then_of(step), {.size = sizes_.words}, Align::right);
    } else {
      const double room = blank_.left - act_.left - 6;
      // Where no move makes the row wide, half of it is for the hand.
      const double wide = std::max(room, (inner() - act_.left) / 2);
      page().text({margin + act_.left, y_, wide, row}, act_of(step), {.size = sizes_.words});
    }
    const bool must = step.kind == Instruction::Kind::read || step.read_after;
    const double from = step.kind == Instruction::Kind::read
                            ? std::max(blank_.left, act_.left + (inner() - act_.left) / 2 + 6)
                            : blank_.left;
    page().line(margin + from, y_ + row - 4, margin + inner(), y_ + row - 4, must ? 1.4 : 0.5,
                must ? black : rule_grey);
    page().line(margin, y_ + row, margin + from - 6, y_ + row, 0.3, 0.7);
  }
  void feet() {
    const Type type{.size = small, .grey = quiet};
    for (std::size_t i = 0; i < sheets_.size(); ++i) {
      Page& sheet = *sheets_[i];
      const double top = height_ - margin - 11;
      const std::string numbered =
          said_.words("page.number",
                      {{"page", std::to_string(i + 1)}, {"pages", std::to_string(sheets_.size())}});
      const double right = sheet.text_width(numbered, type) + 1;
      sheet.text({margin, top, inner() - right - 14, 11},
                 said_.words("sheet.bench") + " · " + said_.words("page.made_with"), type);
      sheet.text({margin + inner() - right, top, right, 11}, numbered, type, Align::right);
    }
  }

  const Plan& plan_;
  const BenchPass& of_;
  const Pass& pass_;
  const BenchWords& words_;
  Said said_;
  Sizes sizes_;
  double width_, height_;
  Sheets sheets_;
  double y_ = 0;
  Span number_, box_, note_, act_, amount_, then_, blank_;
};

}  // namespace

Sheets compose_bench_sheets(const Plan& plan, const std::vector<BenchPass>& passes,
                            const BenchWords& words, const PageSheetOptions& options) {
  Sheets all;
  for (const BenchPass& pass : passes) {
    auto more = BenchRun(plan, pass, words, options.paper).run();
    std::ranges::move(more, std::back_inserter(all));
  }
  return all;
}

}  // namespace paper

PrintedPages print_bench_sheets(const Plan& plan, const std::vector<BenchPass>& passes,
                                const BenchWords& words, const PageSheetOptions& options) {
  const auto sheets = paper::compose_bench_sheets(plan, passes, words, options);
  return {paper::pdf_bytes(sheets, options.title, options.created,
                           std::string(code_of(words.style.language))),
          static_cast<int>(sheets.size())};
}

std::string picture_bench_sheets(const Plan& plan, const std::vector<BenchPass>& passes,
                                 const BenchWords& words, const PageSheetOptions& options,
                                 int sheet, double dpi) {
  const auto sheets = paper::compose_bench_sheets(plan, passes, words, options);
  const int count = static_cast<int>(sheets.size());
  const auto index = static_cast<std::size_t>(std::clamp(sheet, 1, count) - 1);
  return paper::png_bytes(*sheets[index], std::clamp(dpi, 36.0, 600.0));
}

}  // namespace batten
