#include "records/backup_names.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <chrono>
#include <system_error>
#include <unistd.h>

namespace batten {

namespace {

// FNV-1a, 32 bits: not for secrets.
std::uint32_t digest(std::string_view text) {
  std::uint32_t hash = 2166136261U;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
  return hash;
}

}  // namespace

std::string print_backup_time(std::int64_t at_ms) {
  using namespace std::chrono;
  const auto at = floor<seconds>(sys_time<milliseconds>(milliseconds(at_ms)));
  const auto day = floor<days>(at);
  const year_month_day date(day);
  const hh_mm_ss time(at - day);
  return fmt::format("{:04}{:02}{:02}T{:02}{:02}{:02}Z", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                     time.hours().count(), time.minutes().count(), time.seconds().count());
}

std::optional<std::int64_t> parse_backup_time(std::string_view text) {
  using namespace std::chrono;
  if (text.size() != 16 || text[8] != 'T' || text[15] != 'Z') return std::nullopt;
  const auto number = [&](std::size_t from, std::size_t count) {
    int value = -1;
    const char* const end = text.data() + from + count;
    const auto read = std::from_chars(text.data() + from, end, value);
    return read.ec == std::errc{} && read.ptr == end ? value : -1;
  };
  const int y = number(0, 4), mon = number(4, 2), d = number(6, 2);
  const int h = number(9, 2), min = number(11, 2), s = number(13, 2);
  const year_month_day date(year(y), month(static_cast<unsigned>(mon)),
                            day(static_cast<unsigned>(d)));
  if (y < 0 || !date.ok() || h < 0 || h > 23 || min < 0 || min > 59 || s < 0 || s > 59)
    return std::nullopt;
  const auto at = sys_days(date) + hours(h) + minutes(min) + seconds(s);
  return duration_cast<milliseconds>(at.time_since_epoch()).count();
}

std::string backup_prefix(const std::filesystem::path& store) {
  std::array<char, 256> machine{};
  if (gethostname(machine.data(), machine.size() - 1) != 0) machine.front() = '\0';
  std::error_code ignored;
  const auto where = std::filesystem::weakly_canonical(store, ignored);
  return fmt::format("{}.{:08x}.", store.filename().string(),
                     digest(std::string(machine.data()) + ":" + where.string()));
}

}  // namespace batten
