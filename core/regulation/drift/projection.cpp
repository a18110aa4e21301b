#include "core/regulation/drift/projection.hpp"

#include "core/regulation/drift/civil.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>
#include <utility>

namespace batten::drift {

namespace {

using Eigen::MatrixXd;
using Eigen::Vector3d;
using Eigen::VectorXd;

constexpr std::size_t half = drawn / 2;
constexpr std::size_t knots = 9;
// Shares are drawn apart by so much about their mean, for no piano keeps to a model: so that nine
// bands in ten hold on invented pianos (docs/theory/drift-figures.md). Widening what they are made
// of instead would raise the mean as well.
constexpr double doubt = 1.25;
// How far a year's playing may differ from what it was, standard deviation of the logarithm: where
// the user said how much, and where not (estimates).
constexpr double hours_sd_known = 0.15, hours_sd = 0.3;

// A number of its own for a future and its mirror image.
class Draws {
 public:
  explicit Draws(std::size_t& next) : next_(next) {}
  void begin() { base_ = next_; }
  void end(std::size_t used_each) { next_ = base_ + used_each * half; }
  double get(std::size_t future, std::size_t which) const {
    const double z = fixed_normal(base_ + which * half + future % half);
    return future < half ? z : -z;
  }

 private:
  std::size_t& next_;
  std::size_t base_ = 0;
};

// A root of a covariance that may be short of rank.
MatrixXd factor_of(const MatrixXd& cov) {
  const Eigen::LDLT<MatrixXd> ldlt(cov);
  const VectorXd d = ldlt.vectorD().cwiseMax(0).cwiseSqrt();
  const MatrixXd l = ldlt.matrixL();
  return ldlt.transpositionsP().transpose() * MatrixXd(l * d.asDiagonal());
}

// What moves a section's notes together at one moment, at one node.
struct Shared {
  Vector3d row = Vector3d::Zero();            // by the shared effects, mean over notes
  double mean = 0;                            // of the notes' expected levels
  double season = 0, settling = 0, worn = 0;  // per percent; per share of hours more
  double days = 0;
  double shock = 0;     // standard deviation of the section's wander
  double expected = 0;  // `mean`, over the nodes
  int notes = 0;
};

struct Level {
  double mean = 0, var = 0;
};

class Projector {
 public:
  Projector(const Model& model, const Reckoned& reading, Futures& futures, const Extra& extra)
      : model_(model), r_(reading), futures_(futures), extra_(extra) {
    sections_ = model.history.sections.size();
    for (const Node& node : r_.nodes) {
      effects_.emplace_back();
      for (std::size_t s = 0; s < sections_; ++s)
        effects_.back().push_back(section_effects(r_, node, s) - prior_mean(r_.series->prior));
    }
  }

  Projection run() {
    const auto& notes = r_.series->notes;
    for (std::size_t i = 0; i < notes.size(); ++i)
      if (r_.nodes.front().belief.notes[i].known) {
        out_.notes.push_back({i, left(i), {}, {}, {}});
      }
    out_.known = static_cast<int>(out_.notes.size());
    out_.share.resize(futures_.days.size());
    draw_effects();
    for (std::size_t k = 0; k < futures_.days.size(); ++k) moment(k);
    return std::move(out_);
  }

 private:
  double left(std::size_t i) const {
    double sum = 0;
    for (std::size_t n = 0; n < r_.nodes.size(); ++n) sum += r_.nodes[n].weight * state(n, i)(0);
    return sum;
  }

  Vector3d state(std::size_t node, std::size_t i) const {
    const NoteBelief& b = r_.nodes[node].belief.notes[i];
    return b.mean + b.by_shared * effects_[node][r_.series->notes[i].section];
  }

