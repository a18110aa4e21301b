#include "reports/worklist.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace batten::paper {
namespace {

constexpr double row_height = 20.5, group_height = 19, head_height = 36, gutter = 17;

// A move or the name of a group of them.
struct Item {
  const NoteLine* note = nullptr;  // none: a group's name
  int step = 0;
  std::size_t group = 0;
};

struct Group {
  std::string name;
  int moves = 0;
};

struct List {
  std::vector<Group> groups;
  std::vector<Item> items;
};

List gather(const Line& line) {
  List list;
  int step = 0;
  int last_group = -2;
  for (const Key key : line.order) {
    const NoteLine& note = line.at(key);
    const int group = note.sample ? -1 : note.section;
    if (group != last_group) {
      std::string name = "The samples, from the bass up";
      if (group >= 0) {
        const Section& section = line.sections[static_cast<std::size_t>(group)].section;
        name = fmt::format("{}–{}, by halves", note_label(section.first), note_label(section.last));
      }
      list.groups.push_back({name, 0});
      list.items.push_back({nullptr, 0, list.groups.size() - 1});
      last_group = group;
    }
    ++list.groups.back().moves;
    list.items.push_back({&note, ++step, list.groups.size() - 1});
  }
  return list;
}

// Left edges of the cells and the right edge of the last, from the column's left edge.
struct Columns {
  double step = 0, note = 0, verb = 0, turn = 0, crown = 0, height = 0, blank = 0, end = 0;
};

Columns measure(const Page& page, const Line& line, const List& list, Units units, double width) {
  const Type plain{}, bold{.size = strong, .bold = true};
  double note = 0, turn = 0, crown = 0, height = 0;
  for (const Item& item : list.items) {
    if (!item.note) continue;
    note = std::max(note, page.text_width(note_label(item.note->key), bold));
    turn = std::max(
        turn,
        page.text_width(turn_fraction(item.note->turns, line.settings.turn_denominator), bold));
    crown = std::max(crown, page.text_width(units.gauge(abs(item.note->crown_travel)), plain));
    height =
        std::max(height, page.text_width(units.gauge(height_to_read(line, *item.note)), plain));
  }
  const Type head{.size = small};
  turn = std::max(turn, page.text_width("turn", head));
  crown = std::max(crown, page.text_width("crown", head));
  height = std::max(height, page.text_width("stands", head));
  Columns columns;
  columns.step = tick_size + 3;
  columns.note = columns.step + page.text_width("88", {.size = small}) + 5;
  columns.verb = columns.note + note + 11;
  columns.turn = columns.verb + page.text_width("lower", plain) + 11;
  columns.crown = columns.turn + turn + 8;
  columns.height = columns.crown + crown + 9;
  columns.blank = columns.height + height + 9;
  columns.end = width;
  return columns;
}

void draw_arrow(Page& page, double x, double middle, bool up) {
  const double s = up ? -1 : 1;
  page.line(x, middle - s * 5, x, middle + s * 1, 1.3);
  page.polygon({{x, middle + s * 5.5}, {x + 3, middle + s * 0.4}, {x - 3, middle + s * 0.4}},
               black);
}

void draw_head(Page& page, double left, double top, const Columns& columns, const Line& line,
               Units units) {
  const Type type{.size = small};
  const std::string unit = units.symbol();
  struct Cell {
    double from, to;
    std::array<std::string, 3> words;
    Align align;
  };
  const std::vector<Cell> cells{
      {0, columns.note - 2, {"", "done,", "step"}, Align::left},
      {columns.note, columns.verb - 2, {"", "", "note"}, Align::left},
      {columns.verb, columns.turn - 2, {"", "", "do"}, Align::left},
      {columns.turn - 4, columns.crown - 8, {"", "", "turn"}, Align::right},
      {columns.crown - 8, columns.height - 9, {"until", "crown", "gone " + unit}, Align::right},
      {columns.height - 8, columns.blank - 9, {"then", "stands", "at " + unit}, Align::right},
      {columns.blank, columns.end, {"", "read", "after"}, Align::left}};
  (void)line;
  for (const Cell& cell : cells) {
    for (std::size_t i = 0; i < 3; ++i) {
      page.text({left + cell.from, top + 11.0 * static_cast<double>(i), cell.to - cell.from, 11},
                cell.words[i], type, cell.align);
    }
  }
  page.line(left, top + head_height - 1.5, left + columns.end, top + head_height - 1.5, 1.1);
}

void draw_row(Page& page, double left, double top, const Columns& columns, const Line& line,
              const Item& item, Units units) {
  const NoteLine& note = *item.note;
  const double middle = top + row_height / 2;
  const auto cell = [&](double from, double to) {
    return Box{left + from, top + 1, to - from, row_height - 2};
  };
  const Type bold{.size = strong, .bold = true};
  const bool up = note.turns > Turns{};
  page.tick_box(left, middle - tick_size / 2);
  page.text(cell(columns.step, columns.note - 5), std::to_string(item.step),
            {.size = small, .grey = quiet}, Align::right);
  page.text(cell(columns.note, columns.verb - 11), note_label(note.key), bold);
  if (note.sample) {
    const double x = left + columns.verb - 6.5, r = 3;
    page.polygon({{x, middle - r}, {x + r, middle}, {x, middle + r}, {x - r, middle}}, black);
  }
  page.text(cell(columns.verb, columns.turn - 11), up ? "raise" : "lower");
  draw_arrow(page, left + columns.turn - 5, middle, up);
  page.text(cell(columns.turn, columns.crown - 8),
            turn_fraction(note.turns, line.settings.turn_denominator), bold, Align::right);
  page.text(cell(columns.crown, columns.height - 9), units.gauge(abs(note.crown_travel)), {},
            Align::right);
  page.text(cell(columns.height, columns.blank - 9), units.gauge(height_to_read(line, note)), {},
            Align::right);
  page.line(left, top + row_height, left + columns.blank - 4, top + row_height, 0.3, 0.7);
  page.line(left + columns.blank, top + row_height - 1.5, left + columns.end,
            top + row_height - 1.5, 0.7, quiet);
}

double height_of(const Item& item) { return item.note ? row_height : group_height; }

// How many items from `from` fill a column of `height`: a group's name is never left alone at the
// foot. `continued` tells that the column begins inside a group and repeats its name.
std::size_t fill_column(const List& list, std::size_t from, double height) {
  const bool continued = from < list.items.size() && list.items[from].note;
  double used = head_height + (continued ? group_height : 0);
  std::size_t i = from;
  while (i < list.items.size() && used + height_of(list.items[i]) <= height + 0.01) {
    used += height_of(list.items[i]);
    ++i;
  }
  if (i < list.items.size() && i > from + 1 && !list.items[i - 1].note) --i;
  return i;
}

// The least height at which two columns take all that is left, or `most`.
double balanced_height(const List& list, std::size_t from, double most) {
  for (double height = head_height + group_height + row_height; height < most; height += 1) {
    const std::size_t middle = fill_column(list, from, height);
    if (middle > from && fill_column(list, middle, height) == list.items.size()) return height;
  }
  return most;
}

void draw_column(Page& page, double left, double top, const Columns& columns, const Line& line,
                 const List& list, std::size_t from, std::size_t to, Units units) {
  if (from == to) return;
  draw_head(page, left, top, columns, line, units);
  double y = top + head_height;
  const auto name = [&](const std::string& words) {
    page.text({left, y + 2, columns.end, group_height - 4}, words, {.size = reading, .bold = true});
    y += group_height;
    page.line(left, y, left + columns.end, y, 0.5, quiet);
  };
  if (list.items[from].note) name(list.groups[list.items[from].group].name + " (continued)");
  for (std::size_t i = from; i < to; ++i) {
    const Item& item = list.items[i];
    if (!item.note) {
      name(list.groups[item.group].name);
    } else {
      draw_row(page, left, y, columns, line, item, units);
      y += row_height;
    }
  }
}

}  // namespace

