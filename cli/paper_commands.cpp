#include "cli/paper_commands.hpp"

#include "app/bench_job.hpp"
#include "app/files.hpp"
#include "app/paper_job.hpp"
#include "cli/desk_work.hpp"
#include "json/back_json.hpp"
#include "json/handover_json.hpp"
#include "json/journal_json.hpp"

#include <fmt/format.h>

#include <array>
#include <cstddef>
#include <cstdio>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

namespace batten::cli {

namespace {

struct HandoverWords {
  std::string file, language;
  bool letter = false, owner_only = false, file_only = false, picture = false;
  int sheet = 1, visit = 0;  // visit 0: the present one
  double dpi = 150;
};

int handover(const Common& common, const HandoverWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto choices = page_choices(desk, {words.language, words.letter ? "letter" : "",
                                       common.inches ? std::optional(true) : std::nullopt});
    if (!choices) return fail(common, choices.error());
    auto plan =
        words.visit > 0 ? plan_after_visit(desk, piano, words.visit) : plan_work(desk, piano);
    if (!plan) return fail(common, plan.error());
    if (common.json) {
      auto handed = hand_over(desk, piano, *plan);
      if (!handed) return fail(common, handed.error());
      auto facts = handover_facts(desk, piano, *plan, *handed);
      if (!facts) return fail(common, facts.error());
      auto revision = desk.store.revision(piano.id);
      if (!revision) return fail(common, revision.error());
      say(to_json(piano, *handed, *revision, compose_owner_page(*facts, choices->style),
                  compose_file_sheet(*facts, choices->style)));
      return done;
    }
    const HandoverPart part = words.owner_only  ? HandoverPart::owner
                              : words.file_only ? HandoverPart::file
                                                : HandoverPart::both;
    auto paper = handover_paper(desk, piano, *plan, *choices, part);
    if (!paper) return fail(common, paper.error());
    const std::string file = !words.file.empty() ? words.file
                             : words.picture     ? "handover.png"
                                                 : "handover.pdf";
    std::string bytes, what = "one sheet as a picture";
    if (words.picture) {
      auto picture = picture_paper(*paper, words.sheet, words.dpi);
      if (!picture) return fail(common, picture.error());
      bytes = std::move(*picture);
    } else {
      auto printed = print_paper(*paper);
      if (!printed) return fail(common, printed.error());
      bytes = std::move(printed->pdf);
      what = fmt::format("{} {}", printed->sheets, printed->sheets == 1 ? "page" : "pages");
    }
    if (auto written = write_file(file, bytes); !written) return fail(common, written.error());
    say(fmt::format("written: {}, {}", file, what));
    return done;
  });
}

struct BackWords {
  std::string code, file, language;
};

// Lines from a file or standard input, up to 64 kB.
Result<std::vector<std::string>> lines_from(const std::string& file) {
  constexpr std::size_t most = std::size_t{64} * 1024;
  std::string text;
  if (!file.empty()) {
    auto read = read_file(file, most);
    if (!read) return tl::unexpected(read.error());
    text = std::move(*read);
  } else {
    if (input_is_terminal())
      say_aside("A line each: \"3 45.2\", \"4 =\", \"5 - reason\"; Ctrl-D when done.");
    std::array<char, 4096> part{};
    while (text.size() <= most) {
      const std::size_t count = std::fread(part.data(), 1, part.size(), stdin);
      if (count == 0) break;
      text.append(part.data(), count);
    }
  }
  if (text.size() > most)
    return problem("That is more than a sheet holds.", "Type back one sheet at a time.",
                   "Nothing was written down.");
  std::vector<std::string> lines(1);
  for (const char c : text) {
    if (c == '\n')
      lines.emplace_back();
    else
      lines.back() += c;
  }
  return lines;
}

int back(const Common& common, const BackWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto choices = page_choices(
        desk, {words.language, "", common.inches ? std::optional(true) : std::nullopt});
    if (!choices) return fail(common, choices.error());
    auto lines = lines_from(words.file);
    if (!lines) return fail(common, lines.error());
    auto typed = type_back(desk, piano, words.code, *lines);
    if (!typed) {
      if (common.json) {
        say(to_json(typed.error()));
        return not_done;
      }
      for (const BackRefusal& r : typed.error().lines)
        say_aside(fmt::format("line {}: {}\n    {} {}", r.line, r.text, r.problem.happened,
                              r.problem.todo));
      return fail(common, typed.error().problem);
    }
    if (common.json) {
      say(to_json(*typed, choices->style));
      return done;
    }
    std::string text;
    for (const BackLine& line : typed->lines)
      text += wrapped(fmt::format("{:>3} {}: {}", line.line, note_name(line.key),
                                  back_words(line, choices->style)),
                      "");
    text += fmt::format("written down: {} {}", typed->written,
                        typed->written == 1 ? "entry" : "entries");
    if (typed->already_there > 0)
      text += fmt::format("; {} had been typed back before", typed->already_there);
    say(text);
    return done;
  });
}

}  // namespace

