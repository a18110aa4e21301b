#include "core/regulation/drift/civil.hpp"
#include "core/regulation/drift/drift.hpp"
#include "core/regulation/drift/grounds.hpp"
#include "core/regulation/drift/projection.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace batten {

namespace {

using namespace drift;

// 90 % of futures lie between.
constexpr double low_end = 0.05, high_end = 0.95;

using Shares = std::vector<std::array<double, drawn>>;

std::int64_t later(std::int64_t from_ms, double days) {
  return from_ms + static_cast<std::int64_t>(std::llround(days * ms_per_day));
}

double mean_of(const std::array<double, drawn>& list) {
  double sum = 0;
  for (const double x : list) sum += x;
  return sum / drawn;
}

// Readings that nobody has seen wander err together: what is true of a piano's wood, room and
// playing is true of all of them, and priors drawn reading by reading do not say so. Until so much
// is learned, the whole is drawn apart by up to this share more (estimates; drift-figures.md).
constexpr double together_until = 0.4, together_more = 0.6;

void draw_apart(std::array<double, drawn>& shares, double learned) {
  const double by = 1 + together_more * std::max(0.0, 1 - learned / together_until);
  const double mean = mean_of(shares);
  for (double& share : shares) share = std::clamp(mean + by * (share - mean), 0.0, 1.0);
}

std::vector<OutlookPoint> points_of(const Shares& shares, const std::vector<double>& offsets,
                                    std::int64_t from_ms, double limit) {
  std::vector<OutlookPoint> points;
  for (std::size_t k = 0; k < shares.size(); ++k) {
    std::array<double, drawn> sorted = shares[k];
    OutlookPoint p;
    p.day = offsets[k];
    p.at_ms = later(from_ms, p.day);
    p.share = mean_of(shares[k]);
    p.low = quantile(sorted, low_end);
    p.high = quantile(sorted, high_end);
    p.chance_over_limit =
        static_cast<double>(std::ranges::count_if(shares[k], [&](double s) { return s > limit; })) /
        drawn;
    points.push_back(p);
  }
  return points;
}

// Day at which a share first passes the limit, straight between moments; nothing: it does not.
template <class At>
std::optional<double> crossing(At at, const std::vector<double>& offsets, double limit) {
  if (at(0) > limit) return 0.0;
  for (std::size_t k = 1; k < offsets.size(); ++k)
    if (at(k) > limit)
      return offsets[k - 1] +
             (offsets[k] - offsets[k - 1]) * (limit - at(k - 1)) / (at(k) - at(k - 1));
  return std::nullopt;
}

OutlookDue due_of(const Shares& shares, const std::vector<OutlookPoint>& points,
                  const std::vector<double>& offsets, std::int64_t from_ms, double limit) {
  OutlookDue due;
  // Those that do not pass it come after all others.
  const double never = offsets.back() * 2;
  std::array<double, drawn> days{};
  for (std::size_t j = 0; j < drawn; ++j)
    days[j] = crossing([&](std::size_t k) { return shares[k][j]; }, offsets, limit).value_or(never);
  const double half = quantile(days, 0.5);
  due.state = points.front().share > limit || half <= 0 ? DueState::overdue
              : half < never                            ? DueState::due_at
                                                        : DueState::beyond;
  if (due.state == DueState::due_at) {
    due.day = half;
    due.at_ms = later(from_ms, half);
  }
  const auto end = [&](double p, std::optional<double>& day, std::optional<std::int64_t>& at) {
    const double d = quantile(days, p);
    if (d >= never) return;
    day = d;
    at = later(from_ms, d);
  };
  end(low_end, due.low_day, due.low_ms);
  end(high_end, due.high_day, due.high_ms);
  return due;
}

std::array<OutlookCause, drift_cause_count> causes_of(const Model& m, const Reckoned& r,
                                                      double today) {
  const Prior& prior = r.series->prior;
  const Effects e = effects(r);
  // Of playing-in, what is still to come, mean over nodes and notes.
  double to_come = 0, wander = 0, shared = 0;
  for (const Node& node : r.nodes) {
    const Drivers::At now = m.at(*r.series, node, today);
    const Drivers::At end = m.settled_for_good(*r.series, node, today);
    double sum = 0;
    for (const NoteBelief& n : node.belief.notes)
      if (n.known)
        sum += step_to(n, node.drivers, end).settled - step_to(n, node.drivers, now).settled;
    if (r.known > 0) to_come += node.weight * sum / r.known;
    wander += node.weight * node.drivers.own_a_day;
    shared += node.weight * node.drivers.shared_a_day;
  }
  const double swing = m.climate.swing(), year = m.hours_a_day * days_per_year / 1000;
  const double notes = note_share;
  return {{{DriftCause::playing_in, to_come * e.mean(0), to_come * e.sd(0),
            to_come * notes * prior.playing_in.size()},
           {DriftCause::season, swing * e.mean(1), swing * e.sd(1),
            swing * notes * prior.season.size()},
           {DriftCause::wear, year * e.mean(2), year * e.sd(2), 0},
           {DriftCause::wander, 0, std::sqrt(shared * days_per_year),
            std::sqrt(wander * days_per_year)}}};
}

void add_notes(const Reckoned& r, const Projection& p, std::size_t due, Outlook& out) {
  for (const NoteForecast& f : p.notes) {
    const Note& note = r.series->notes[f.note];
    out.notes.push_back({note.key, r.series->reading, note.target, note.tolerance, f.left,
                         f.mean.front(), f.sd.front(), f.outside.front(), f.outside[due]});
  }
}

Result<void> check(const DriftOptions& options) {
  if (options.months < 1 || options.months > 60)
    return problem("An outlook over " + std::to_string(options.months) + " months is not made.",
                   "Ask for 1 to 60 months.");
  if (options.limit && !(*options.limit > 0 && *options.limit < 1))
    return problem("A limit must lie between 0 and 100 %.", "Write one like 20.");
  return {};
}

}  // namespace

