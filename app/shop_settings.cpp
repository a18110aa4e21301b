#include "app/shop_settings.hpp"

#include "core/quantities/number_text.hpp"
#include "core/quantities/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>

namespace batten {

namespace {

constexpr const char* as_before = "What was set before holds.";
constexpr std::size_t longest_name = 120;  // bytes
constexpr std::size_t longest_line = 200;  // bytes
constexpr std::size_t most_letter_lines = 8;
constexpr std::size_t most_check_lines = 60;

tl::unexpected<Problem> no(std::string what, std::string todo) {
  return problem(std::move(what), std::move(todo), as_before);
}

bool has_control_characters(std::string_view text) {
  return std::ranges::any_of(text, [](char c) {
    return (static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\r' && c != '\t') ||
           c == '\x7f';
  });
}

using Checked = Result<std::string>;

Checked one_line(const std::string& value) {
  const std::string text(without_outer_blanks(value));
  if (text.find_first_of("\r\n") != std::string::npos)
    return no("This is one line, and there are several.", "Leave the line breaks out.");
  if (text.size() > longest_name)
    return no("The text is too long for one line.",
              fmt::format("At most {} bytes fit.", longest_name));
  return text;
}

Checked some_lines(const std::string& value, std::size_t most) {
  const std::vector<std::string> lines = lines_of(value);
  if (lines.size() > most)
    return no(fmt::format("{} lines are too many.", lines.size()),
              fmt::format("At most {} are kept.", most));
  std::string text;
  for (const std::string& line : lines) {
    if (line.size() > longest_line)
      return no("A line is too long.", fmt::format("At most {} bytes fit.", longest_line));
    text += (text.empty() ? "" : "\n") + line;
  }
  return text;
}
Checked letter_lines(const std::string& value) { return some_lines(value, most_letter_lines); }
Checked check_lines(const std::string& value) { return some_lines(value, most_check_lines); }

Checked choice(const std::string& value, std::initializer_list<const char*> choices) {
  std::string text(without_outer_blanks(value));
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  std::string there;
  for (const char* one : choices) {
    if (text == one) return text;
    there += (there.empty() ? "" : ", ") + std::string(one);
  }
  return no(batten::quoted(value) + " is none of the choices.", "There are: " + there + ".");
}
Checked paper(const std::string& value) { return choice(value, {"a4", "letter"}); }
Checked language(const std::string& value) { return choice(value, {"en", "de"}); }
Checked unit(const std::string& value) { return choice(value, {"mm", "in"}); }

std::optional<double> share_of(std::string_view text) {
  text = without_outer_blanks(text);
  if (text.ends_with('%')) text.remove_suffix(1);
  const auto percent = parse_number(text);
  if (!percent || *percent < 1 || *percent > 90) return std::nullopt;
  return *percent / 100;
}

Checked limit(const std::string& value) {
  if (!share_of(value))
    return no(batten::quoted(value) + " is no share from 1 to 90 %.", "Write it as in \"20 %\".");
  return std::string(without_outer_blanks(value));
}

Checked folder(const std::string& value) {
  std::string text(without_outer_blanks(value));
  if (text == "none") return text;
  if (!std::filesystem::path(text).is_absolute())
    return no(batten::quoted(value) + " does not begin at the top of the file system.",
              "Write the whole path, as in \"/media/stick/batten\", or \"none\" for no backups.");
  return text;
}

Checked keep(const std::string& value) {
  if (auto parsed = parse_backup_keep(value); !parsed) return tl::unexpected(parsed.error());
  return std::string(without_outer_blanks(value));
}

struct Kept {
  SettingGuide guide;
  Checked (*check)(const std::string& value);
};

const std::vector<Kept>& all_kept() {
  static const std::vector<Kept> all{
      {{"letterhead-name",
        "letterhead",
        "Mira Sand, grand pianos",
        "",
        "",
        {},
        "Your name or the workshop's, at the head of what you hand over. One line."},
       one_line},
      {{"letterhead-lines",
        "letterhead",
        "Mill Lane 3, Oxbury; 0555 123 456",
        "",
        "",
        {},
        "Address, telephone and what else stands under the name: up to eight lines, ';' or a line "
        "break between."},
       letter_lines},
      {{"paper", "paper", "a4", "a4", "", {"a4", "letter"}, "What the pages are printed on."},
       paper},
      {{"language", "paper", "de", "en", "", {"en", "de"}, "What the pages are written in."},
       language},
      {{"unit", "paper", "mm", "mm", "", {"mm", "in"}, "Lengths on the pages."}, unit},
      {{"return-limit",
        "due",
        "20 %",
        "20 %",
        "",
        {},
        "Share of the readings that may lie outside their tolerance before it is time to come "
        "back. "
        "From 1 to 90 %; a piano may have its own."},
       limit},
      {{"check-list-transport",
        "checks",
        "Wheels locked; screws tight; pedals travel",
        "",
        "",
        {},
        "What you look at first after a transport, a line each. Common practice stands in."},
       check_lines},
      {{"check-list-new-hammers",
        "checks",
        "Strike line; hammers spaced; tails catch",
        "",
        "",
        {},
        "What you look at first with new hammers, a line each. Common practice stands in."},
       check_lines},
      {{"backup-folder",
        "backup",
        "/media/stick/batten",
        "backups, beside the store",
        "",
        {},
        "Where copies of the store are kept, the whole path; another disk is better than the same. "
        "\"none\": no copies are made by themselves."},
       folder},
      {{"backup-keep",
        "backup",
        "14 days, 8 weeks, 24 months",
        "7 days, 4 weeks, 12 months",
        "",
        {},
        "How many copies are kept: the last of each of so many days, weeks and months."},
       keep}};
  return all;
}

}  // namespace

std::span<const SettingGuide> shop_guide() {
  static const std::vector<SettingGuide> guide = [] {
    std::vector<SettingGuide> list;
    for (const Kept& one : all_kept()) list.push_back(one.guide);
    return list;
  }();
  return guide;
}

std::vector<std::string> lines_of(std::string_view value) {
  std::vector<std::string> lines;
  while (!value.empty()) {
    const std::size_t end = std::min(value.find_first_of(";\r\n"), value.size());
    if (const std::string_view line = without_outer_blanks(value.substr(0, end)); !line.empty())
      lines.emplace_back(line);
    value.remove_prefix(std::min(end + 1, value.size()));
  }
  return lines;
}

std::optional<double> return_limit_of(const std::map<std::string, std::string>& shop) {
  const auto set = shop.find("return-limit");
  return set == shop.end() ? std::nullopt : share_of(set->second);
}

Result<BackupKeep> parse_backup_keep(std::string_view text) {
  const auto wrong = [&] {
    return no(batten::quoted(text) + " does not say how many copies to keep.",
              "Write it as in \"7 days, 4 weeks, 12 months\", each from 0 to 400, not all 0.");
  };
  BackupKeep keep{0, 0, 0};
  std::array<bool, 3> said{};
  std::string_view rest = text;
  while (!without_outer_blanks(rest).empty()) {
    const std::size_t end = std::min(rest.find(','), rest.size());
    const auto number = take_number(without_outer_blanks(rest.substr(0, end)), "a number");
    rest.remove_prefix(std::min(end + 1, rest.size()));
    if (!number || number->value != static_cast<int>(number->value) || number->value < 0 ||
        number->value > 400)
      return wrong();
    const std::string_view what = number->rest;
    const std::size_t which = what == "days" || what == "day"       ? 0
                              : what == "weeks" || what == "week"   ? 1
                              : what == "months" || what == "month" ? 2
                                                                    : 3;
    if (which == 3 || said[which]) return wrong();
    said[which] = true;
    (which == 0   ? keep.days
     : which == 1 ? keep.weeks
                  : keep.months) = static_cast<int>(number->value);
  }
  if (keep == BackupKeep{0, 0, 0}) return wrong();
  return keep;
}

Result<void> choose_for_shop(Desk& desk, const std::string& name, const std::string& value) {
  return guarded([&]() -> Result<void> {
    const auto kept =
        std::ranges::find(all_kept(), name, [](const Kept& k) { return k.guide.name; });
    if (kept == all_kept().end()) {
      std::string there;
      for (const Kept& one : all_kept()) there += (there.empty() ? "" : ", ") + one.guide.name;
      return problem("There is no setting " + batten::quoted(name) + " of the workshop.",
                     "There are: " + there + ".", "Nothing was changed.");
    }
    if (without_outer_blanks(value).empty()) return desk.store.set_shop(name, std::nullopt);
    if (has_control_characters(value))
      return no("The text holds characters that no page can show.", "Type it again.");
    auto checked = kept->check(value);
    if (!checked) return tl::unexpected(std::move(checked.error()));
    if (checked->empty()) return desk.store.set_shop(name, std::nullopt);
    return desk.store.set_shop(name, *checked);
  });
}

Result<std::map<std::string, std::string>> shop_settings(Desk& desk) {
  return guarded([&]() -> Result<std::map<std::string, std::string>> { return desk.store.shop(); });
}

}  // namespace batten
