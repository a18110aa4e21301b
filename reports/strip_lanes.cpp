#include "core/regulation/catalogue/readings.hpp"
#include "reports/strip.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace batten::paper {
namespace {

constexpr double dot_radius = 1.9;
constexpr double two_sided_95 = 1.96;  // normal distribution

// Times life size, to two figures: "×12", "×0.14".
std::string magnification(double ratio, Units units) {
  const int decimals = ratio >= 10 ? 0 : ratio >= 1 ? 1 : 2;
  return "×" + units.number(ratio, decimals);
}

void draw_lane_title(Page& page, const StripLayout& layout, const LaneScale& scale,
                     std::string_view lead, const std::string& rest, Units units) {
  const double ratio = scale.lane.height / (scale.high - scale.low) / (72 / 0.0254);
  const double along = layout.points_per_metre / (72 / 0.0254);
  const std::string magnified = fmt::format(
      "scale: heights {}, keyboard {}", magnification(ratio, units), magnification(along, units));
  const Box row{layout.whole.left, scale.lane.top - 16, layout.whole.width, 15};
  const Type bold{.size = reading, .bold = true};
  const double lead_width = page.text_width(lead, bold) + 1;
  const double right_width = page.text_width(magnified, {.size = small}) + 1;
  page.text({row.left, row.top, lead_width, row.height}, lead, bold);
  page.text(
      {row.left + lead_width + 5, row.top, row.width - lead_width - right_width - 12, row.height},
      rest, {.size = scale_size});
  page.text({row.right() - right_width, row.top, right_width, row.height}, magnified,
            {.size = small, .grey = quiet}, Align::right);
}

// Ruled lines with their figures left of the lane.
void rule_lane(Page& page, const LaneScale& scale, Units units, bool signed_figures) {
  page.outline(scale.lane, 0.7, quiet);
  const double unit = (units.inches ? inch : millimetre).si();
  const double step = scale.step / unit;
  const int decimals = step >= 0.999 ? 0 : step >= 0.0999 ? 1 : step >= 0.00999 ? 2 : 3;
  const auto first = static_cast<long>(std::ceil(scale.low / scale.step));
  const auto last = static_cast<long>(std::floor(scale.high / scale.step));
  for (long i = first; i <= last; ++i) {
    const double metres = static_cast<double>(i) * scale.step;
    const double y = scale.y(metres);
    if (y < scale.lane.top + 3 || y > scale.lane.bottom() - 3) continue;
    page.line(scale.lane.left, y, scale.lane.right(), y, 0.3, 0.75);
    std::string figure = units.number(metres / unit, decimals);
    if (signed_figures && i > 0) figure.insert(0, "+");
    page.text({scale.lane.left - 34, y - 6, 31, 12}, figure, {.size = scale_size}, Align::right);
  }
}

// Runs of notes of one section with a known curve, so that nothing is drawn across a gap.
template <class Known, class Draw>
void for_known_runs(const Line& line, Known known, Draw draw) {
  std::vector<const NoteLine*> run;
  const auto finish = [&] {
    if (!run.empty()) draw(run);
    run.clear();
  };
  for (const NoteLine& note : line.notes) {
    if (!known(note) || (!run.empty() && run.back()->section != note.section)) finish();
    if (known(note)) run.push_back(&note);
  }
  finish();
}

// A note alone still gets some width.
double overhang_of(std::size_t notes) { return notes == 1 ? 2.5 : 0; }

// Held inside the lane.
template <class Middle, class Sd, class X>
void draw_band(Page& page, const LaneScale& scale, const std::vector<const NoteLine*>& run,
               Middle middle, Sd sd, X x_of) {
  const auto& pen = page.pen();
  pen->save();
  pen->rectangle(scale.lane.left, scale.lane.top, scale.lane.width, scale.lane.height);
  pen->clip();
  const auto edge = [&](const NoteLine* note, double side) {
    return scale.y(middle(*note) + side * two_sided_95 * sd(*note));
  };
  const double overhang = overhang_of(run.size());
  const auto outline = [&] {
    pen->move_to(x_of(*run.front()) - overhang, edge(run.front(), 1));
    for (const NoteLine* note : run) pen->line_to(x_of(*note), edge(note, 1));
    pen->line_to(x_of(*run.back()) + overhang, edge(run.back(), 1));
    pen->line_to(x_of(*run.back()) + overhang, edge(run.back(), -1));
    for (auto note = run.rbegin(); note != run.rend(); ++note) {
      pen->line_to(x_of(**note), edge(*note, -1));
    }
    pen->line_to(x_of(*run.front()) - overhang, edge(run.front(), -1));
    pen->close_path();
  };
  outline();
  pen->set_source_rgb(band_grey, band_grey, band_grey);
  pen->fill_preserve();
  pen->set_source_rgb(rule_grey, rule_grey, rule_grey);
  pen->set_line_width(0.4);
  pen->stroke();
  pen->restore();
}

template <class Middle, class X>
void draw_curve(Page& page, const LaneScale& scale, const std::vector<const NoteLine*>& run,
                Middle middle, X x_of) {
  const auto& pen = page.pen();
  pen->save();
  pen->rectangle(scale.lane.left, scale.lane.top, scale.lane.width, scale.lane.height);
  pen->clip();
  const double overhang = overhang_of(run.size());
  pen->move_to(x_of(*run.front()) - overhang, scale.y(middle(*run.front())));
  for (const NoteLine* note : run) pen->line_to(x_of(*note), scale.y(middle(*note)));
  pen->line_to(x_of(*run.back()) + overhang, scale.y(middle(*run.back())));
  pen->set_source_rgb(0, 0, 0);
  pen->set_line_width(1.1);
  pen->stroke();
  pen->restore();
}

// An arrowhead at the lane's edge for what lies outside it. Returns the height it sits at.
double draw_outside(Page& page, const LaneScale& scale, double x, bool above) {
  const double tip = above ? scale.lane.top + 1.5 : scale.lane.bottom() - 1.5;
  const double back = above ? tip + 5 : tip - 5;
  page.polygon({{x, tip}, {x + 2.4, back}, {x - 2.4, back}}, black);
  return back;
}

// A question mark beside a doubtful reading, above it where there is room, clear of its bar.
void draw_doubt(Page& page, const LaneScale& scale, double x, double y, double half_bar) {
  const double half = 5.5, away = std::max(half_bar, 3.0) + half + 0.5;
  const double centre = y - away - half < scale.lane.top ? y + away : y - away;
  page.text({x - 4, centre - half, 8, 2 * half}, "?", {.size = scale_size, .bold = true},
            Align::centre);
}

// `half_bar`: how far the bar drawn behind reaches, in points.
void draw_reading(Page& page, const LaneScale& scale, double x, double metres, bool doubtful,
                  double half_bar = 0) {
  double y = scale.y(metres);
  if (!scale.shows(metres)) {
    y = draw_outside(page, scale, x, metres > scale.high);
    half_bar = 0;
  } else if (doubtful) {
    page.ring(x, y, dot_radius + 0.4);
  } else {
    page.dot(x, y, dot_radius);
  }
  if (doubtful) draw_doubt(page, scale, x, y, half_bar);
}

void draw_bar(Page& page, const LaneScale& scale, double x, double metres, double sd) {
  const double top = std::max(scale.y(metres + two_sided_95 * sd), scale.lane.top);
  const double foot = std::min(scale.y(metres - two_sided_95 * sd), scale.lane.bottom());
  if (foot > top) page.fill({x - 1.1, top, 2.2, foot - top}, rule_grey);
}

// From the reading to where the crown should stand.
void draw_move(Page& page, const LaneScale& scale, double x, double from, double to) {
  const double start = std::clamp(scale.y(from), scale.lane.top, scale.lane.bottom());
  const double end = std::clamp(scale.y(to), scale.lane.top, scale.lane.bottom());
  const double head = end > start ? 4.2 : -4.2;
  if (std::abs(end - start) > std::abs(head)) page.line(x, start, x, end - head, 0.9);
  page.polygon({{x, end}, {x + 2, end - head}, {x - 2, end - head}}, black);
}

void say_empty(Page& page, const LaneScale& scale, std::string_view words) {
  const Type type{.size = reading, .grey = quiet};
  const double width = page.text_width(words, type) + 12;
  const Box box{scale.lane.left + (scale.lane.width - width) / 2, scale.lane.middle() - 10, width,
                20};
  page.fill(box, 1);
  page.text(box, words, type, Align::centre);
}

void draw_held(Page& page, double x, double y) {
  const Box box{x - 2.6, y - 2.6, 5.2, 5.2};
  page.fill(box, 1);
  page.outline(box, 0.9);
  page.line(box.left, box.bottom(), box.right(), box.top, 0.9);
}

}  // namespace