int bench_sheet(const Common& common, const BenchSheetWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    std::optional<Adjuster> pass;
    if (!words.pass.empty()) {
      pass = pass_by_name(words.pass);
      if (!pass)
        return fail(common, {"There is no pass \"" + words.pass + "\".",
                             {},
                             "\"batten plan\" lists them, such as blow, dip or let-off."});
    }
    auto choices = page_choices(desk, {words.language, words.letter ? "letter" : "",
                                       common.inches ? std::optional(true) : std::nullopt});
    if (!choices) return fail(common, choices.error());
    auto paper = bench_paper(desk, piano, *choices, pass, words.large);
    if (!paper) return fail(common, paper.error());
    const std::string file = !words.file.empty() ? words.file
                             : words.picture     ? "bench-sheet.png"
                                                 : "bench-sheet.pdf";
    auto printed = print_bench(*paper);
    if (!printed) return fail(common, printed.error());
    std::string bytes = std::move(printed->pdf);
    if (words.picture) {
      auto picture = picture_bench(*paper, words.sheet, words.dpi);
      if (!picture) return fail(common, picture.error());
      bytes = std::move(*picture);
    }
    if (auto written = write_file(file, bytes); !written) return fail(common, written.error());
    std::string codes;
    for (const BenchPass& p : paper->passes) codes += (codes.empty() ? "" : ", ") + p.code;
    if (common.json)
      say(sheet_to_json(file, printed->sheets));
    else
      say(fmt::format("written: {}, {} {}; type back with: batten back {}", file, printed->sheets,
                      printed->sheets == 1 ? "page" : "pages", codes));
    return done;
  });
}

void add_paper_commands(CLI::App& app, const Common& common, Command& chosen) {
  auto h = std::make_shared<HandoverWords>();
  auto* s =
      command(app, chosen, "handover", "the page for the owner and the sheet for the file (PDF)",
              "  batten handover                             handover.pdf\n"
              "  batten handover --language de --owner-only -o seite.pdf\n"
              "  batten handover --letter --inches\n"
              "  batten set owner-words \"Thank you for the coffee.\"\n"
              "  batten set next-visit \"in the autumn, before heating begins\"",
              [h, &common] { return handover(common, *h); });
  s->add_option("-o,--output", h->file, "file (handover.pdf)");
  s->add_option("--language", h->language, "en or de; else the workshop's");
  s->add_flag("--letter", h->letter, "US Letter instead of A4");
  auto* owner = s->add_flag("--owner-only", h->owner_only, "only the page for the owner");
  s->add_flag("--file-only", h->file_only, "only the sheet for the file")->excludes(owner);
  s->add_option("--visit", h->visit, "an earlier visit, 1 the first")->check(CLI::PositiveNumber);
  s->add_flag("--picture", h->picture, "one sheet as PNG");
  s->add_option("--sheet", h->sheet, "which sheet of the picture")->check(CLI::PositiveNumber);
  s->add_option("--dpi", h->dpi, "dots per inch of the picture")->check(CLI::Range(36.0, 600.0));

  auto b = std::make_shared<BackWords>();
  auto* t = command(app, chosen, "back", "type back what was written on a bench sheet",
                    "  batten sheet --pass let-off --large         prints it, with its code\n"
                    "  batten back LO-2758-K                       then a line each, Ctrl-D:\n"
                    "      3 45.2              what was read\n"
                    "      4 =                 done as asked\n"
                    "      5 raise 1/32 45.2   done otherwise, and read again\n"
                    "      6 - screw stripped  left, and why\n"
                    "  batten back LO-2758-K --from lines.txt",
                    [b, &common] { return back(common, *b); });
  t->add_option("CODE", b->code, "at the top of the sheet")->required();
  t->add_option("--from", b->file, "file of lines; else standard input");
  t->add_option("--language", b->language, "en or de; else the workshop's");
}

}  // namespace batten::cli
