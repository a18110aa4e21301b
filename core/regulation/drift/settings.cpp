#include "core/regulation/drift/settings.hpp"

#include "core/quantities/text.hpp"
#include "core/regulation/drift/civil.hpp"
#include "core/regulation/drift/priors.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

namespace batten {

namespace {

using drift::days_from_civil;
using drift::felt_kinds;

constexpr std::array<std::string_view, 12> months{"january",   "february", "march",    "april",
                                                  "may",       "june",     "july",     "august",
                                                  "september", "october",  "november", "december"};

std::string_view trim(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

// Digits only.
std::optional<int> whole(std::string_view text) {
  if (text.empty() || text.size() > 4) return std::nullopt;
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  return value;
}

Result<double> percent(std::string_view text, double least, double most, const char* todo) {
  text = trim(text);
  if (text.ends_with('%')) text = trim(text.substr(0, text.size() - 1));
  auto value = parse_number(text);
  if (!value) return value;
  if (!(*value >= least && *value <= most))
    return problem(std::string(text) + " % cannot be meant.", todo);
  return value;
}

Result<void> set_hours(const std::string& value, DriftSettings& out) {
  auto hours = parse_number(value);
  if (!hours) return tl::unexpected(hours.error());
  if (!(*hours >= 0.5 && *hours <= 120))
    return problem("\"" + value + "\" hours a week cannot be meant.",
                   "Write how long it is played in a week, from 0.5 to 120 hours.");
  out.playing_hours = *hours;
  out.playing_hours_known = true;
  return {};
}

std::optional<int> month_of(std::string_view text) {
  const std::string name = lower(trim(text));
  if (const auto number = whole(name); number && *number >= 1 && *number <= 12) return number;
  for (std::size_t i = 0; i < months.size(); ++i)
    if (name.size() >= 3 && months[i].starts_with(name)) return static_cast<int>(i) + 1;
  return std::nullopt;
}

Result<void> set_climate(const std::string& value, DriftSettings& out) {
  constexpr const char* todo =
      "Write the driest and the dampest of the year in percent, as in \"40 to 60\" or "
      "\"40 to 60; driest february\".";
  const std::string all = lower(value);
  std::string_view text = all;
  RoomYear year;
  if (const auto at = text.find("driest"); at != std::string_view::npos) {
    year.driest_month = month_of(text.substr(at + 6));
    if (!year.driest_month)
      return problem("\"" + value + "\" names no month.",
                     "Name the driest month, as in \"driest february\" or \"driest 2\".");
    text = trim(text.substr(0, at));
    if (text.ends_with(',') || text.ends_with(';')) text.remove_suffix(1);
  }
  const auto to = text.find(" to ");
  if (to == std::string_view::npos) return problem("\"" + value + "\" is no span.", todo);
  auto low = percent(text.substr(0, to), 5, 95, todo);
  auto high = percent(text.substr(to + 4), 5, 95, todo);
  if (!low) return tl::unexpected(low.error());
  if (!high) return tl::unexpected(high.error());
  if (*low > *high) return problem("\"" + value + "\" begins with the damper one.", todo);
  year.driest = *low;
  year.dampest = *high;
  out.climate = year;
  return {};
}

Result<void> set_limit(const std::string& value, DriftSettings& out) {
  auto limit = percent(value, 1, 90, "Write a share from 1 to 90 %, as in \"20 %\".");
  if (!limit) return tl::unexpected(limit.error());
  out.return_limit = *limit / 100;
  return {};
}

// "2025-03-01" or "2025-03".
std::optional<std::int64_t> day_of(std::string_view text) {
  const auto dash = text.find('-');
  if (dash != 4) return std::nullopt;
  const auto year = whole(text.substr(0, 4));
  const std::string_view rest = text.substr(5);
  const auto second = rest.find('-');
  const auto month = whole(rest.substr(0, second));
  const auto day =
      second == std::string_view::npos ? std::optional(1) : whole(rest.substr(second + 1));
  if (!year || !month || !day || *year < 1800 || *month < 1 || *month > 12 || *day < 1 ||
      *day > drift::days_of_month(*year, *month))
    return std::nullopt;
  return days_from_civil(*year, *month, *day);
}

Result<void> set_felt(const std::string& value, DriftSettings& out) {
  std::string_view text = value;
  out.new_felt.clear();
  if (trim(text).empty()) return {};
  for (;;) {
    const auto end = text.find(';');
    const std::string_view piece = trim(text.substr(0, end));
    const auto blank = piece.find(' ');
    const auto day = day_of(piece.substr(0, blank));
    if (!day)
      return problem("\"" + std::string(piece) + "\" does not begin with a date.",
                     "Write the day or the month first, as in \"2025-03-01 hammers\".");
    const std::string what =
        blank == std::string_view::npos ? "all" : lower(trim(piece.substr(blank)));
    if (std::ranges::find(felt_kinds, what) == felt_kinds.end()) {
      std::string known;
      for (const std::string_view k : felt_kinds)
        known += (known.empty() ? "" : ", ") + std::string(k);
      return problem("There is no felt \"" + what + "\".", "There are: " + known + ".");
    }
    out.new_felt.push_back({*day * std::int64_t{86400000}, what});
    if (end == std::string_view::npos) return {};
    text.remove_prefix(end + 1);
  }
}

struct Named {
  const char* name;
  Result<void> (*set)(const std::string&, DriftSettings&);
};
constexpr Named known_settings[] = {
    {"playing-hours", set_hours},
    {"climate", set_climate},
    {"return-limit", set_limit},
    {"new-felt", set_felt},
};

tl::unexpected<Problem> about(const std::string& name, Problem p) {
  p.happened = "Setting " + name + ": " + p.happened;
  return tl::unexpected(std::move(p));
}

}  // namespace

Result<DriftSettings> drift_settings(const std::map<std::string, std::string>& on_record) {
  DriftSettings settings;
  for (const Named& s : known_settings) {
    const auto it = on_record.find(s.name);
    if (it == on_record.end()) continue;
    if (auto done = s.set(it->second, settings); !done) return about(s.name, done.error());
  }
  return settings;
}

Result<void> check_drift_setting(const std::string& name, const std::string& value) {
  if (!is_drift_setting(name))
    return problem("There is no setting \"" + name + "\".",
                   "There are: playing-hours, climate, return-limit, new-felt.");
  if (auto settings = drift_settings({{name, value}}); !settings)
    return tl::unexpected(settings.error());
  return {};
}

bool is_drift_setting(const std::string& name) {
  return std::ranges::any_of(known_settings, [&](const Named& s) { return name == s.name; });
}

}  // namespace batten
