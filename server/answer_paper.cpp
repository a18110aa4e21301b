// Handover and bench sheets as files, and what was written on them typed back.
#include "app/bench_job.hpp"
#include "app/paper_job.hpp"
#include "json/back_json.hpp"
#include "json/piano_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"
#include "server/asked_page.hpp"
#include "server/body.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <optional>

namespace batten::server {

namespace {

constexpr const char* pdf_type = "application/pdf";

}  // namespace

// Letterhead, logo and clock are not in the journal: nothing is kept by revision.
Response get_handover_pdf(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {"language", "paper", "inches", "part"}); !known)
    return refused(known.error());
  const std::string& part = request.asked("part");
  if (!part.empty() && part != "owner" && part != "file")
    return refused({"There is no part \"" + part + "\".", {}, "There are: owner, file."});
  return at_piano(with, request, [&](const Asked& asked) {
    auto page = asked_page(request);
    if (!page) return refused(page.error());
    auto choices = page_choices(with.desk, *page);
    if (!choices) return refused(choices.error());
    auto plan = plan_for(with, asked.piano);
    if (!plan) return refused(plan.error(), 422);
    auto paper = handover_paper(with.desk, asked.piano, **plan, *choices,
                                part == "owner"  ? HandoverPart::owner
                                : part == "file" ? HandoverPart::file
                                                 : HandoverPart::both);
    if (!paper) return refused(paper.error(), 422);
    auto printed = print_paper(*paper);
    if (!printed) return refused(printed.error(), 422);
    return file_response(std::move(printed->pdf), pdf_type, paper->options.title + ".pdf", true);
  });
}

Response get_sheet_pdf(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {"language", "paper", "inches", "pass", "large"}); !known)
    return refused(known.error());
  return at_piano(with, request, [&](const Asked& asked) {
    std::optional<Adjuster> pass;
    if (const std::string& name = request.asked("pass"); !name.empty()) {
      pass = pass_by_name(name);
      if (!pass)
        return refused({"There is no pass \"" + name + "\".",
                        {},
                        "Name it as the plan does: blow, dip, let-off …"});
    }
    const std::string& large = request.asked("large");
    if (!large.empty() && large != "0" && large != "1")
      return refused(
          {"\"" + large + "\" says nothing about size.", {}, "Write large=1 or large=0."});
    auto page = asked_page(request);
    if (!page) return refused(page.error());
    auto choices = page_choices(with.desk, *page);
    if (!choices) return refused(choices.error());
    auto paper = bench_paper(with.desk, asked.piano, *choices, pass, large == "1");
    if (!paper) return refused(paper.error(), 422);
    auto printed = print_bench(*paper);
    if (!printed) return refused(printed.error(), 422);
    return file_response(std::move(printed->pdf), pdf_type, paper->options.title + ".pdf", true);
  });
}

Response post_back(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {"language", "inches"}); !known)
    return refused(known.error());
  return at_piano(with, request, [&](const Asked& asked) {
    auto body = body_object(request, {"code", "lines"});
    if (!body) return refused(body.error());
    auto code = text_in(*body, "code");
    if (!code) return refused(code.error());
    std::vector<std::string> lines;
    const auto list = body->find("lines");
    const bool texts = list != body->end() && list->is_array() &&
                       std::ranges::all_of(*list, [](const auto& l) { return l.is_string(); });
    if (!texts)
      return refused({"\"lines\" is no list of texts.",
                      {},
                      "Send {\"code\": \"LO-2758-K\", \"lines\": [\"3 45.2\", \"4 =\"]}."});
    for (const auto& line : *list) lines.push_back(line.get<std::string>());
    auto page = asked_page(request);
    if (!page) return refused(page.error());
    auto choices = page_choices(with.desk, *page);
    if (!choices) return refused(choices.error());
    auto back = type_back(with.desk, asked.piano, *code, lines);
    if (!back) {
      Response r = ok(to_json(back.error()));
      r.status = 422;
      return r;
    }
    if (back->written > 0) {
      std::vector<Entry> entries;
      for (const BackLine& line : back->lines)
        entries.insert(entries.end(), line.entries.begin(), line.entries.end());
      with.tell({to_text(asked.piano.id), "entries",
                 heard_to_json(asked.piano, entries, back->revision, request.device)});
    }
    return ok(to_json(*back, choices->style));
  });
}

}  // namespace batten::server