  // Every future's node and its shared effects, as departures from the node's own means.
  void draw_effects() {
    Draws z(futures_.next);
    z.begin();
    std::vector<double> cumulated;
    for (const Node& n : r_.nodes)
      cumulated.push_back((cumulated.empty() ? 0 : cumulated.back()) + n.weight);
    departures_.assign(sections_, {});
    shock_.assign(sections_, {});
    const auto size = 3 * static_cast<Eigen::Index>(sections_);
    std::vector<MatrixXd> factors;
    for (const Node& n : r_.nodes) factors.push_back(factor_of(n.belief.shared_cov));
    VectorXd numbers(size);
    for (std::size_t j = 0; j < drawn; ++j) {
      // A stride prime to their number, so that nodes do not go with the order of the numbers.
      const double place = (static_cast<double>((j % half * 61) % half) + 0.5) / half;
      std::size_t n = 0;
      while (n + 1 < cumulated.size() && cumulated[n] < place) ++n;
      node_[j] = n;
      many_[j] = z.get(j, 0);
      for (Eigen::Index i = 0; i < size; ++i)
        numbers(i) = z.get(j, 1 + sections_ + static_cast<std::size_t>(i));
      const VectorXd departure = factors[n] * numbers;
      for (std::size_t s = 0; s < sections_; ++s) {
        shock_[s][j] = z.get(j, 1 + s);
        departures_[s][j] = departure.segment<3>(3 * static_cast<Eigen::Index>(s));
      }
    }
    z.end(1 + 4 * sections_);
  }

  void moment(std::size_t k) {
    std::vector<std::vector<Shared>> shared(r_.nodes.size(), std::vector<Shared>(sections_));
    std::vector<Level> levels(out_.notes.size());
    for (std::size_t n = 0; n < r_.nodes.size(); ++n) reckon_levels(k, n, shared[n], levels);
    for (std::size_t s = 0; s < sections_; ++s) {
      double expected = 0;
      for (std::size_t n = 0; n < r_.nodes.size(); ++n)
        expected += r_.nodes[n].weight * shared[n][s].mean;
      for (std::size_t n = 0; n < r_.nodes.size(); ++n) {
        shared[n][s].expected = expected;
        shared[n][s].shock = std::sqrt(r_.nodes[n].drivers.shared_a_day * shared[n][s].days);
      }
    }
    std::array<double, drawn> outside{}, noise{};
    for (std::size_t s = 0; s < sections_; ++s) {
      if (shared[0][s].notes == 0) continue;
      std::array<double, drawn> by;
      for (std::size_t j = 0; j < drawn; ++j) by[j] = together(k, s, j, shared);
      tabulate(s, levels, by, outside, noise);
    }
    const double count = std::max(1, out_.known);
    for (std::size_t j = 0; j < drawn; ++j)
      out_.share[k][j] = (outside[j] + many_[j] * std::sqrt(noise[j])) / count;
    double mean = 0;
    for (const double share : out_.share[k]) mean += share / drawn;
    for (double& share : out_.share[k]) share = std::clamp(mean + doubt * (share - mean), 0.0, 1.0);
  }

  void reckon_levels(std::size_t k, std::size_t n, std::vector<Shared>& shared,
                     std::vector<Level>& levels) {
    const Node& node = r_.nodes[n];
    const double more = k > 0 ? extra_.hours : 0;
    Drivers::At to = model_.at(*r_.series, node, futures_.days[k], more);
    if (k > 0) to.moisture += extra_.moisture;
    // Ten percent more played between today and then.
    constexpr double tenth = 0.1;
    const double played = to.hours - model_.hours(futures_.days.front());
    const Drivers::At busier = model_.at(*r_.series, node, futures_.days[k], more + tenth * played);
    const double worn = prior_mean(r_.series->prior)(2);
    for (std::size_t m = 0; m < out_.notes.size(); ++m) {
      const std::size_t i = out_.notes[m].note;
      const NoteBelief& b = node.belief.notes[i];
      const std::size_t section = r_.series->notes[i].section;
      const Vector3d x = state(n, i);
      const double wear = worn + effects_[n][section](2);
      const Step step = step_to(b, node.drivers, to);
      const double mean = x(0) + step.settled * x(1) + step.moisture * x(2) + step.wear * wear;
      const Vector3d h(1, step.settled, step.moisture);
      const double var = h.dot(b.cov * h) + node.drivers.own_a_day * step.days;
      levels[m].mean += node.weight * mean;
      levels[m].var += node.weight * var;
      Shared& s = shared[section];
      s.row += b.by_shared.transpose() * h + Vector3d(0, 0, step.wear);
      s.mean += mean;
      s.season += x(2);
      s.worn += played / 1000 * wear;
      s.settling += (step_to(b, node.drivers, busier).settled - step.settled) / tenth * x(1);
      s.days += step.days;
      ++s.notes;
    }
    for (Shared& s : shared) {
      if (s.notes == 0) continue;
      const double each = 1.0 / s.notes;
      s.row *= each;
      s.mean *= each;
      s.season *= each;
      s.worn *= each;
      s.settling *= each;
      s.days *= each;
    }
  }

