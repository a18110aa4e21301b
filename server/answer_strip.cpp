#include "app/entries.hpp"
#include "core/regulation/catalogue/readings.hpp"
#include "json/line_json.hpp"
#include "json/strip_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"
#include "server/body.hpp"

#include <fmt/format.h>

#include <optional>

namespace batten::server {

namespace {

// Without sections there is no plan, yet a keyboard and a way on.
bool has_sections(Answering& with, const Piano& piano) {
  auto now = standing(with.desk, piano);
  return !now || now->settings.contains("sections");
}

}  // namespace

Response get_strip(Answering& with, const Request& request) {
  if (auto ok = only_asks(request, {}); !ok) return refused(ok.error());
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    auto plan = plan_for(with, asked.piano);
    if (plan) return strip_to_json(asked.piano, **plan, asked.revision);
    if (has_sections(with, asked.piano)) return tl::unexpected(plan.error());
    return strip_to_json(asked.piano, plan.error(), asked.revision);
  });
}

Response get_read_next(Answering& with, const Request& request) {
  if (auto ok = only_asks(request, {"reading"}); !ok) return refused(ok.error());
  std::optional<Reading> reading;
  if (const std::string& code = request.asked("reading"); !code.empty()) {
    reading = reading_by_code(code);
    if (!reading)
      return refused({fmt::format("There is no reading \"{}\".", code),
                      {},
                      "GET /api/catalogue lists the readings."});
  }
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    auto plan = plan_for(with, asked.piano);
    if (plan)
      return read_next_to_json(read_next(**plan, reading), reading_progress(**plan),
                               asked.revision);
    if (has_sections(with, asked.piano)) return tl::unexpected(plan.error());
    return read_next_to_json(plan.error(), asked.revision);
  });
}

Response get_line(Answering& with, const Request& request) {
  if (auto ok = only_asks(request, {}); !ok) return refused(ok.error());
  return at_revision(with, request, [&](const Asked& asked) -> Result<std::string> {
    auto line = draw_line(with.desk, asked.piano);
    if (!line) return tl::unexpected(line.error());
    return with_revision(to_json(asked.piano, *line), asked.revision);
  });
}

}  // namespace batten::server
