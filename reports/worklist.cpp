#include "reports/worklist.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace batten::paper {
namespace {

constexpr double row_height = 20.5, group_height = 19, head_height = 36, gutter = 15;

// A move or the name of a group of them.
struct Item {
  const NoteLine* note = nullptr;  // none: a group's name
  int step = 0;
  std::size_t group = 0;
};

struct Group {
  std::string name;
  std::string manner;  // how it is worked through
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
      std::string name = "Samples", manner = ", from the bass up";
      if (group >= 0) {
        const Section& section = line.sections[static_cast<std::size_t>(group)].section;
        name = note_label(section.first) + "–" + note_label(section.last);
        manner = ", by halves";
      }
      list.groups.push_back({name, manner});
      list.items.push_back({nullptr, 0, list.groups.size() - 1});
      last_group = group;
    }
    list.items.push_back({&note, ++step, list.groups.size() - 1});
  }
  return list;
}

struct Span {
  double left = 0, right = 0;
};

// Across one column of the list, from its left edge.
struct Columns {
  Span step, note, verb, turn, crown, height, blank;
  double lozenge = 0, arrow = 0, slash = 0;  // middles; the fractions are set on their stroke
};

// "11" of "11/64", "1 1" of "1 1/8"; all of a whole number.
std::string before_slash(const std::string& fraction) {
  return fraction.substr(0, fraction.find('/'));
}

Columns measure(const Page& page, const Line& line, const List& list, Units units, double width) {
  const Type plain{}, bold{.size = strong, .bold = true}, head{.size = small};
  double note = 0, before = 0, after = 0, crown = 0, height = 0;
  for (const Item& item : list.items) {
    if (!item.note) continue;
    const std::string turn = turn_fraction(item.note->turns, line.settings.turn_denominator);
    const double whole = page.text_width(turn, bold);
    const double numerator = page.text_width(before_slash(turn), bold);
    note = std::max(note, page.text_width(note_label(item.note->key), bold));
    before = std::max(before, numerator);
    after = std::max(after, whole - numerator);
    crown = std::max(crown, page.text_width(units.gauge(abs(item.note->crown_travel)), plain));
    height =
        std::max(height, page.text_width(units.gauge(height_to_read(line, *item.note)), plain));
  }
  height = std::max(height, page.text_width("stands", head));
  Columns columns;
  double x = tick_size + 2;
  const auto take = [&x](double room, double gap) {
    const Span span{x, x + room};
    x += room + gap;
    return span;
  };
  columns.step = take(page.text_width("88", head) + 0.5, 5);
  columns.note = take(note + 0.5, 3);
  columns.lozenge = x + 3;
  x += 10;
  columns.verb = take(page.text_width("lower", plain) + 0.5, 4);
  columns.arrow = x + 3;
  x += 10;
  columns.slash = x + before;
  columns.turn = take(before + after + 0.5, 10);
  columns.crown = take(crown + 0.5, 8);
  columns.height = take(height + 0.5, 9);
  columns.blank = {x, width};
  return columns;
}

void draw_arrow(Page& page, double x, double middle, bool up) {
  const double s = up ? -1 : 1;
  page.line(x, middle - s * 5, x, middle + s * 1, 1.3);
  page.polygon({{x, middle + s * 5.5}, {x + 3, middle + s * 0.4}, {x - 3, middle + s * 0.4}},
               black);
}

void draw_head(Page& page, double left, double top, const Columns& columns, Units units) {
  struct Cell {
    Span span;
    std::array<std::string, 3> words;
    Align align;
  };
  const std::string unit = units.symbol();
  const std::array<Cell, 7> cells{
      Cell{{0, columns.note.left - 2}, {"", "done,", "step"}, Align::left},
      Cell{columns.note, {"", "", "note"}, Align::left},
      Cell{{columns.verb.left, columns.turn.left - 2}, {"", "", "do"}, Align::left},
      Cell{columns.turn, {"", "", "turn"}, Align::centre},
      Cell{{columns.turn.left, columns.crown.right},
           {"until crown", "has moved", unit},
           Align::right},
      Cell{{columns.crown.right + 2, columns.height.right}, {"then", "stands", unit}, Align::right},
      Cell{columns.blank, {"", "read", "after"}, Align::left}};
  for (const Cell& cell : cells) {
    for (std::size_t i = 0; i < cell.words.size(); ++i) {
      page.text({left + cell.span.left, top + 11.0 * static_cast<double>(i),
                 cell.span.right - cell.span.left, 11},
                cell.words[i], {.size = small}, cell.align);
    }
  }
  const double y = top + head_height - 1.5;
  page.line(left, y, left + columns.blank.right, y, 1.1);
}

