#include "cli/paper_commands.hpp"

#include "app/files.hpp"
#include "app/paper_job.hpp"
#include "cli/desk_work.hpp"
#include "json/handover_json.hpp"

#include <fmt/format.h>

#include <memory>
#include <optional>

namespace batten::cli {

namespace {

struct HandoverWords {
  std::string file, language;
  bool letter = false, owner_only = false, file_only = false, picture = false;
  int sheet = 1;
  double dpi = 150;
};

int handover(const Common& common, const HandoverWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto choices = page_choices(desk, {words.language, words.letter ? "letter" : "",
                                       common.inches ? std::optional(true) : std::nullopt});
    if (!choices) return fail(common, choices.error());
    auto plan = plan_work(desk, piano);
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

}  // namespace

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
  s->add_flag("--picture", h->picture, "one sheet as PNG");
  s->add_option("--sheet", h->sheet, "which sheet of the picture")->check(CLI::PositiveNumber);
  s->add_option("--dpi", h->dpi, "dots per inch of the picture")->check(CLI::Range(36.0, 600.0));
}

}  // namespace batten::cli
