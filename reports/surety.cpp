#include "reports/notes.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <vector>

namespace batten::paper {
namespace {

constexpr double row_height = 16, head_height = 25;

struct Column {
  double share;  // of the width
  std::array<std::string, 2> head;
};

std::string or_dash(const std::optional<Length>& length, Units units) {
  return length ? units.fine(*length) : "–";
}

std::vector<std::string> section_row(const Line& line, int index, Units units) {
  const SectionSummary& summary = line.sections[static_cast<std::size_t>(index)];
  const std::string first = units.fine(summary.blow.at_first);
  const std::string last = units.fine(summary.blow.at_last);
  return {fmt::format("{}–{}", note_label(summary.section.first), note_label(summary.section.last)),
          first == last ? first : fmt::format("{}–{}", first, last),
          std::to_string(summary.strings_read),
          std::to_string(summary.hammers_read),
          units.fine(1.96 * summary.target_sd_rms),
          or_dash(summary.evenness_to_neighbours, units),
          or_dash(summary.evenness_to_target, units),
          or_dash(expected_evenness(line, index), units),
          advises(line) ? std::to_string(summary.moves) : "–"};
}

std::vector<std::string> total_row(const Line& line, Units units) {
  int strings = 0, hammers = 0, moves = 0;
  for (const SectionSummary& summary : line.sections) {
    strings += summary.strings_read;
    hammers += summary.hammers_read;
    moves += summary.moves;
  }
  return {"all",
          "",
          std::to_string(strings),
          std::to_string(hammers),
          "",
          or_dash(line.evenness_to_neighbours, units),
          or_dash(line.evenness_to_target, units),
          or_dash(expected_evenness(line, -1), units),
          advises(line) ? std::to_string(moves) : "–"};
}

std::string what_it_rests_on(const Line& line, Units units) {
  const int decimals = units.inches ? 2 : 1;
  std::string words = fmt::format(
      "One turn of a capstan is taken to move a crown {} ± {}\u202f{}.",
      units.number(units.value(line.settings.crown_per_turn * turn), decimals),
      units.number(units.value(line.settings.crown_per_turn_sd * turn), decimals), units.symbol());
  if (line.transfer.needed) {
    words += line.transfer.readings == 0
                 ? " The bench and the key bed are not tied together yet."
                 : fmt::format(
                       " Bench to key bed: {} in the bass to {} in the treble, ± {} (95 % sure) "
                       "from {}.",
                       units.fine(line.transfer.offset_at_lowest),
                       units.fine_with_unit(line.transfer.offset_at_highest),
                       units.fine_with_unit(1.96 * line.transfer.sd_ends),
                       counted(static_cast<std::size_t>(line.transfer.readings), "note", "notes"));
  }
  return words;
}

}  // namespace

void flow_summary(Flow& flow, const Line& line, Units units) {
  if (!line.evenness_to_target) return;
  std::string words =
      fmt::format("Off target by {} now", units.fine_with_unit(*line.evenness_to_target));
  if (const auto after = expected_evenness(line, -1)) {
    words += fmt::format(", about {} after {}", units.fine_with_unit(*after),
                         line.order.size() == 1 ? "this one move"
                                                : fmt::format("these {} moves", line.order.size()));
  }
  words += " (root mean square).";
  const double height = flow.page().paragraph_height(flow.width(), "", words);
  flow.page().paragraph(flow.left(), flow.y, flow.width(), "", words);
  flow.y += height + 6;
}

double surety_height(Flow& flow, const Line& line, Units units) {
  const auto rows = line.sections.size() + (line.sections.size() > 1 ? 1 : 0);
  return 20 + head_height + static_cast<double>(rows) * row_height + 5 +
         flow.page().paragraph_height(flow.width(), "", what_it_rests_on(line, units)) + 12;
}

void flow_surety(Flow& flow, const Line& line, Units units) {
  const std::vector<Column> columns{
      {0.16, {"", "section"}},         {0.14, {"", "blow"}},
      {0.085, {"strings", "read"}},    {0.10, {"hammers", "read"}},
      {0.105, {"target", "±, 95 %"}},  {0.125, {"uneven to", "neighbours"}},
      {0.11, {"uneven to", "target"}}, {0.10, {"to expect", "after"}},
      {0.075, {"", "moves"}}};
  const std::string rests = what_it_rests_on(line, units);
  flow.headline(fmt::format("How sure, and how even ({}; root mean square)", units.symbol()),
                surety_height(flow, line, units) - 32);
  Page& page = flow.page();
  const auto draw = [&](double top, double height, const std::vector<std::string>& cells,
                        Type type) {
    double x = flow.left();
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const double cell = columns[i].share * flow.width();
      page.text({x, top, cell - 3, height}, cells[i], type, i == 0 ? Align::left : Align::right);
      x += cell;
    }
  };
  const auto head = [&](std::size_t which) {
    std::vector<std::string> cells;
    cells.reserve(columns.size());
    for (const Column& column : columns) cells.push_back(column.head[which]);
    return cells;
  };
  draw(flow.y, 11, head(0), {.size = small});
  draw(flow.y + 11, 11, head(1), {.size = small});
  flow.y += head_height;
  page.line(flow.left(), flow.y - 1.5, flow.left() + flow.width(), flow.y - 1.5, 1.1);
  for (std::size_t i = 0; i < line.sections.size(); ++i) {
    draw(flow.y, row_height, section_row(line, static_cast<int>(i), units), {});
    flow.y += row_height;
    page.line(flow.left(), flow.y, flow.left() + flow.width(), flow.y, 0.3, 0.7);
  }
  if (line.sections.size() > 1) {
    draw(flow.y, row_height, total_row(line, units), {.bold = true});
    flow.y += row_height;
  }
  flow.y += 5;
  flow.y += page.paragraph(flow.left(), flow.y, flow.width(), "", rests) + 12;
}

}  // namespace batten::paper