  // By how much a section stands off what is expected of it, in one future.
  double together(std::size_t k, std::size_t s, std::size_t j,
                  const std::vector<std::vector<Shared>>& shared) const {
    const std::size_t n = node_[j];
    const Shared& here = shared[n][s];
    return here.mean - here.expected + here.row.dot(departures_[s][j]) +
           here.season * futures_.moisture[k][j] + futures_.hours[j] * (here.worn + here.settling) +
           shock_[s][j] * here.shock;
  }

  void tabulate(std::size_t s, const std::vector<Level>& levels,
                const std::array<double, drawn>& by, std::array<double, drawn>& outside,
                std::array<double, drawn>& noise) {
    const auto [low, high] = std::ranges::minmax(by);
    const double span = std::max(high - low, 1e-9);
    std::array<double, knots> sum{}, scatter{};
    double square = 0;
    for (const double b : by) square += b * b / drawn;
    for (std::size_t m = 0; m < levels.size(); ++m) {
      NoteForecast& f = out_.notes[m];
      const Note& note = r_.series->notes[f.note];
      if (note.section != s) continue;
      const double sd = std::sqrt(std::max(levels[m].var, 1e-12));
      for (std::size_t q = 0; q < knots; ++q) {
        const double moved = low + span * static_cast<double>(q) / (knots - 1);
        const double p = normal_.outside(levels[m].mean + moved, sd, note.target, note.tolerance);
        sum[q] += p;
        scatter[q] += p * (1 - p);
      }
      f.mean.push_back(levels[m].mean);
      f.sd.push_back(std::sqrt(levels[m].var + square));
      f.outside.push_back(
          normal_.outside(levels[m].mean, f.sd.back(), note.target, note.tolerance));
    }
    for (std::size_t j = 0; j < drawn; ++j) {
      const double at = (by[j] - low) / span * (knots - 1);
      const auto q = std::min(static_cast<std::size_t>(at), knots - 2);
      const double part = at - static_cast<double>(q);
      outside[j] += sum[q] + part * (sum[q + 1] - sum[q]);
      noise[j] += scatter[q] + part * (scatter[q + 1] - scatter[q]);
    }
  }

  const Model& model_;
  const Reckoned& r_;
  Futures& futures_;
  Extra extra_;
  std::size_t sections_ = 0;
  std::vector<std::vector<Vector3d>> effects_;  // [node][section], departures from the prior's mean
  std::array<std::size_t, drawn> node_{};
  std::array<double, drawn> many_{};
  std::vector<std::array<Vector3d, drawn>> departures_;
  std::vector<std::array<double, drawn>> shock_;
  const Normal normal_;
  Projection out_;
};

}  // namespace

Futures draw_futures(const Model& m, std::vector<double> days) {
  Futures f;
  f.days = std::move(days);
  f.moisture.resize(f.days.size());
  const auto& visits = m.history.visits;
  const bool had = !visits.empty();
  const double before = had ? visits.back().day : f.days.front();
  const double before_sd = m.climate.spell_sd(had && visits.back().humidity.has_value());
  Draws z(f.next);
  z.begin();
  const double hours = m.history.settings.playing_hours_known ? hours_sd_known : hours_sd;
  for (std::size_t j = 0; j < drawn; ++j) {
    const Vector3d year(z.get(j, 0), z.get(j, 1), z.get(j, 2));
    f.hours[j] = std::expm1(hours * z.get(j, 3) - 0.5 * hours * hours);
    const double from = m.climate.moisture(before, year) - m.climate.moisture(before);
    const double off = before_sd * z.get(j, 4);
    for (std::size_t k = 0; k < f.days.size(); ++k) {
      const double left = Climate::left_of_departure(f.days[k] - before);
      const double fresh = m.climate.spell_sd(false) * std::sqrt(1 - left * left);
      f.moisture[k][j] = m.climate.moisture(f.days[k], year) - m.climate.moisture(f.days[k]) -
                         from + fresh * z.get(j, 5 + k) - (1 - left) * off;
    }
  }
  z.end(5 + f.days.size());
  return f;
}

Projection project(const Model& model, const Reckoned& reading, Futures& futures,
                   const Extra& extra) {
  return Projector(model, reading, futures, extra).run();
}

}  // namespace batten::drift