void draw_strings_lane(Page& page, const Line& line, const StripLayout& layout,
                       const LaneScale& scale, Units units) {
  draw_lane_title(page, layout, scale, "Strings",
                  fmt::format("height over the datum, {}", units.symbol()), units);
  rule_lane(page, scale, units, false);
  const auto x_of = [&](const NoteLine& note) { return layout.x(line.compass, note.key); };
  const auto known = [](const NoteLine& note) { return std::isfinite(note.string_sd.si()); };
  const auto fair = [](const NoteLine& note) { return note.string_fair.si(); };
  const auto sd = [](const NoteLine& note) { return note.string_sd.si(); };
  for_known_runs(line, known, [&](const auto& run) {
    draw_band(page, scale, run, fair, sd, x_of);
    draw_curve(page, scale, run, fair, x_of);
  });
  bool any = false;
  std::multimap<Key, Length> doubtful;
  for (const Finding& finding : line.findings) {
    if (finding.kind == Finding::Kind::unison_off_level) continue;
    draw_reading(page, scale, layout.x(line.compass, finding.key), finding.read.si(), true);
    doubtful.emplace(finding.key, finding.read);
    any = true;
  }
  for (const NoteLine& note : line.notes) {
    if (!note.string_read) continue;
    any = true;
    // A doubtful reading that still counts is drawn once, as doubtful.
    const auto [from, to] = doubtful.equal_range(note.key);
    const bool drawn = std::any_of(from, to, [&](const auto& reading) {
      return abs(reading.second - *note.string_read) < 1e-6 * metre;
    });
    if (drawn) continue;
    if (note.string_read_sd)
      draw_bar(page, scale, x_of(note), note.string_read->si(), note.string_read_sd->si());
    draw_reading(page, scale, x_of(note), note.string_read->si(), false);
  }
  if (!any) say_empty(page, scale, "no string read yet");
}

