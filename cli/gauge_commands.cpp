#include "cli/gauge_commands.hpp"

#include "app/files.hpp"
#include "app/gauge_job.hpp"
#include "cli/desk_work.hpp"
#include "json/gauge_json.hpp"

#include <fmt/format.h>

#include <memory>

namespace batten::cli {

namespace {

struct TemplateWords {
  std::string which, file = "gauges.pdf", language;
  bool letter = false, list = false;
  int page = 1;
  double dpi = 150;
};

std::string list_text(const TemplateOffer& offer) {
  std::string out;
  for (const Gauge& gauge : offer.set.gauges) {
    out += capital(name_of(offer.style.language, gauge.kind)) + "\n";
    for (const GaugeSize& size : gauge.sizes)
      out += "    " + padded(size_text(size.mm, offer.style), 12) +
             notes_text(size.notes, gauge.asked) + "\n";
    for (const GaugePiece& p : offer.pieces)
      if (p.kind == gauge.kind && p.block) out += wrapped(p.title, "    ");
    out += wrapped(use_of(offer.style.language, gauge.kind), "    ");
  }
  for (const GaugeLeftOut& left : offer.set.left_out)
    out += wrapped(say(offer.style.language, "gauge.none.title") + ": " +
                       name_of(offer.style.language, left.kind) + ". " +
                       reason_of(offer.style.language, left),
                   "");
  return out;
}

PageAsked asked_of(const Common& common, const TemplateWords& words) {
  return {words.language, words.letter ? "letter" : "",
          common.inches ? std::optional(true) : std::nullopt};
}

int list(const Common& common, const TemplateWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto offer = offer_templates(desk, piano, asked_of(common, words));
    if (!offer) return fail(common, offer.error());
    auto revision = desk.store.revision(piano.id);
    if (!revision) return fail(common, revision.error());
    say(common.json ? to_json(*offer, *revision) : list_text(*offer));
    return done;
  });
}

int make(const Common& common, const TemplateWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    const auto form = template_form(words.file);
    if (!form)
      return fail(common, {"\"" + words.file + "\" does not say what it is to be.", "",
                           "End its name in .pdf, .svg, .dxf or .png."});
    auto made = make_template(desk, piano,
                              {words.which, *form, asked_of(common, words), words.page, words.dpi});
    if (!made) return fail(common, made.error());
    if (auto written = write_file(words.file, made->bytes); !written)
      return fail(common, written.error());
    say(fmt::format("{}: {}{}.", words.file,
                    say_count(Language::english, "template.count", static_cast<long>(made->pieces)),
                    made->pages > 0 ? fmt::format(" on {} pages", made->pages) : ""));
    if (*form == TemplateForm::pdf || *form == TemplateForm::png)
      say("Print at 100 % and verify all four bars with a steel rule before you cut.");
    for (const GaugeLeftOut& left : made->set.left_out)
      say("Not cut: " + name_of(Language::english, left.kind) + ". " +
          reason_of(Language::english, left));
    return done;
  });
}

}  // namespace

void add_gauge_commands(CLI::App& app, const Common& common, Command& chosen) {
  auto w = std::make_shared<TemplateWords>();
  auto* t = command(app, chosen, "template", "gauges to cut, 1:1, for this piano's own targets",
                    "  batten template                             all of them, gauges.pdf\n"
                    "  batten template --list\n"
                    "  batten template --gauge blow,dip -o gauges.svg\n"
                    "  batten template --letter --language de -o lehren.pdf\n"
                    "  batten template -o gauges.dxf               for a laser cutter",
                    [w, &common] { return w->list ? list(common, *w) : make(common, *w); });
  t->add_option("--gauge", w->which,
                "blow, check, let-off, key-height, sharps-height, dip, sharp-dip, lever-height, "
                "aftertouch; with commas; else all");
  t->add_option("-o,--output", w->file, "file ending in .pdf, .svg, .dxf or .png (gauges.pdf)");
  t->add_flag("--list", w->list, "what there is to cut and how it is used");
  t->add_flag("--letter", w->letter, "US Letter instead of A4");
  t->add_option("--language", w->language, "en or de");
  t->add_option("--page", w->page, "which page of the picture")->check(CLI::PositiveNumber);
  t->add_option("--dpi", w->dpi, "dots per inch of the picture")->check(CLI::Range(36.0, 600.0));
}

}  // namespace batten::cli
