#include "core/regulation/drift/model.hpp"

#include "core/regulation/drift/civil.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace batten::drift {

namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

// Nodes of less weight say nothing that could be seen.
constexpr double least_weight = 0.03;
// For the weights alone a share of the notes will do where there is much to read.
constexpr std::size_t events_for_weights = 1200;

double since(double hours_a_day, double from_day, double to_day) {
  return hours_a_day * std::max(0.0, to_day - from_day);
}

// How much of all new felt's playing-in has passed on a day.
double settled(const Series& s, const DriftSettings& settings, double hours_a_day, double tau,
               double day, double extra_hours) {
  double sum = 0;
  for (const NewFelt& f : settings.new_felt) {
    const double share = felt_share(f.what, s.reading);
    const double put_in = static_cast<double>(f.at_ms) / ms_per_day;
    if (share > 0 && day > put_in)
      sum += share * (1 - std::exp(-(since(hours_a_day, put_in, day) + extra_hours) / tau));
  }
  return sum;
}

Drivers make_drivers(const Model& m, const Series& s, double tau, double wander) {
  Drivers d;
  d.settle_hours = tau;
  d.shared_a_day = wander * wander * s.prior.wander_shared * s.prior.wander_shared / days_per_year;
  d.own_a_day = wander * wander * s.prior.wander * s.prior.wander / days_per_year;
  const auto& visits = m.history.visits;
  for (std::size_t i = 0; i < visits.size(); ++i) {
    const VisitFacts& v = visits[i];
    d.visits.push_back({v.day, m.hours(v.day), std::exp(-m.hours(v.day) / tau),
                        settled(s, m.history.settings, m.hours_a_day, tau, v.day, 0),
                        m.climate.moisture(v.day) + m.climate.departure(v.humidity, v.day)});
    const VisitFacts& last = visits[i > 0 ? i - 1 : 0];
    d.moisture_var.push_back(m.climate.year_var(last.day, v.day) +
                             std::pow(m.climate.spell_sd(last.humidity.has_value()), 2) +
                             std::pow(m.climate.spell_sd(v.humidity.has_value()), 2));
  }
  return d;
}

// Every so-manyth note; empty: all.
std::vector<std::uint8_t> part_of(const Series& s) {
  if (s.events.size() <= events_for_weights) return {};
  const std::size_t every = (s.events.size() + events_for_weights - 1) / events_for_weights;
  std::vector<std::uint8_t> use(s.notes.size());
  for (std::size_t i = 0; i < use.size(); i += every) use[i] = 1;
  return use;
}

void weigh(std::vector<Node>& nodes) {
  double most = -std::numeric_limits<double>::infinity();
  for (const Node& n : nodes) most = std::max(most, std::log(n.weight) + n.belief.log_evidence);
  double sum = 0;
  for (Node& n : nodes) sum += n.weight = n.weight * std::exp(n.belief.log_evidence - most);
  for (Node& n : nodes) n.weight /= sum;
}

Reckoned reckon(const Model& m, const Series& s) {
  Reckoned out;
  out.series = &s;
  const std::size_t sections = m.history.sections.size();
  const auto part = part_of(s);
  for (std::size_t t = 0; t < settle_hours.size(); ++t)
    for (std::size_t w = 0; w < wander_factor.size(); ++w) {
      Node node;
      node.drivers = make_drivers(m, s, settle_hours[t], wander_factor[w]);
      node.belief = filter(s, node.drivers, sections, part);
      node.weight = settle_chance[t] * wander_chance[w];
      out.nodes.push_back(std::move(node));
    }
  weigh(out.nodes);
  std::erase_if(out.nodes, [](const Node& n) { return n.weight < least_weight; });
  double sum = 0;
  for (const Node& n : out.nodes) sum += n.weight;
  for (Node& n : out.nodes) {
    n.weight /= sum;
    if (!part.empty()) n.belief = filter(s, n.drivers, sections);
  }
  for (const NoteBelief& n : out.nodes.front().belief.notes) out.known += n.known ? 1 : 0;
  return out;
}

}  // namespace

double Model::hours(double day) const {
  return history.visits.empty() ? 0 : hours_a_day * (day - history.visits.back().day);
}

Drivers::At Model::at(const Series& s, const Node& node, double day, double extra_hours) const {
  const double tau = node.drivers.settle_hours, played = hours(day) + extra_hours;
  return {day, played, std::exp(-played / tau),
          settled(s, history.settings, hours_a_day, tau, day, extra_hours), moisture(day)};
}

double Model::moisture(double day) const {
  if (history.visits.empty()) return climate.moisture(day);
  const VisitFacts& last = history.visits.back();
  return climate.moisture(day) +
         climate.departure(last.humidity, last.day) * Climate::left_of_departure(day - last.day);
}

Drivers::At Model::settled_for_good(const Series& s, const Node& node, double day) const {
  return at(s, node, day, 50 * node.drivers.settle_hours);
}

void reckon(Model& m) {
  m.hours_a_day = m.history.settings.playing_hours / 7;
  m.climate = Climate(m.history.settings.climate, m.history.humidities);
  m.readings.clear();
  for (const Series& s : m.history.series) m.readings.push_back(reckon(m, s));
}

Eigen::Vector3d section_effects(const Reckoned& r, const Node& node, std::size_t section) {
  return prior_mean(r.series->prior) + node.belief.of_section(section);
}

Effects effects(const Reckoned& r) {
  Effects out;
  Vector3d square = Vector3d::Zero();
  for (const Node& node : r.nodes) {
    const Belief& b = node.belief;
    // Sections count by their notes.
    Eigen::MatrixXd mean_of = Eigen::MatrixXd::Zero(3, b.shared.size());
    double count = 0;
    for (std::size_t i = 0; i < b.notes.size(); ++i)
      if (b.notes[i].known || r.known == 0) {
        mean_of.middleCols<3>(3 * static_cast<Eigen::Index>(r.series->notes[i].section)) +=
            Matrix3d::Identity();
        count += 1;
      }
    mean_of /= std::max(1.0, count);
    const Vector3d mean = prior_mean(r.series->prior) + mean_of * b.shared;
    const Matrix3d cov = mean_of * b.shared_cov * mean_of.transpose();
    out.mean += node.weight * mean;
    square += node.weight * (cov.diagonal() + mean.cwiseProduct(mean));
  }
  out.sd = (square - out.mean.cwiseProduct(out.mean)).cwiseMax(0).cwiseSqrt();
  return out;
}

Effects effects_before(const Reckoned& r) {
  Effects out;
  out.mean = prior_mean(r.series->prior);
  std::vector<double> count(r.nodes.front().belief.notes.size() + 1);
  double all = 0, square = 0;
  for (std::size_t i = 0; i < r.series->notes.size(); ++i)
    if (r.nodes.front().belief.notes[i].known || r.known == 0) {
      count[r.series->notes[i].section] += 1;
      all += 1;
    }
  for (const double c : count) square += c * c;
  const Vector3d own = section_cov(r.series->prior).diagonal() * (square / (all * all));
  out.sd = (prior_cov(r.series->prior).diagonal() + own).cwiseSqrt();
  return out;
}

}  // namespace batten::drift
