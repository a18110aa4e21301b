#include "app/bench_job.hpp"

#include "app/handover_page.hpp"
#include "app/line_job.hpp"
#include "app/pianos.hpp"
#include "core/regulation/planning/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

namespace batten {

namespace {

// Two letters for each adjuster of a note, its order.
constexpr std::array<std::string_view, note_adjuster_count> letters{"BL", "KH", "DI", "JP", "LH",
                                                                    "SP", "LO", "DR", "CH", "DA"};
// None that is taken for a figure or for another: no I, O, Q.
constexpr std::string_view check_letters = "ABCDEFGHJKLMNPRSTUVWXYZ";

char check_letter(const Piano& piano, Adjuster pass, std::int64_t revision) {
  // FNV-1a, 32 bits (http://www.isthe.com/chongo/tech/comp/fnv).
  std::uint32_t hash = 2166136261U;
  const std::string all =
      to_text(piano.id) + std::string(letters.at(index_of(pass))) + std::to_string(revision);
  for (const char c : all) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
  return check_letters[hash % check_letters.size()];
}

std::string words_of(const std::vector<Pass>& passes) {
  std::string text;
  for (const Pass& p : passes)
    text += (text.empty() ? "" : ", ") + std::string(pass_name(p.adjuster));
  return text;
}

}  // namespace

std::string bench_code(const Piano& piano, Adjuster pass, std::int64_t revision) {
  return fmt::format("{}-{}-{}", letters.at(index_of(pass)), revision,
                     check_letter(piano, pass, revision));
}

Result<BenchCode> read_bench_code(const Piano& piano, std::string_view text) {
  std::string pass, figures, check;
  for (const char c : text) {
    const auto u = static_cast<unsigned char>(c);
    if (std::isdigit(u) != 0)
      figures += c;
    else if (std::isalpha(u) != 0)
      (figures.empty() ? pass : check) += static_cast<char>(std::toupper(u));
  }
  const auto none = [&] {
    return problem("\"" + std::string(text) + "\" is no code of a bench sheet.",
                   "Type it as it stands at the top of the sheet, such as LO-2758-K.",
                   "Nothing was written down.");
  };
  const auto found = std::ranges::find(letters, pass);
  if (found == letters.end() || figures.empty() || figures.size() > 9 || check.size() != 1)
    return none();
  const BenchCode code{static_cast<Adjuster>(found - letters.begin()), std::stoll(figures)};
  if (check_letter(piano, code.pass, code.revision) != check.front())
    return problem("The code \"" + std::string(text) + "\" does not fit " + piano.name + ".",
                   "Look at it again, and whether the sheet is of this piano (batten --piano NAME "
                   "back …).",
                   "Nothing was written down.");
  return code;
}

Result<BenchPaper> bench_paper(Desk& desk, const Piano& piano, const PageChoices& choices,
                               std::optional<Adjuster> pass, bool large) {
  return guarded([&]() -> Result<BenchPaper> {
    // Before the plan: entries that arrive between belong to no sheet.
    auto revision = desk.store.revision(piano.id);
    if (!revision) return tl::unexpected(revision.error());
    auto plan = plan_work(desk, piano);
    if (!plan) return tl::unexpected(plan.error());
    auto visit = current_visit(desk, piano);
    if (!visit) return tl::unexpected(visit.error());
    BenchPaper out;
    out.plan = std::move(*plan);
    const Language language = choices.style.language;
    for (const Pass& p : out.plan.plan.passes)
      if (!pass || p.adjuster == *pass)
        out.passes.push_back({&p, bench_code(piano, p.adjuster, *revision)});
    if (out.passes.empty())
      return problem(
          pass ? "There is nothing to do in the pass \"" + std::string(pass_name(*pass)) + "\"."
               : std::string("There is nothing to do, so there is nothing to print."),
          out.plan.plan.passes.empty() ? "See \"batten plan\"."
                                       : "The plan has: " + words_of(out.plan.plan.passes) + ".");
    const std::int64_t now = desk.now_ms();
    const CivilDay day = local_day(now);
    out.words = {piano.name,
                 piano.place,
                 visit->title,
                 date_in(language, day.year, day.month, day.day),
                 out.plan.threads,
                 choices.style,
                 large};
    out.options.paper = choices.paper;
    out.options.title = say(language, "sheet.bench") + ": " + piano.name;
    out.options.created = print_timestamp(now);
    return out;
  });
}

Result<PrintedPages> print_bench(const BenchPaper& p) {
  return guarded([&]() -> Result<PrintedPages> {
    return print_bench_sheets(p.plan.plan, p.passes, p.words, p.options);
  });
}

Result<std::string> picture_bench(const BenchPaper& p, int sheet, double dpi) {
  return guarded([&]() -> Result<std::string> {
    return picture_bench_sheets(p.plan.plan, p.passes, p.words, p.options, sheet, dpi);
  });
}

}  // namespace batten
