#include "app/drift_job.hpp"

#include "app/entries.hpp"
#include "app/pianos.hpp"
#include "app/shop_settings.hpp"
#include "core/quantities/text.hpp"

#include <chrono>
#include <cmath>

namespace batten {

namespace {

// Of what could be learned, the share from which the piano's own past carries the forecast (ours).
constexpr double much = 0.5;

}  // namespace

Result<Outlook> look_ahead(const Piano& piano, const Standing& standing, std::int64_t now_ms,
                           std::optional<double> shop_limit, const DriftRequest& request) {
  DriftOptions options;
  options.from_ms = now_ms;
  options.months = request.months;
  options.limit = request.limit;
  if (!options.limit && shop_limit && !standing.settings.contains("return-limit"))
    options.limit = shop_limit;
  return calc_outlook(compass_of(piano), standing, options);
}

Result<Outlook> look_ahead(Desk& desk, const Piano& piano, const DriftRequest& request) {
  return guarded([&]() -> Result<Outlook> {
    auto now = standing(desk, piano);
    if (!now) return tl::unexpected(now.error());
    auto shop = shop_settings(desk);
    if (!shop) return tl::unexpected(shop.error());
    return look_ahead(piano, *now, desk.now_ms(), return_limit_of(*shop), request);
  });
}

Result<FirstChecks> first_checks(Desk& desk, const Piano& piano, std::string_view after) {
  return guarded([&]() -> Result<FirstChecks> {
    const auto spell = spell_by_code(after);
    if (!spell)
      return problem("There is no list of checks after \"" + std::string(after) + "\".",
                     "There are: dry, wet, heavy-use, new-felt, transport, new-hammers.");
    auto now = standing(desk, piano);
    if (!now) return tl::unexpected(now.error());
    auto shop = shop_settings(desk);
    if (!shop) return tl::unexpected(shop.error());
    DriftOptions options;
    options.from_ms = desk.now_ms();
    const auto list = shop->find("check-list-" + std::string(after));
    return calc_first_checks(
        compass_of(piano), *now, *spell, options,
        list == shop->end() ? std::vector<std::string>{} : lines_of(list->second));
  });
}

Result<double> parse_share(const std::string& text) {
  std::string number = text;
  while (!number.empty() && (number.back() == '%' || number.back() == ' ')) number.pop_back();
  auto percent = parse_number(number);
  if (!percent) return percent;
  if (!(*percent >= 1 && *percent <= 90))
    return problem("\"" + text + "\" is no limit that can be meant.",
                   "Write a share from 1 to 90 %, as in 20.");
  return *percent / 100;
}

Result<int> parse_months(const std::string& text) {
  auto months = parse_number(text);
  if (!months) return tl::unexpected(months.error());
  if (!(*months >= 1 && *months <= 60) || *months != std::floor(*months))
    return problem("\"" + text + "\" months cannot be looked ahead.",
                   "Write a whole number from 1 to 60.");
  return static_cast<int>(*months);
}

std::string date_of(std::int64_t at_ms, Language language) {
  const std::chrono::year_month_day d = std::chrono::floor<std::chrono::days>(
      std::chrono::sys_time<std::chrono::milliseconds>(std::chrono::milliseconds(at_ms)));
  return date_in(language, static_cast<int>(d.year()), static_cast<int>(unsigned{d.month()}),
                 static_cast<int>(unsigned{d.day()}));
}

std::string share_text(double share, Language language) {
  if (share > 0 && share < 0.01) return "< 1 %";
  return number_in(language, 100 * share, 0) + " %";
}

std::string due_sentence(const Outlook& o, Language language) {
  const OutlookDue& due = o.due;
  std::string text = say(language, "drift.due." + std::string(code_of(due.state)),
                         {{"date", due.at_ms ? date_of(*due.at_ms, language) : ""},
                          {"share", share_text(o.notes_outside_now, language)},
                          {"limit", share_text(o.limit, language)},
                          {"months", std::to_string(o.months)}});
  if (due.state == DueState::unknown || due.state == DueState::overdue) return text;
  const std::string low = due.low_ms ? date_of(*due.low_ms, language) : "";
  const std::string high = due.high_ms ? date_of(*due.high_ms, language) : "";
  const bool now = due.low_day && *due.low_day <= 0;
  const char* key = due.low_ms && !now ? (due.high_ms ? "drift.due.span" : "drift.due.span-from")
                    : due.high_ms      ? "drift.due.span-to"
                                       : nullptr;
  if (key != nullptr) text += "; " + say(language, key, {{"low", low}, {"high", high}});
  return text;
}

std::string grounds_sentence(const Outlook& o, Language language) {
  const OutlookGrounds& g = o.known_from;
  if (o.known == 0) return say(language, "drift.known.none");
  std::string text;
  if (g.visits <= 1)
    text = say(language, "drift.known.one-visit");
  else if (g.pairs == 0)
    text = say(language, "drift.known.no-pairs");
  else
    text = say(language, g.learned < much ? "drift.known.little" : "drift.known.much",
               {{"pairs", number_in(language, g.pairs, 0)},
                {"visits", std::to_string(g.visits)},
                {"learned", share_text(g.learned, language)}});
  if (!g.playing_hours_known) text += " " + say(language, "drift.known.no-hours");
  if (!g.climate_known)
    text +=
        " " + say(language, "drift.known.no-climate", {{"count", std::to_string(g.humidities)}});
  return text;
}

}  // namespace batten
