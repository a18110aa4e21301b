#include "app/gauge_job.hpp"
#include "json/gauge_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"
#include "server/asked_page.hpp"

namespace batten::server {

namespace {

// The workshop's settings are not in the journal, so what hangs on them is not kept by revision.
Response template_file(Answering& with, const Request& request, TemplateForm form, const char* type,
                       const char* ending) {
  if (auto known = only_asks(request, {"gauge", "language", "paper", "inches"}); !known)
    return refused(known.error());
  return at_piano(with, request, [&](const Asked& asked) {
    auto page = asked_page(request);
    if (!page) return refused(page.error());
    auto made =
        make_template(with.desk, asked.piano, {request.asked("gauge"), form, *page, 1, 150});
    if (!made) return refused(made.error(), 422);
    return file_response(std::move(made->bytes), type, asked.piano.name + " gauges" + ending,
                         form != TemplateForm::dxf);
  });
}

}  // namespace

Response get_templates(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {"language", "inches"}); !known)
    return refused(known.error());
  return at_piano(with, request, [&](const Asked& asked) {
    auto page = asked_page(request);
    if (!page) return refused(page.error());
    auto offer = offer_templates(with.desk, asked.piano, *page);
    return offer ? ok(to_json(*offer, asked.revision)) : refused(offer.error(), 422);
  });
}

Response get_template_pdf(Answering& with, const Request& request) {
  return template_file(with, request, TemplateForm::pdf, "application/pdf", ".pdf");
}
Response get_template_svg(Answering& with, const Request& request) {
  return template_file(with, request, TemplateForm::svg, "image/svg+xml", ".svg");
}
Response get_template_dxf(Answering& with, const Request& request) {
  return template_file(with, request, TemplateForm::dxf, "image/vnd.dxf", ".dxf");
}

}  // namespace batten::server