void flow_worklist(Flow& flow, const Line& line, Units units) {
  if (!advises(line)) return;
  const List list = gather(line);
  const double column_width = (flow.width() - gutter) / 2;
  const Columns columns = measure(flow.page(), line, list, units, column_width);
  const std::string how = fmt::format(
      "Turn the capstan by about the part of a turn given, tap the hammer to settle it and read. "
      "The distance the crown has gone decides, not the turn: one turn is taken as {} ± {} here. "
      "Heights are over the {}.",
      units.number(units.value(line.settings.crown_per_turn * turn), units.inches ? 2 : 1),
      units.number(units.value(line.settings.crown_per_turn_sd * turn), units.inches ? 2 : 1) +
          "\u202f" + units.symbol(),
      line.transfer.needed ? "bench, as the hammers were read" : "datum of the readings");
  const double how_height = flow.page().paragraph_height(flow.width(), "", how);
  flow.headline(fmt::format("Worklist: {}", counted(line.order.size(), "capstan", "capstans")),
                how_height + 8 + head_height + group_height + 4 * row_height);
  flow.page().paragraph(flow.left(), flow.y, flow.width(), "", how);
  flow.y += how_height + 8;
  std::size_t from = 0;
  while (from < list.items.size()) {
    flow.need(head_height + group_height + 2 * row_height);
    const double height = balanced_height(list, from, flow.room());
    const std::size_t middle = fill_column(list, from, height);
    const std::size_t end = fill_column(list, middle, height);
    draw_column(flow.page(), flow.left(), flow.y, columns, line, list, from, middle, units);
    draw_column(flow.page(), flow.left() + column_width + gutter, flow.y, columns, line, list,
                middle, end, units);
    from = end;
    flow.y += height + 10;
    if (from < list.items.size()) flow.new_page();
  }
}

}  // namespace batten::paper
