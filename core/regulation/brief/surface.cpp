#include "core/regulation/brief/surface.hpp"

#include "core/numerics/least_squares.hpp"
#include "core/regulation/brief/identity.hpp"

#include <algorithm>
#include <cmath>

namespace batten {

namespace {

constexpr int escape_columns = 6, stroke_columns = 10;
constexpr double blow_scale = 2, margin_centre = 1;  // mm

Eigen::RowVectorXd row_of(const EscapeSurface& s, double blow, double let_off) {
  const double x = (blow - s.blow_centre) / blow_scale, y = let_off - s.let_off_centre;
  Eigen::RowVectorXd row(escape_columns);
  row << 1, x, y, x * x, x * y, y * y;
  return row;
}

Eigen::RowVectorXd row_of(const EscapeSurface& s, double blow, double let_off, double margin) {
  const double x = (blow - s.blow_centre) / blow_scale, y = let_off - s.let_off_centre,
               z = margin - margin_centre;
  Eigen::RowVectorXd row(stroke_columns);
  row << 1, x, y, x * x, x * y, y * y, z, z * z, x * z, y * z;
  return row;
}

double at(const Eigen::VectorXd& coefficients, const Eigen::RowVectorXd& row) {
  return coefficients.size() == row.size() ? row.dot(coefficients) : std::nan("");
}

}  // namespace

double EscapeSurface::escape_depth(double blow, double let_off) const {
  return at(escape, row_of(*this, blow, let_off));
}
double EscapeSurface::calc_power(double blow, double let_off, double margin) const {
  return at(power, row_of(*this, blow, let_off, margin));
}
double EscapeSurface::calc_travel(double blow, double let_off, double margin) const {
  return at(travel, row_of(*this, blow, let_off, margin));
}
double EscapeSurface::calc_timing(double blow, double let_off, double margin) const {
  return at(timing, row_of(*this, blow, let_off, margin));
}

namespace brief {

namespace {

constexpr int blows = 5, let_offs = 3;
constexpr double margins[] = {0.4, 1.0, 1.8};                    // mm, for strokes
constexpr double least_range_blow = 2, least_range_let_off = 1;  // mm

struct Range {
  double low, high;
  double at(int i, int count) const { return low + (high - low) * i / (count - 1); }
};
// Not so narrow that a curve through it means nothing.
Range range_of(const Band& band, double least) {
  const double more = std::max(0.0, 0.5 * (least - (band.high - band.low)));
  return {band.low - more, band.high + more};
}

struct Solved {
  BriefPoint point;
  SetNote set;
};

// Solved points, regulated with a key deep enough to let go: by the ratio the first one shows.
std::vector<Solved> solve_points(const Bench& bench, EscapeSurface& s) {
  // Spare depth: more than the escape depth varies by the ratio's change over the plane.
  constexpr double spare = 1.2;
  const auto first = set_notes(bench, std::span(&bench.sheet, 1), nullptr);
  if (!first[0].usable) {
    s.hindrance = first[0].hindrance;
    return {};
  }
  s.adjustments = first[0].note.adjustments;
  const double ratio = (bench.sheet.blow - bench.sheet.let_off) / first[0].falls;
  const Range blow = range_of(bench.at(Need::blow), least_range_blow),
              let_off = range_of(bench.at(Need::let_off), least_range_let_off);
  std::vector<BriefPoint> points;
  for (int i = 0; i < blows; ++i)
    for (int j = 0; j < let_offs; ++j) {
      BriefPoint p = bench.sheet;
      p.blow = blow.at(i, blows);
      p.let_off = let_off.at(j, let_offs);
      p.dip = calc_escape_depth(p.blow, p.let_off, ratio) + spare;
      points.push_back(p);
    }
  const auto sets = set_notes(bench, points, nullptr);
  std::vector<Solved> solved;
  for (std::size_t i = 0; i < sets.size(); ++i)
    if (sets[i].usable) solved.push_back({points[i], sets[i]});
  return solved;
}

void add_strokes(const Bench& bench, const std::vector<Solved>& solved, EscapeSurface& s) {
  std::vector<action::Note> notes;
  std::vector<Eigen::RowVectorXd> rows;
  for (const Solved& one : solved) {
    std::vector<double> dips;
    for (const double margin : margins) {
      dips.push_back(one.set.falls + margin);
      rows.push_back(row_of(s, one.point.blow, one.point.let_off, margin));
    }
    const auto at = at_dips(bench, one.set.note, one.set.note_dip, dips);
    notes.insert(notes.end(), at.begin(), at.end());
  }
  const auto n = static_cast<Eigen::Index>(notes.size());
  Eigen::MatrixXd columns(n, stroke_columns);
  Eigen::VectorXd power(n), travel(n), timing(n);
  const auto middling = strike(notes, action::Effort::middling),
             loud = strike(notes, action::Effort::loud);
  Eigen::Index count = 0;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    if (!middling[i] || !loud[i]) continue;
    const double late = (middling[i]->key_bottom - middling[i]->string) * per_ms;
    if (!std::isfinite(late) || !std::isfinite(loud[i]->string)) continue;
    columns.row(count) = rows[i];
    power(count) = loud[i]->hammer_speed;
    travel(count) = middling[i]->travel_time * per_ms;
    timing(count) = late;
    ++count;
  }
  if (count < stroke_columns) return;
  s.power = fit(columns.topRows(count), power.head(count));
  s.travel = fit(columns.topRows(count), travel.head(count));
  s.timing = fit(columns.topRows(count), timing.head(count));
}

}  // namespace

Eigen::VectorXd fit(const Eigen::MatrixXd& columns, const Eigen::VectorXd& values) {
  const auto solved = solve_linear(columns, values);
  return solved ? solved->coefficients : Eigen::VectorXd{};
}

EscapeSurface calc_surface(const Bench& bench, bool with_strokes) {
  EscapeSurface s;
  s.blow_centre = bench.sheet.blow;
  s.let_off_centre = bench.sheet.let_off;
  const std::vector<Solved> solved = solve_points(bench, s);
  const auto n = static_cast<Eigen::Index>(solved.size());
  if (n < escape_columns) return s;
  Eigen::MatrixXd columns(n, escape_columns);
  Eigen::VectorXd depth(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Solved& one = solved[static_cast<std::size_t>(i)];
    columns.row(i) = row_of(s, one.point.blow, one.point.let_off);
    depth(i) = one.set.falls;
  }
  s.escape = fit(columns, depth);
  if (s.escape.size() == 0) return s;
  s.residual = (columns * s.escape - depth).cwiseAbs().maxCoeff();
  s.found = true;
  if (with_strokes) add_strokes(bench, solved, s);
  return s;
}

}  // namespace brief

}  // namespace batten
