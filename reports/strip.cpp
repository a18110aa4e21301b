#include "reports/strip.hpp"

#include "core/keyboard/compass.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

namespace batten::paper {
namespace {

constexpr double gutter = 34;  // left of the lanes, for the scale's figures
constexpr double titles_height = 14, lane_title_height = 17, names_height = 14;
constexpr double strings_height = 96, hammers_height = 140, keys_height = 34;
constexpr double legend_row = 14;

// A step of 1, 2 or 5 times a power of ten that rules the range about five times.
double ruled_step(double range, double unit) {
  const double raw = range / unit / 5;
  const double power = std::pow(10, std::floor(std::log10(raw)));
  const double part = raw / power;
  return (part <= 1 ? 1 : part <= 2 ? 2 : part <= 5 ? 5 : 10) * power * unit;
}

double unit_in_metres(Units units) { return (units.inches ? inch : millimetre).si(); }

double break_x(const Line& line, const StripLayout& layout, const Section& section) {
  const Key above{section.last.number + 1};
  return (layout.x(line.compass, section.last) + layout.x(line.compass, above)) / 2;
}

void draw_lozenge(Page& page, double x, double y, double r, double grey) {
  page.polygon({{x, y - r}, {x + r, y}, {x, y + r}, {x - r, y}}, grey);
}

}  // namespace

StripLayout StripLayout::make(Compass compass, double left, double top, double width) {
  StripLayout layout;
  const double inner = left + gutter;
  const double span = width - gutter;
  double y = top;
  const auto row = [&](double height) {
    const Box box{inner, y, span, height};
    y += height;
    return box;
  };
  layout.titles = row(titles_height);
  row(lane_title_height);
  layout.strings = row(strings_height);
  row(lane_title_height + 4);
  layout.hammers = row(hammers_height);
  row(3);
  layout.keys = row(keys_height);
  layout.names = row(names_height);
  row(2);
  layout.legend = {left, y, width, 2 * legend_row};
  layout.whole = {left, top, width, y + 2 * legend_row - top};
  layout.points_per_metre = span / keyboard_width(compass).si();
  return layout;
}

double StripLayout::x(Compass compass, Key key) const {
  // Any C of the compass ties the even spacing to the keyboard.
  Key c = compass.lowest;
  while (pitch_class(c) != 0) c = Key{c.number + 1};
  const Length middle = key_left(compass, c) + (key.number - c.number + 0.5) * (octave_width / 12);
  return keys.left + middle.si() * points_per_metre;
}

LaneScale strings_scale(const Line& line, const Box& lane, Units units) {
  const double unit = unit_in_metres(units);
  double low = std::numeric_limits<double>::infinity(), high = -low;
  const auto include = [&](double from, double to) {
    low = std::min(low, from);
    high = std::max(high, to);
  };
  for (const NoteLine& note : line.notes) {
    const double sd = note.string_sd.si();
    // A band wider than this says only "unknown" and may run out of the lane.
    const double band = std::min(2 * sd, 0.6e-3);
    if (std::isfinite(sd)) include(note.string_fair.si() - band, note.string_fair.si() + band);
  }
  if (!std::isfinite(low)) {
    for (const NoteLine& note : line.notes) {
      if (note.string_read) include(note.string_read->si(), note.string_read->si());
    }
  }
  if (!std::isfinite(low)) include(0, 0);
  const double middle = (low + high) / 2;
  const double half = std::max((high - low) / 2 * 1.12, 1e-3);
  LaneScale scale{lane, middle - half, middle + half, 0};
  scale.step = ruled_step(scale.high - scale.low, unit);
  return scale;
}

LaneScale hammers_scale(const Line& line, const Box& lane, Units units) {
  double half = 0.8e-3;
  for (const NoteLine& note : line.notes) {
    const bool trusted = note.verdict == Verdict::move || note.verdict == Verdict::leave_fine ||
                         note.verdict == Verdict::leave_noise;
    if (note.deviation && trusted) half = std::max(half, std::abs(note.deviation->si()) * 1.2);
  }
  // Beyond 3 mm a hammer is far out whatever the figure; its neighbours should stay readable.
  half = std::min(half, 3.2e-3);
  return {lane, -half, half, ruled_step(2 * half, unit_in_metres(units))};
}

void draw_keyboard(Page& page, const Line& line, const StripLayout& layout) {
  const Box& keys = layout.keys;
  const double ppm = layout.points_per_metre;
  const auto left_of = [&](Key key) { return keys.left + key_left(line.compass, key).si() * ppm; };
  for (const NoteLine& note : line.notes) {
    if (is_sharp(note.key)) continue;
    const Box box{left_of(note.key), keys.top, key_width(note.key).si() * ppm, keys.height};
    page.outline(box, 0.5, quiet);
    if (note.sample) {
      draw_lozenge(page, box.left + box.width / 2, box.bottom() - 6, 3, black);
    }
  }
  for (const NoteLine& note : line.notes) {
    if (is_natural(note.key)) continue;
    const Box box{left_of(note.key), keys.top, key_width(note.key).si() * ppm, keys.height * 0.62};
    page.fill(box, 0.15);
    if (note.sample) {
      draw_lozenge(page, box.left + box.width / 2, box.bottom() - 5, 2.3, 1);
    }
  }
  page.outline(keys, 0.9);
  for (const NoteLine& note : line.notes) {
    if (pitch_class(note.key) != 0) continue;
    const double x = left_of(note.key) + key_width(note.key).si() * ppm / 2;
    page.text({x - 14, layout.names.top, 28, layout.names.height}, note_label(note.key),
              {.size = scale_size}, Align::centre);
  }
}

void draw_section_marks(Page& page, const Line& line, const StripLayout& layout) {
  const Box& row = layout.titles;
  const Type plain{.size = scale_size}, bold{.size = scale_size, .bold = true};
  struct Label {
    double left, right;
  };
  std::vector<Label> taken;  // by the names of the sections, which come first
  double left_edge = row.left;
  for (const SectionSummary& summary : line.sections) {
    const Section& section = summary.section;
    const bool last = section.last == line.compass.highest;
    const double right_edge = last ? row.right() : break_x(line, layout, section);
    const std::string range = note_label(section.first) + "–" + note_label(section.last);
    const double width = page.text_width(range, bold) + 1;
    if (width + 4 <= right_edge - left_edge) {
      const double from = (left_edge + right_edge - width) / 2;
      page.text({from, row.top, width, row.height}, range, bold, Align::centre);
      taken.push_back({from, from + width});
    }
    left_edge = right_edge;
  }
  for (const SectionSummary& summary : line.sections) {
    const Section& section = summary.section;
    if (section.last == line.compass.highest) break;
    const double x = break_x(line, layout, section);
    const bool bridge = section.above == BreakKind::bridge;
    for (const Box& lane : {layout.strings, layout.hammers}) {
      if (bridge) {
        page.line(x - 1, lane.top, x - 1, lane.bottom(), 0.6, quiet);
        page.line(x + 1, lane.top, x + 1, lane.bottom(), 0.6, quiet);
      } else {
        page.dashed(x, lane.top, x, lane.bottom(), 0.7, quiet, 3);
      }
    }
    const std::string kind = bridge ? "bridge" : "strut";
    const double half = page.text_width(kind, plain) / 2 + 1;
    const bool free = std::ranges::none_of(taken, [&](const Label& label) {
      return x - half < label.right + 3 && label.left - 3 < x + half;
    });
    if (!free || x - half < row.left || x + half > row.right()) continue;
    page.text({x - half, row.top, 2 * half, row.height}, kind, plain, Align::centre);
    taken.push_back({x - half, x + half});
  }
}

void draw_legend(Page& page, const Line& line, const StripLayout& layout) {
  const auto doubtful = [&](double x, double y) {
    page.ring(x + 4, y, 2.4);
    page.text({x + 7.5, y - 6, 6, 12}, "?", {.size = small, .bold = true});
  };
  struct Entry {
    double symbol_width;
    std::function<void(double, double)> draw;
    std::string words;
  };
  std::vector<Entry> entries{{20,
                              [&](double x, double y) {
                                page.fill({x, y - 4, 18, 8}, band_grey);
                                page.line(x, y, x + 18, y, 1.1);
                              },
                              "fair curve, target: 95 % sure within the grey"},
                             {10, [&](double x, double y) { page.dot(x + 4, y, 2); }, "reading"},
                             {16, doubtful, "doubtful: read again"},
                             {10,
                              [&](double x, double y) {
                                page.fill({x + 2.9, y - 5.5, 2.2, 11}, rule_grey);
                                page.dot(x + 4, y, 2);
                              },
                              "95 % of a reading"},
                             {20,
                              [&](double x, double y) {
                                page.hatch({x, y - 4, 18, 8}, 3.2, 0.4, quiet);
                                page.outline({x, y - 4, 18, 8}, 0.4, quiet);
                              },
                              "tolerance between neighbours"}};
  if (advises(line)) {
    entries.push_back({10,
                       [&](double x, double y) {
                         page.line(x + 4, y - 5.5, x + 4, y + 2, 0.9);
                         page.polygon({{x + 4, y + 5.5}, {x + 6.2, y + 1}, {x + 1.8, y + 1}}, 0);
                       },
                       "move to make"});
  }
  entries.push_back({10,
                     [&](double x, double y) {
                       page.fill({x + 1, y - 3, 6, 6}, 1);
                       page.outline({x + 1, y - 3, 6, 6}, 0.9);
                       page.line(x + 1, y + 3, x + 7, y - 3, 0.9);
                     },
                     "held: check first"});
  entries.push_back(
      {10, [&](double x, double y) { draw_lozenge(page, x + 4, y, 3, black); }, "sample"});
  const auto has = [&](BreakKind kind) {
    return std::ranges::any_of(line.sections, [&](const SectionSummary& summary) {
      return summary.section.above == kind;
    });
  };
  if (has(BreakKind::bridge)) {
    entries.push_back({10,
                       [&](double x, double y) {
                         page.line(x + 3, y - 5, x + 3, y + 5, 0.6, quiet);
                         page.line(x + 5, y - 5, x + 5, y + 5, 0.6, quiet);
                       },
                       "bridge"});
  }
  if (has(BreakKind::strut)) {
    entries.push_back(
        {9, [&](double x, double y) { page.dashed(x + 4, y - 5, x + 4, y + 5, 0.7, quiet, 2.5); },
         "strut"});
  }
  const Type type{.size = small};
  double x = layout.legend.left, y = layout.legend.top;
  for (const Entry& entry : entries) {
    const double words = page.text_width(entry.words, type) + 1;
    if (x + entry.symbol_width + words > layout.legend.right() && x > layout.legend.left) {
      x = layout.legend.left;
      y += legend_row;
    }
    entry.draw(x, y + legend_row / 2);
    page.text({x + entry.symbol_width, y, words, legend_row}, entry.words, type);
    x += entry.symbol_width + words + 9;
  }
}

double draw_strip(Page& page, const Line& line, Units units, double left, double top,
                  double width) {
  const StripLayout layout = StripLayout::make(line.compass, left, top, width);
  draw_strings_lane(page, line, layout, strings_scale(line, layout.strings, units), units);
  draw_hammers_lane(page, line, layout, hammers_scale(line, layout.hammers, units), units);
  draw_section_marks(page, line, layout);
  draw_keyboard(page, line, layout);
  draw_legend(page, line, layout);
  return layout.whole.height;
}

}  // namespace batten::paper
