#include "cli/studio_commands.hpp"

#include "app/files.hpp"
#include "app/paper_choices.hpp"
#include "cli/desk_work.hpp"
#include "json/studio_json.hpp"

#include <fmt/format.h>

#include <memory>
#include <vector>

namespace batten::cli {

namespace {

struct DueWords {
  std::string hours, calendar, language;
  std::vector<std::string> fixed;
  bool all = false;
};

int write_due(const Common& common, Desk& desk, const StudioList& list, const DueWords& words) {
  auto choices = page_choices(desk, {words.language, "", std::nullopt});
  if (!choices) return fail(common, choices.error());
  auto text = due_calendar(list, choices->style.language);
  if (!text) return fail(common, text.error());
  if (auto written = write_file(words.calendar, *text); !written)
    return fail(common, written.error());
  if (!common.json) say(words.calendar + ": the days pianos are due, for your calendar.");
  return done;
}

int due(const Common& common, const DueWords& words) {
  return with_desk(common, [&](Desk& desk) {
    auto list = studio_list(desk);
    if (!list) return fail(common, list.error());
    std::optional<StudioDay> day;
    if (!words.hours.empty()) {
      auto hours = parse_hours(words.hours);
      if (!hours) return fail(common, hours.error());
      DayRequest request{*hours, {}};
      for (const std::string& name : words.fixed) {
        auto piano = choose_piano(desk, name);
        if (!piano) return fail(common, piano.error());
        request.fixed.push_back(piano->id);
      }
      auto planned = studio_day(*list, request);
      if (!planned) return fail(common, planned.error());
      day = std::move(*planned);
    } else if (!words.fixed.empty()) {
      return fail(common, {"Which pianos are promised says nothing without the hours there are.",
                           "", "Give them too: batten due --hours 6 --fixed \"Hall grand\"."});
    }
    if (!words.calendar.empty())
      if (const int code = write_due(common, desk, *list, words); code != done) return code;
    if (common.json)
      say(to_json(*list, day));
    else if (day)
      say(day_text(*list, *day));
    else if (words.calendar.empty())
      say(studio_text(*list, words.all));
    return done;
  });
}

}  // namespace

void add_studio_commands(CLI::App& app, const Common& common, Command& chosen) {
  auto w = std::make_shared<DueWords>();
  auto* d = command(app, chosen, "due", "when every piano is due, and a day's plan",
                    "  batten due\n"
                    "  batten due --hours 6                        which pianos, in which order\n"
                    "  batten due --hours \"6 h 30\" --fixed \"Hall grand\"\n"
                    "  batten due --calendar due.ics",
                    [w, &common] { return due(common, *w); });
  d->add_option("--hours", w->hours, "plan a day of so many: 6, 6.5, \"6 h 30\"");
  d->add_option("--fixed", w->fixed, "a piano promised for that day; may be said again")
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  d->add_option("--calendar", w->calendar, "write the days into this file (iCalendar)");
  d->add_option("--language", w->language, "of the calendar: en or de");
  d->add_flag("--all", w->all, "those too that are not due for half a year and more");
}

}  // namespace batten::cli
