#include "exchange/rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <new>

namespace batten {
namespace {

using namespace std::string_view_literals;

constexpr std::array blanks = {" "sv, "\t"sv, "\n"sv, "\r"sv, "\u00A0"sv, "\u202F"sv};

// Past the line that begins at `place`, its end (CR LF, LF or CR) included.
std::size_t past_line(std::string_view text, std::size_t place) {
  while (place < text.size() && text[place] != '\n' && text[place] != '\r') ++place;
  if (place == text.size()) return place;
  return place +
         (text[place] == '\r' && place + 1 < text.size() && text[place + 1] == '\n' ? 2 : 1);
}

std::string_view without_line_end(std::string_view line) {
  while (!line.empty() && (line.back() == '\n' || line.back() == '\r')) line.remove_suffix(1);
  return line;
}

// What libcsv passes over between rows.
bool is_blank_line(std::string_view line, char separator) {
  return std::all_of(line.begin(), line.end(), [&](char c) {
    return c != separator && (c == ' ' || c == '\t' || c == '\n' || c == '\r');
  });
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  // Nearly every cell: nothing to take off.
  const auto printable = [](char c) { return c > ' ' && c < 0x7F; };
  if (text.empty() || (printable(text.front()) && printable(text.back()))) return text;
  for (bool again = true; again;) {
    again = false;
    for (const auto blank : blanks) {
      if (text.starts_with(blank)) {
        text.remove_prefix(blank.size());
        again = true;
      }
      if (text.ends_with(blank)) {
        text.remove_suffix(blank.size());
        again = true;
      }
    }
  }
  return text;
}

std::optional<SeparatorFound> find_separator(std::string_view text) {
  const std::size_t first_end = past_line(text, 0);
  const std::string_view first = without_line_end(text.substr(0, first_end));
  if (first.size() == 5 && (first.starts_with("sep=") || first.starts_with("SEP=")) &&
      (first[4] == ';' || first[4] == ',' || first[4] == '\t'))
    return SeparatorFound{first[4], first_end};

  std::size_t semicolons = 0, tabs = 0, commas = 0;
  bool quoted = false, begun = false;
  for (const char c : text) {
    if (c == '"') quoted = !quoted;
    if (quoted) continue;
    if (c == '\n' || c == '\r') {
      if (begun) break;
      semicolons = tabs = commas = 0;
      continue;
    }
    if (c != ' ' && c != '\t') begun = true;
    semicolons += c == ';';
    tabs += c == '\t';
    commas += c == ',';
  }
  const std::size_t most = std::max({semicolons, tabs, commas});
  if (!begun || most == 0) return std::nullopt;
  if (semicolons == most) return SeparatorFound{';', 0};
  if (tabs == most) return SeparatorFound{'\t', 0};
  return SeparatorFound{',', 0};
}

bool Row::blank() const {
  return !more_cells && fault == RowFault::none &&
         std::all_of(cells.begin(), cells.end(),
                     [](std::string_view cell) { return trimmed(cell).empty(); });
}

RowReader::RowReader(std::string_view text, char separator, int first_line,
                     const TableLimits& limits)
    : text_(text), line_(first_line), limits_(limits) {
  // csv_init fails for a null pointer only.
  csv_init(&parser_, 0);
  csv_init(&strict_, CSV_STRICT);
  for (csv_parser* parser : {&parser_, &strict_}) {
    csv_set_delim(parser, static_cast<unsigned char>(separator));
    csv_set_blk_size(parser, 4096);  // its buffer grows by this much; 128 would be slow
  }
}

RowReader::~RowReader() {
  csv_free(&parser_);
  csv_free(&strict_);
}

std::string_view RowReader::next_line() {
  const std::size_t end = past_line(text_, place_);
  const std::string_view line = text_.substr(place_, end - place_);
  place_ = end;
  ++line_;
  return line;
}

void RowReader::take_cell(const void* bytes, std::size_t length) {
  const std::string_view cell(static_cast<const char*>(bytes), length);
  if (ends_.size() == limits_.columns) {
    more_cells_ = more_cells_ || !trimmed(cell).empty();
    return;
  }
  too_long_ = too_long_ || length > limits_.cell_bytes;
  buffer_.append(cell);
  ends_.push_back(buffer_.size());
}

void RowReader::feed(std::string_view bytes) {
  const auto on_cell = [](void* cell, std::size_t length, void* self) {
    static_cast<RowReader*>(self)->take_cell(cell, length);
  };
  const auto on_row = [](int, void* self) { static_cast<RowReader*>(self)->complete_ = true; };
  // Not strict, libcsv stops early only for want of memory.
  if (csv_parse(&parser_, bytes.data(), bytes.size(), on_cell, on_row, this) != bytes.size())
    throw std::bad_alloc();
}

Result<bool> RowReader::next(Row& row) {
  const auto separator = static_cast<char>(csv_get_delim(&parser_));
  buffer_.clear();
  ends_.clear();
  more_cells_ = too_long_ = complete_ = false;
  std::size_t begin = place_;
  row.line = line_;
  while (!complete_) {
    if (place_ == text_.size()) {
      if (begin == place_) return false;
      return problem(
          fmt::format("A quotation mark opened in the row at line {} is never closed, so that all "
                      "that follows would be one cell.",
                      row.line),
          "Close the quotation mark there, or take it out.");
    }
    const std::string_view line = next_line();
    if (begin + line.size() == place_ && is_blank_line(line, separator)) {
      begin = place_;
      row.line = line_;
      continue;
    }
    if (place_ - begin > limits_.columns * limits_.cell_bytes)
      return problem(fmt::format("The row at line {} is longer than any table of readings has; a "
                                 "quotation mark may not be closed there.",
                                 row.line),
                     "Look at that line in a text editor.");
    feed(line);
    if (!complete_ && place_ == text_.size()) feed("\n");
  }
  row.last_line = line_ - 1;
  row.raw = without_line_end(text_.substr(begin, place_ - begin));
  row.more_cells = more_cells_;
  row.cells.clear();
  std::size_t from = 0;
  for (const std::size_t end : ends_) {
    row.cells.push_back(std::string_view(buffer_).substr(from, end - from));
    from = end;
  }
  row.fault = too_long_ ? RowFault::cell_too_long : RowFault::none;
  if (row.last_line > row.line) {
    // A forgotten quotation mark pairs with the opening one of a later row and would swallow the
    // rows between; strictly read, that later mark is an error.
    const auto length = row.raw.size();
    const bool sound =
        csv_parse(&strict_, row.raw.data(), length, nullptr, nullptr, nullptr) == length &&
        csv_parse(&strict_, "\n", 1, nullptr, nullptr, nullptr) == 1;
    if (!sound) row.fault = RowFault::quotes;
    csv_fini(&strict_, nullptr, nullptr, nullptr);
  }
  return true;
}

}  // namespace batten
