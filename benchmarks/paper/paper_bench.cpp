// The handover of a full job on paper, target 300 ms: both pages of 88 notes with every reading
// before and after composed, set and written as PDF/A. Beside it what cairo alone takes for a page
// full of words.
#include "core/regulation/handover/handover.hpp"
#include "reports/page_sheet.hpp"
#include "tests/reports/handover_fixture.hpp"

#include <benchmark/benchmark.h>
#include <cairomm/context.h>
#include <cairomm/surface.h>

#include <string>

namespace {

using namespace batten;

void handover_of_a_full_job(benchmark::State& state) {
  const HandoverFacts facts = invented_facts({.name = ""});
  PageSheetOptions options;
  options.title = "Handover";
  PrintedPages printed;
  for (auto _ : state) {
    printed = print_pages({{compose_owner_page(facts, {}), Extent::one_sheet},
                           {compose_file_sheet(facts, {}), Extent::as_needed}},
                          options);
    benchmark::DoNotOptimize(printed.pdf.data());
  }
  if (!printed.pdf.starts_with("%PDF-") || printed.sheets < 4 || printed.sheets > 20)
    state.SkipWithError("not the pages of a full job");
  state.counters["sheets"] = printed.sheets;
}
BENCHMARK(handover_of_a_full_job)->Unit(benchmark::kMillisecond);

void owners_page_alone(benchmark::State& state) {
  const HandoverFacts facts = invented_facts({.name = "", .style = {Language::german, false}});
  PageSheetOptions options;
  int sheets = 0;
  for (auto _ : state)
    sheets =
        print_pages({{compose_owner_page(facts, {Language::german, false}), Extent::one_sheet}},
                    options)
            .sheets;
  if (sheets != 1) state.SkipWithError("more than one sheet");
}
BENCHMARK(owners_page_alone)->Unit(benchmark::kMillisecond);

// As one writes it by hand: a page of 50 lines of cairo's own text, to PDF, no layout.
void bare_cairo_page(benchmark::State& state) {
  std::string bytes;
  for (auto _ : state) {
    bytes.clear();
    auto surface = Cairo::PdfSurface::create_for_stream(
        [&](const unsigned char* data, unsigned length) {
          bytes.append(reinterpret_cast<const char*>(data), length);
          return CAIRO_STATUS_SUCCESS;
        },
        595, 842);
    auto context = Cairo::Context::create(surface);
    context->select_font_face("DejaVu Sans", Cairo::ToyFontFace::Slant::NORMAL,
                              Cairo::ToyFontFace::Weight::NORMAL);
    context->set_font_size(10);
    for (int i = 0; i < 50; ++i) {
      context->move_to(40, 40 + 15 * i);
      context->show_text("Before anything was turned, 659 figures were read on 88 of 88 notes.");
    }
    context->show_page();
    surface->finish();
  }
  if (!bytes.starts_with("%PDF-")) state.SkipWithError("no PDF");
}
BENCHMARK(bare_cairo_page)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