void draw_hammers_lane(Page& page, const Line& line, const StripLayout& layout,
                       const LaneScale& scale, Units units) {
  draw_lane_title(page, layout, scale, "Hammers",
                  fmt::format("above (+) or below (−) their target, {}", units.symbol()), units);
  const auto x_of = [&](const NoteLine& note) { return layout.x(line.compass, note.key); };
  const auto known = [](const NoteLine& note) { return std::isfinite(note.target_sd.si()); };
  const auto zero = [](const NoteLine&) { return 0.0; };
  const auto sd = [](const NoteLine& note) { return note.target_sd.si(); };
  for_known_runs(line, known,
                 [&](const auto& run) { draw_band(page, scale, run, zero, sd, x_of); });
  const double tolerance =
      kind_of(Reading::blow).tolerance_neighbours.value_or(0.25) * millimetre.si();
  const double top = std::max(scale.y(tolerance), scale.lane.top);
  const double foot = std::min(scale.y(-tolerance), scale.lane.bottom());
  page.hatch({scale.lane.left, top, scale.lane.width, foot - top}, 5, 0.35, rule_grey);
  rule_lane(page, scale, units, true);
  for_known_runs(line, known, [&](const auto& run) { draw_curve(page, scale, run, zero, x_of); });

  for (const NoteLine& note : line.notes) {
    if (!note.deviation || !note.deviation_sd) continue;
    const double at = note.deviation->si();
    if (scale.shows(at)) {
      const double own = note.hammer_sd.value_or(*note.deviation_sd).si();
      draw_bar(page, scale, x_of(note), at, own);
    }
  }
  for (const NoteLine& note : line.notes) {
    if (!note.deviation) continue;
    const double at = note.deviation->si();
    const double x = x_of(note);
    const bool moves = note.verdict == Verdict::move && advises(line);
    if (moves) draw_move(page, scale, x, at, at + note.crown_travel.si());
    if (note.verdict == Verdict::held_block || note.verdict == Verdict::held_escapement ||
        note.verdict == Verdict::target_unsure) {
      draw_held(page, x, std::clamp(scale.y(at), scale.lane.top + 4, scale.lane.bottom() - 4));
      continue;
    }
    const bool doubtful =
        note.verdict == Verdict::read_again || note.verdict == Verdict::moved_read_again;
    const double bar = two_sided_95 * note.hammer_sd.value_or(Length{}).si();
    draw_reading(page, scale, x, at, doubtful, scale.y(0) - scale.y(bar));
  }
  const bool any = std::ranges::any_of(
      line.notes, [](const NoteLine& note) { return note.deviation.has_value(); });
  if (!any) say_empty(page, scale, "no hammer to compare with a target yet");
}

}  // namespace batten::paper
