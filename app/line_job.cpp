#include "app/line_job.hpp"

#include "app/entries.hpp"
#include "app/pianos.hpp"

#include <fmt/format.h>

#include <array>
#include <chrono>
#include <ctime>

namespace batten {

namespace {

std::chrono::sys_time<std::chrono::milliseconds> moment(std::int64_t at_ms) {
  return std::chrono::sys_time<std::chrono::milliseconds>(std::chrono::milliseconds(at_ms));
}

std::chrono::year_month_day day_of(std::int64_t at_ms) {
  return std::chrono::floor<std::chrono::days>(moment(at_ms));
}

// C++20's time zones are not in GCC 12.
std::tm where_the_user_is(std::int64_t at_ms) {
  const auto seconds = static_cast<std::time_t>(
      std::chrono::floor<std::chrono::seconds>(moment(at_ms)).time_since_epoch().count());
  std::tm broken_down{};
  localtime_r(&seconds, &broken_down);
  return broken_down;
}

}  // namespace

std::string print_date(std::int64_t at_ms) {
  static constexpr std::array months{"January",   "February", "March",    "April",
                                     "May",       "June",     "July",     "August",
                                     "September", "October",  "November", "December"};
  const std::tm d = where_the_user_is(at_ms);
  return fmt::format("{} {} {}", d.tm_mday, months.at(static_cast<std::size_t>(d.tm_mon)),
                     d.tm_year + 1900);
}

std::string print_clock(std::int64_t at_ms) {
  const std::tm d = where_the_user_is(at_ms);
  return fmt::format("{:04}-{:02}-{:02} {:02}:{:02}", d.tm_year + 1900, d.tm_mon + 1, d.tm_mday,
                     d.tm_hour, d.tm_min);
}

std::string print_timestamp(std::int64_t at_ms) {
  const auto d = day_of(at_ms);
  const auto in_day = std::chrono::floor<std::chrono::seconds>(
      moment(at_ms) - std::chrono::floor<std::chrono::days>(moment(at_ms)));
  const std::chrono::hh_mm_ss t(in_day);
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", static_cast<int>(d.year()),
                     static_cast<unsigned>(d.month()), static_cast<unsigned>(d.day()),
                     t.hours().count(), t.minutes().count(), t.seconds().count());
}

Result<Line> draw_line(Desk& desk, const Piano& piano) {
  auto now = standing(desk, piano);
  if (!now) return tl::unexpected(now.error());
  return calc_line(compass_of(piano), *now);
}

Result<int> write_sheet(Desk& desk, const Piano& piano, const std::filesystem::path& file,
                        SheetRequest request) {
  return guarded([&]() -> Result<int> {
    auto line = draw_line(desk, piano);
    if (!line) return tl::unexpected(line.error());
    auto visit = current_visit(desk, piano);
    if (!visit) return tl::unexpected(visit.error());
    const std::int64_t now = desk.now_ms();
    const SheetHeading heading{piano.name, piano.place, visit->title, print_date(now), desk.who};
    request.options.created = print_timestamp(now);
    if (request.picture)
      return render_line_sheet_png(*line, heading, request.options, file, request.page,
                                   request.dpi);
    return render_line_sheet_pdf(*line, heading, request.options, file);
  });
}

}  // namespace batten
