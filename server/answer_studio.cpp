#include "app/paper_choices.hpp"
#include "app/studio_job.hpp"
#include "json/studio_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"
#include "server/asked_page.hpp"

namespace batten::server {

namespace {

// Identities with commas between.
Result<std::vector<Uuid>> fixed_in(std::string_view text) {
  std::vector<Uuid> fixed;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(','), text.size());
    auto id = parse_uuid(text.substr(0, end));
    if (!id) return tl::unexpected(id.error());
    fixed.push_back(*id);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return fixed;
}

Result<std::optional<DayRequest>> day_in(const Request& request) {
  const std::string& hours = request.asked("hours");
  auto fixed = fixed_in(request.asked("fixed"));
  if (!fixed) return tl::unexpected(fixed.error());
  if (hours.empty()) {
    if (!fixed->empty())
      return problem("Which pianos are promised says nothing without the hours there are.",
                     "Give hours= too.");
    return std::optional<DayRequest>();
  }
  auto number = parse_hours(hours);
  if (!number) return tl::unexpected(number.error());
  return DayRequest{*number, std::move(*fixed)};
}

Response calendar(Answering& with, const Request& request, const std::optional<Uuid>& of,
                  std::string_view name) {
  if (auto known = only_asks(request, {"language"}); !known) return refused(known.error());
  auto page = asked_page(request);
  if (!page) return refused(page.error());
  auto choices = page_choices(with.desk, *page);
  if (!choices) return refused(choices.error());
  auto list = studio_list(with.desk);
  if (!list) return refused(list.error(), 503);
  auto text = due_calendar(*list, choices->style.language, of);
  if (!text) return refused(text.error(), 422);
  return file_response(std::move(*text), "text/calendar; charset=utf-8", name);
}

}  // namespace

Response get_studio(Answering& with, const Request& request) {
  return without_throwing([&]() -> Response {
    if (auto known = only_asks(request, {"hours", "fixed"}); !known) return refused(known.error());
    auto wanted = day_in(request);
    if (!wanted) return refused(wanted.error());
    auto list = studio_list(with.desk);
    if (!list) return refused(list.error(), 503);
    std::optional<StudioDay> day;
    if (*wanted) {
      auto planned = studio_day(*list, **wanted);
      if (!planned) return refused(planned.error(), 422);
      day = std::move(*planned);
    }
    return ok(to_json(*list, day));
  });
}

Response get_all_due(Answering& with, const Request& request) {
  return without_throwing([&] { return calendar(with, request, std::nullopt, "due.ics"); });
}

Response get_due(Answering& with, const Request& request) {
  return at_piano(with, request, [&](const Asked& asked) {
    return calendar(with, request, asked.piano.id, asked.piano.name + ".ics");
  });
}

}  // namespace batten::server
