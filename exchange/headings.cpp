#include "exchange/headings.hpp"

#include "exchange/encoding.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace batten {
namespace {

constexpr auto nothing_taken = "Nothing was taken from the table.";

// Lower case, every run of blanks, line breaks, '-' and '_' one '-'.
std::string plain_name(std::string_view text) {
  std::string name;
  text = trimmed(text);
  while (!text.empty()) {
    const char c = text.front();
    if (c == '-' || c == '_' || trimmed(text.substr(0, 1)).empty()) {
      if (!name.ends_with('-')) name += '-';
    } else {
      name += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    text.remove_prefix(1);
  }
  return name;
}

struct Heading {
  std::string name;                 // plain, without unit
  std::optional<std::string> unit;  // what stood in brackets
};

Heading split_heading(std::string_view text) {
  text = trimmed(text);
  Heading heading;
  if (!text.empty() && (text.back() == ']' || text.back() == ')')) {
    const auto open = text.rfind(text.back() == ']' ? '[' : '(');
    if (open != std::string_view::npos) {
      heading.unit = std::string(trimmed(text.substr(open + 1, text.size() - open - 2)));
      text = text.substr(0, open);
    }
  }
  heading.name = plain_name(text);
  return heading;
}

std::string known_readings() {
  std::string list;
  for (const auto& kind : reading_kinds()) {
    if (!list.empty()) list += ", ";
    list += kind.code;
  }
  return list;
}

tl::unexpected<Problem> wrong(std::string happened, std::string todo) {
  return problem(std::move(happened), std::move(todo), nothing_taken);
}

tl::unexpected<Problem> unknown_headings(const std::vector<std::string>& unknown,
                                         std::string expected) {
  return wrong(
      fmt::format("The table has {} nobody here knows: {}.",
                  unknown.size() == 1 ? "a heading" : "headings", fmt::join(unknown, ", ")),
      "Expected: " + std::move(expected));
}

tl::unexpected<Problem> double_heading(std::string_view name) {
  return wrong(fmt::format("The table has the heading “{}” twice.", shown(name)),
               "Keep one of the two columns.");
}

Result<Headings> parse_long(const Row& row, Headings headings) {
  std::optional<std::size_t> note, reading, value;
  LongColumns& columns = headings.long_columns;
  std::vector<std::string> unknown;
  for (std::size_t i = 0; i < row.cells.size(); ++i) {
    if (!headings.named[i]) continue;
    const std::string name = plain_name(row.cells[i]);
    std::optional<std::size_t>* place = name == "note"          ? &note
                                        : name == "reading"     ? &reading
                                        : name == "value"       ? &value
                                        : name == "unit"        ? &columns.unit
                                        : name == "uncertainty" ? &columns.uncertainty
                                        : name == "gauge"       ? &columns.gauge
                                                                : nullptr;
    if (place == nullptr)
      unknown.push_back("“" + shown(row.cells[i]) + "”");
    else if (place->has_value())
      return double_heading(name);
    else
      *place = i;
  }
  constexpr auto expected =
      "note, reading, value and, if wanted, unit, uncertainty, gauge; or a table with a column for "
      "each reading.";
  if (!unknown.empty()) return unknown_headings(unknown, expected);
  for (const auto& [place, name] :
       {std::pair(note, "note"), std::pair(reading, "reading"), std::pair(value, "value")})
    if (!place)
      return wrong(fmt::format("The table has no column “{}”.", name),
                   std::string("Expected: ") + expected);
  columns.note = *note;
  columns.reading = *reading;
  columns.value = *value;
  return headings;
}

enum class WideRole { value, uncertainty, gauge };

struct WideHeading {
  Reading reading;
  WideRole role;
};

std::optional<WideHeading> wide_heading(std::string_view name) {
  if (const auto reading = reading_by_code(name)) return WideHeading{*reading, WideRole::value};
  for (const auto& [suffix, role] :
       {std::pair(std::string_view("-uncertainty"), WideRole::uncertainty),
        std::pair(std::string_view("-gauge"), WideRole::gauge)}) {
    if (!name.ends_with(suffix)) continue;
    if (const auto reading = reading_by_code(name.substr(0, name.size() - suffix.size())))
      return WideHeading{*reading, role};
  }
  return std::nullopt;
}

struct Companion {
  Reading reading;
  std::size_t column;
  std::optional<std::string> unit;
};

Result<Headings> parse_wide(const Row& row, Headings headings) {
  std::optional<std::size_t> note;
  std::vector<std::string> unknown;
  std::vector<Companion> uncertainties, gauges;
  const auto has = [](const auto& list, Reading reading) {
    return std::any_of(list.begin(), list.end(),
                       [&](const auto& one) { return one.reading == reading; });
  };
  for (std::size_t i = 0; i < row.cells.size(); ++i) {
    if (!headings.named[i]) continue;
    const Heading heading = split_heading(row.cells[i]);
    if (heading.name == "note" || heading.name == "gauge") {
      auto& place = heading.name == "note" ? note : headings.wide_gauge;
      if (place) return double_heading(heading.name);
      place = i;
      continue;
    }
    const auto known = wide_heading(heading.name);
    if (!known) {
      unknown.push_back("“" + shown(row.cells[i]) + "”");
      continue;
    }
    if (known->role == WideRole::value) {
      if (has(headings.wide, known->reading)) return double_heading(row.cells[i]);
      const auto unit = parse_unit(heading.unit.value_or(""), kind_of(known->reading).unit);
      if (!unit)
        return wrong(
            fmt::format("The heading “{}”: {}", shown(row.cells[i]), unit.error().happened),
            "Mend the unit in the heading.");
      headings.wide.push_back({.reading = known->reading,
                               .value = i,
                               .unit = *unit,
                               .unit_text = heading.unit.value_or(""),
                               .uncertainty = {},
                               .gauge = {},
                               .uncertainty_unit = *unit});
    } else {
      auto& list = known->role == WideRole::uncertainty ? uncertainties : gauges;
      if (has(list, known->reading)) return double_heading(row.cells[i]);
      list.push_back({known->reading, i, heading.unit});
    }
  }
  const auto expected = [] {
    return "note, and a column for each reading, with \"[mm]\" or \"uncertainty\" or \"gauge\" "
           "behind "
           "its name if wanted. Readings: " +
           known_readings() + ". Or the columns note, reading, value, unit.";
  };
  if (!unknown.empty()) return unknown_headings(unknown, expected());
  if (!note) return wrong("The table has no column “note”.", "Expected: " + expected());
  headings.wide_note = *note;

  for (const auto* list : {&uncertainties, &gauges}) {
    for (const auto& companion : *list) {
      const auto column =
          std::find_if(headings.wide.begin(), headings.wide.end(),
                       [&](const auto& one) { return one.reading == companion.reading; });
      if (column == headings.wide.end())
        return wrong(fmt::format("The table has the column “{}” but none for the reading itself.",
                                 shown(row.cells[companion.column])),
                     fmt::format("Add a column “{}”, or take this one out.",
                                 kind_of(companion.reading).code));
      if (list == &gauges) {
        column->gauge = companion.column;
        continue;
      }
      column->uncertainty = companion.column;
      if (!companion.unit) continue;
      const auto unit = parse_unit(*companion.unit, kind_of(companion.reading).unit);
      if (!unit)
        return wrong(fmt::format("The heading “{}”: {}", shown(row.cells[companion.column]),
                                 unit.error().happened),
                     "Mend the unit in the heading.");
      column->uncertainty_unit = *unit;
    }
  }
  return headings;
}

}  // namespace

Result<Headings> parse_headings(const Row& row) {
  if (row.more_cells)
    return wrong(fmt::format("The table has more than {} columns.", row.cells.size()),
                 "Take out the columns that hold no readings.");
  if (row.fault != RowFault::none)
    return wrong(
        fmt::format("The headings at line {} cannot be read; their quotation marks are not "
                    "in pairs, or one heading is very long.",
                    row.line),
        "Look at that line in a text editor.");
  Headings headings;
  bool is_long = false;
  for (const auto cell : row.cells) {
    headings.named.push_back(!trimmed(cell).empty());
    const std::string name = plain_name(cell);
    is_long = is_long || name == "reading" || name == "value";
  }
  headings.form = is_long ? TableForm::long_form : TableForm::wide_form;
  return is_long ? parse_long(row, std::move(headings)) : parse_wide(row, std::move(headings));
}

}  // namespace batten