Result<Outlook> calc_outlook(Compass compass, const Standing& standing,
                             const DriftOptions& options) {
  if (auto ok = check(options); !ok) return tl::unexpected(ok.error());
  auto history = gather_history(compass, standing, options.from_ms);
  if (!history) return tl::unexpected(history.error());
  Model m;
  m.history = std::move(*history);
  reckon(m);

  Outlook out;
  out.from_ms = options.from_ms;
  out.last_work_ms = m.history.last_work_ms;
  out.limit = options.limit.value_or(m.history.settings.return_limit.value_or(usual_limit));
  out.months = options.months;
  out.known_from = grounds_of(m);
  const double today = static_cast<double>(options.from_ms) / ms_per_day;
  std::vector<double> offsets, days;
  for (int k = 0; k <= options.months; ++k) {
    offsets.push_back(k * days_per_month);
    days.push_back(today + offsets.back());
  }
  Futures futures = draw_futures(m, days);
  Shares all(days.size());
  for (auto& row : all) row.fill(0);
  std::vector<std::pair<const Reckoned*, Projection>> projections;
  for (const Reckoned& r : m.readings) {
    if (r.known == 0) continue;
    projections.emplace_back(&r, project(m, r, futures));
    const Projection& p = projections.back().second;
    OutlookReading reading;
    reading.reading = r.series->reading;
    reading.tolerance = r.series->notes.front().tolerance;
    reading.notes = p.known;
    reading.pairs = r.nodes.front().belief.pairs;
    reading.outside_now = mean_of(p.share.front()) * p.known;
    reading.causes = causes_of(m, r, today);
    reading.points = points_of(p.share, offsets, options.from_ms, out.limit);
    reading.due = due_of(p.share, reading.points, offsets, options.from_ms, out.limit);
    out.readings.push_back(std::move(reading));
    out.known += p.known;
    for (std::size_t k = 0; k < days.size(); ++k)
      for (std::size_t j = 0; j < drawn; ++j) all[k][j] += p.known * p.share[k][j];
  }
  if (out.known == 0) return out;
  for (auto& row : all) {
    for (double& share : row) share /= out.known;
    draw_apart(row, out.known_from.learned);
  }
  out.points = points_of(all, offsets, options.from_ms, out.limit);
  out.due = due_of(all, out.points, offsets, options.from_ms, out.limit);
  out.notes_outside_now = out.points.front().share;
  std::size_t due = days.size() - 1;
  if (out.due.state == DueState::overdue) due = 0;
  if (out.due.day) due = static_cast<std::size_t>(std::lround(*out.due.day / days_per_month));
  for (const auto& [r, p] : projections) add_notes(*r, p, std::min(due, days.size() - 1), out);
  return out;
}

}  // namespace batten
