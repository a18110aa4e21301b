// Bench sheets printed, and what was written on them typed back.
#pragma once

#include "app/desk.hpp"
#include "app/paper_choices.hpp"
#include "app/plan_job.hpp"
#include "reports/bench_sheet.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

// "LO-2758-K": the pass, how many entries the journal had, and a letter that a slip of the hand or
// another piano's sheet does not fit.
std::string bench_code(const Piano& piano, Adjuster pass, std::int64_t revision);
struct BenchCode {
  Adjuster pass = Adjuster::capstan;
  std::int64_t revision = 0;
};
// Letter case and blanks forgiven. Error: it is none, or not of this piano.
Result<BenchCode> read_bench_code(const Piano& piano, std::string_view text);

struct BenchPaper {
  PianoPlan plan;
  std::vector<BenchPass> passes;  // into `plan`
  BenchWords words;
  PageSheetOptions options;
};
// Of one pass, or of all of them each on its own sheet. Errors: as plan_work; no such pass in the
// plan, nothing to do.
Result<BenchPaper> bench_paper(Desk& desk, const Piano& piano, const PageChoices& choices,
                               std::optional<Adjuster> pass, bool large);
Result<PrintedPages> print_bench(const BenchPaper& paper);
Result<std::string> picture_bench(const BenchPaper& paper, int sheet, double dpi);

struct BackLine {
  int line = 0;  // on the sheet
  Key key;
  std::vector<Entry> entries;
};
struct TypedBack {
  std::vector<BackLine> lines;
  std::size_t written = 0, already_there = 0;  // entries
  std::int64_t revision = 0;                   // after it
};
struct BackRefusal {
  int line = 0;  // as typed, from 1
  std::string text;
  Problem problem;
};
struct NotTypedBack {
  Problem problem;
  std::vector<BackRefusal> lines;  // every line that could not be taken
};

// "Raise 3⁄64 turn; blow 45.2 mm": what a line wrote down.
std::string back_words(const BackLine& line, PageStyle style);

// Each line: the sheet's number, then "=" done as asked, a value read, an amount with its direction
// where the hand did something else, both, or "- reason" for left. Empty lines are passed over. All
// or none, in one durable step; the same line typed again is counted, not doubled. The plan is made
// again from the entries there were when the sheet was printed.
tl::expected<TypedBack, NotTypedBack> type_back(Desk& desk, const Piano& piano,
                                                std::string_view code,
                                                const std::vector<std::string>& lines);

}  // namespace batten