void draw_row(Page& page, double left, double top, const Columns& columns, const Line& line,
              const Item& item, Units units) {
  const NoteLine& note = *item.note;
  const double middle = top + row_height / 2, foot = top + row_height;
  const auto cell = [&](Span span) {
    return Box{left + span.left, top + 1, span.right - span.left, row_height - 2};
  };
  const Type bold{.size = strong, .bold = true};
  const bool up = note.turns > Turns{};
  page.tick_box(left, middle - tick_size / 2);
  page.text(cell(columns.step), std::to_string(item.step), {.size = small, .grey = quiet},
            Align::right);
  page.text(cell(columns.note), note_label(note.key), bold);
  if (note.sample) {
    const double x = left + columns.lozenge, r = 3;
    page.polygon({{x, middle - r}, {x + r, middle}, {x, middle + r}, {x - r, middle}}, black);
  }
  page.text(cell(columns.verb), up ? "raise" : "lower");
  draw_arrow(page, left + columns.arrow, middle, up);
  const std::string turn = turn_fraction(note.turns, line.settings.turn_denominator);
  const double numerator = page.text_width(before_slash(turn), bold);
  page.text(cell({columns.slash - numerator, columns.turn.right}), turn, bold);
  page.text(cell(columns.crown), units.gauge(abs(note.crown_travel)), {}, Align::right);
  page.text(cell(columns.height), units.gauge(height_to_read(line, note)), {}, Align::right);
  page.line(left, foot, left + columns.blank.left - 4, foot, 0.3, 0.7);
  page.line(left + columns.blank.left, foot - 1.5, left + columns.blank.right, foot - 1.5, 0.7,
            quiet);
}

double height_of(const Item& item) { return item.note ? row_height : group_height; }

// How many items from `from` fill a column of `height`: a group's name is never left at the foot
// alone or with a single row of several. A column that begins inside a group repeats its name.
std::size_t fill_column(const List& list, std::size_t from, double height) {
  const bool continued = from < list.items.size() && list.items[from].note;
  double used = head_height + (continued ? group_height : 0);
  std::size_t i = from;
  while (i < list.items.size() && used + height_of(list.items[i]) <= height + 0.01) {
    used += height_of(list.items[i]);
    ++i;
  }
  if (i == list.items.size()) return i;
  const auto names = [&](std::size_t k) { return k > from && !list.items[k].note; };
  if (names(i - 1)) return i - 1;
  if (i >= 2 && names(i - 2) && list.items[i].note) return i - 2;
  return i;
}

// The least height at which two columns take all that is left, or `most`.
double balanced_height(const List& list, std::size_t from, double most) {
  const double least = head_height + group_height + row_height;
  const int steps = static_cast<int>(std::ceil(most - least));
  for (int step = 0; step < steps; ++step) {
    const double height = least + step;
    const std::size_t middle = fill_column(list, from, height);
    if (middle > from && fill_column(list, middle, height) == list.items.size()) return height;
  }
  return most;
}

void draw_column(Page& page, double left, double top, const Columns& columns, const Line& line,
                 const List& list, std::size_t from, std::size_t to, Units units) {
  if (from == to) return;
  draw_head(page, left, top, columns, units);
  double y = top + head_height;
  const auto name = [&](const std::string& words) {
    page.text({left, y + 2, columns.blank.right, group_height - 4}, words,
              {.size = reading, .bold = true});
    y += group_height;
    page.line(left, y, left + columns.blank.right, y, 0.5, quiet);
  };
  if (list.items[from].note) name(list.groups[list.items[from].group].name + ", continued");
  for (std::size_t i = from; i < to; ++i) {
    const Item& item = list.items[i];
    if (!item.note) {
      name(list.groups[item.group].name + list.groups[item.group].manner);
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
      "Turn the capstan by about the part of a turn given, tap the hammer to settle it, read. How "
      "far the crown has moved decides, not the turn: one turn is taken as {} ± {} here. Heights "
      "are over the {}.",
      units.number(units.value(line.settings.crown_per_turn * turn), units.inches ? 2 : 1),
      units.number(units.value(line.settings.crown_per_turn_sd * turn), units.inches ? 2 : 1) +
          "\u202f" + units.symbol(),
      line.transfer.needed ? "bench, as the hammers were read"
                           : "datum the readings were taken from");
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
