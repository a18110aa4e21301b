#include "core/fairing/fair_curve.hpp"

#include "core/fairing/hypotheses.hpp"
#include "core/fairing/next_reading.hpp"
#include "core/fairing/section_model.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <limits>
#include <numeric>

namespace batten {

namespace {

using namespace fairing;

constexpr std::size_t most_readings = 300;
// Prior standard deviation of a section's height about the middle of its readings, mm: wide enough
// to say nothing, small enough to keep the matrices well conditioned.
constexpr double offset_sd = 50;

// Gauss-Hermite nodes for a standard normal. Source: Abramowitz & Stegun 25.4.46 with three nodes.
std::vector<Hyperparameters> make_grid(const FairingOptions& o) {
  std::vector<double> node{0}, weight{1};
  if (o.nodes == 3) {
    node = {-std::sqrt(3.0), 0, std::sqrt(3.0)};
    weight = {1.0 / 6, 2.0 / 3, 1.0 / 6};
  }
  std::vector<Hyperparameters> grid;
  for (std::size_t a = 0; a < node.size(); ++a)
    for (std::size_t r = 0; r < node.size(); ++r)
      for (std::size_t f = 0; f < node.size(); ++f)
        grid.push_back({o.amplitude.in(millimetre)*std::exp(o.amplitude_spread * node[a]),
                        o.reach * std::exp(o.reach_spread * node[r]),
                        std::exp(o.noise_factor_spread * node[f]),
                        std::log(weight[a] * weight[r] * weight[f])});
  return grid;
}

// exp(l), and 0 where that would not show beside 1: most hypotheses are that unlikely.
double share_of(double l) { return l < -40 ? 0 : std::exp(l); }

double log_sum(const std::vector<double>& logs) {
  const double top = *std::max_element(logs.begin(), logs.end());
  double sum = 0;
  for (double l : logs) sum += share_of(l - top);
  return top + std::log(sum);
}

double median(std::vector<double> v) {
  const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

// One section between being read and being answered.
struct Work {
  Section section;
  std::vector<std::size_t> index;  // of its readings in the caller's list
  double centre = 0;               // mm, removed from the heights
  SectionData data;
  std::vector<Posterior> posterior;  // per grid point
  Eigen::VectorXd wrong;             // mm, per reading
  std::vector<Suspects> hypotheses;
  std::vector<std::vector<double>> log_w;  // [grid point][hypothesis]
};

Work make_work(const Section& section, const std::vector<HeightReading>& readings,
               std::vector<std::size_t> index) {
  Work w;
  w.section = section;
  w.index = std::move(index);
  const auto n = static_cast<Eigen::Index>(w.index.size());
  std::vector<double> heights;
  heights.reserve(w.index.size());
  for (std::size_t i : w.index) heights.push_back(readings[i].height.in(millimetre));
  if (!heights.empty()) w.centre = median(heights);
  w.data.first = section.first.number;
  w.data.last = section.last.number;
  w.data.keys.resize(n);
  w.data.heights.resize(n);
  w.data.sd.resize(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const HeightReading& r = readings[w.index[static_cast<std::size_t>(i)]];
    w.data.keys[i] = r.key.number;
    w.data.heights[i] = r.height.in(millimetre)-w.centre;
    w.data.sd[i] = r.uncertainty.in(millimetre);
  }
  w.data.target_keys = Eigen::VectorXd::LinSpaced(section.count(), w.data.first, w.data.last);
  return w;
}

void weigh(Work& w, const std::vector<Hyperparameters>& grid, const MeanPrior& mean,
           const WrongPrior& prior) {
  Prior section;
  for (std::size_t g = 0; g < grid.size(); ++g) {
    // Neighbours on the grid differ in their noise alone.
    if (g == 0 || grid[g].amplitude != grid[g - 1].amplitude || grid[g].reach != grid[g - 1].reach)
      section = calc_prior(w.data, grid[g], mean);
    w.posterior.push_back(calc_posterior(w.data, section, grid[g].noise_factor));
  }
  // The middle of the grid, where the suspects cannot have bent the hyperparameters.
  const Posterior& central = w.posterior[grid.size() / 2];
  w.wrong = wrong_sd(central, {}, w.wrong, prior);
  w.hypotheses = list_hypotheses(central, w.wrong, prior);
  // Once more with the likeliest disarmed: a gross slip would else hide a small one beside it.
  const Suspects first = likeliest(central, w.hypotheses, w.wrong, prior);
  if (!first.empty()) {
    w.wrong = wrong_sd(central, first, w.wrong, prior);
    w.hypotheses = list_hypotheses(central, w.wrong, prior);
  }
  for (const Posterior& p : w.posterior) {
    std::vector<double> row;
    row.reserve(w.hypotheses.size());
    for (const Suspects& s : w.hypotheses) row.push_back(log_weight(p, s, w.wrong, prior));
    w.log_w.push_back(std::move(row));
  }
}

// Share of each grid point, all sections speaking.
std::vector<double> grid_shares(const std::vector<Work>& works,
                                const std::vector<Hyperparameters>& grid) {
  std::vector<double> logs;
  for (std::size_t g = 0; g < grid.size(); ++g) {
    double l = grid[g].log_weight;
    for (const Work& w : works)
      if (!w.index.empty()) l += log_sum(w.log_w[g]);
    logs.push_back(l);
  }
  const double total = log_sum(logs);
  for (double& l : logs) l = std::exp(l - total);
  return logs;
}

// Share of each hypothesis at each grid point; sums to 1 over both.
std::vector<std::vector<double>> joint_shares(const Work& w, const std::vector<double>& grid) {
  std::vector<std::vector<double>> share;
  for (std::size_t g = 0; g < grid.size(); ++g) {
    const double total = log_sum(w.log_w[g]);
    std::vector<double> row;
    for (double l : w.log_w[g]) row.push_back(grid[g] * share_of(l - total));
    share.push_back(std::move(row));
  }
  return share;
}

// The curve as the mixture of all that carries weight: mean, and variance with the spread of means.
void fill_points(const Work& w, const std::vector<std::vector<double>>& share,
                 SectionCurve& curve) {
  const Eigen::Index m = w.data.target_keys.size();
  Eigen::VectorXd mean = Eigen::VectorXd::Zero(m), square = Eigen::VectorXd::Zero(m);
  double total = 0;
  for (std::size_t g = 0; g < share.size(); ++g) {
    const Moments at_point = blend(w.posterior[g], w.hypotheses, share[g], w.wrong);
    mean += at_point.mean;
    square += at_point.square;
    total += at_point.share;
  }
  mean /= total;
  const Eigen::VectorXd variance = (square / total - mean.cwiseAbs2()).cwiseMax(0);
  for (Eigen::Index i = 0; i < m; ++i)
    curve.points.push_back({Key{w.section.first.number + static_cast<int>(i)},
                            (mean[i] + w.centre) * millimetre,
                            std::sqrt(variance[i]) * millimetre});
}

// The likeliest suspect of a section is flagged early; one beside it only when it is likely on its
// own account, because a wrong reading throws some suspicion on its neighbours.
Doubt doubt_from(double chance, bool likeliest, const FairingOptions& o) {
  if (chance >= o.wrong_from) return Doubt::wrong;
  if (chance >= (likeliest ? o.flag_from : o.flag_beside_from)) return Doubt::flag;
  return chance >= o.ask_from ? Doubt::ask : Doubt::none;
}

void judge(const Work& w, const std::vector<std::vector<double>>& share, const FairingOptions& o,
           std::vector<ReadingJudgement>& judgements) {
  std::vector<double> chance(w.index.size(), 0);
  for (const auto& row : share)
    for (std::size_t h = 0; h < w.hypotheses.size(); ++h)
      for (Eigen::Index i : w.hypotheses[h]) chance[static_cast<std::size_t>(i)] += row[h];
  const double likeliest = *std::max_element(chance.begin(), chance.end());
  Suspects wrong;
  for (std::size_t i = 0; i < chance.size(); ++i)
    if (chance[i] >= o.wrong_from) wrong.push_back(static_cast<Eigen::Index>(i));

  // What the others say: leave-one-out with the wrong ones already disarmed.
  const Posterior& p = w.posterior[w.posterior.size() / 2];
  const Eigen::MatrixXd inverse = inverse_under(p, wrong, w.wrong);
  const Eigen::VectorXd alpha = inverse * w.data.heights;
  for (std::size_t i = 0; i < chance.size(); ++i) {
    const auto e = static_cast<Eigen::Index>(i);
    const double residual = alpha[e] / inverse(e, e);
    double variance = 1 / inverse(e, e);
    // Under the hypothesis that it is wrong its own spread is in there; the others never said that.
    if (std::find(wrong.begin(), wrong.end(), e) != wrong.end())
      variance = std::max(variance - w.wrong[e] * w.wrong[e], w.data.sd[e] * w.data.sd[e]);
    ReadingJudgement& j = judgements[w.index[i]];
    j.chance_wrong = std::min(chance[i], 1.0);
    j.expected = (w.data.heights[e] + w.centre - residual) * millimetre;
    j.expected_sd = std::sqrt(variance) * millimetre;
    j.doubt = doubt_from(j.chance_wrong, chance[i] >= likeliest, o);
  }
}

SectionCurve unknown_curve(const Section& section) {
  SectionCurve curve{section, {}, 0};
  for (int k = section.first.number; k <= section.last.number; ++k)
    curve.points.push_back({Key{k}, Length(), std::numeric_limits<double>::infinity() * metre});
  return curve;
}

Result<std::vector<std::vector<std::size_t>>> sort_into_sections(
    const std::vector<Section>& sections, const std::vector<HeightReading>& readings) {
  std::vector<std::vector<std::size_t>> index(sections.size());
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const HeightReading& r = readings[i];
    const std::string at = " at " + note_name(r.key) + ".";
    const int s = section_of(sections, r.key);
    if (s < 0)
      return problem("A height was read" + at + " That note is in no section of this piano.",
                     "Correct the note or the sections.");
    if (!std::isfinite(r.height.si()) || !std::isfinite(r.uncertainty.si()) ||
        r.uncertainty.si() <= 0)
      return problem("A height or its uncertainty is not a usable number" + at,
                     "Give the uncertainty as a length above zero.");
    index[static_cast<std::size_t>(s)].push_back(i);
  }
  for (std::size_t s = 0; s < index.size(); ++s)
    if (index[s].size() > most_readings)
      return problem("There are more than " + std::to_string(most_readings) +
                         " readings in the section from " + note_name(sections[s].first) + ".",
                     "Begin a new visit for new readings, or undo the ones no longer needed.");
  return index;
}

}  // namespace

const FairPoint* FairCurve::at(Key key) const {
  for (const SectionCurve& s : sections)
    if (s.section.contains(key))
      return &s.points[static_cast<std::size_t>(key.number - s.section.first.number)];
  return nullptr;
}

Result<FairCurve> fair(const std::vector<Section>& sections,
                       const std::vector<HeightReading>& readings, const FairingOptions& options) {
  assert(options.nodes == 1 || options.nodes == 3);
  assert(options.wrong_share > 0 && options.wrong_share < 1);
  auto index = sort_into_sections(sections, readings);
  if (!index) return tl::unexpected(index.error());

  const std::vector<Hyperparameters> grid = make_grid(options);
  const MeanPrior mean{offset_sd, options.slope.in(millimetre) / 2, options.bow.in(millimetre)};
  const WrongPrior prior{options.wrong_share, options.wrong_spread.in(millimetre)};
  std::vector<Work> works;
  for (std::size_t s = 0; s < sections.size(); ++s) {
    works.push_back(make_work(sections[s], readings, std::move((*index)[s])));
    if (!works.back().index.empty()) weigh(works.back(), grid, mean, prior);
  }

  FairCurve curve;
  curve.judgements.resize(readings.size());
  const std::vector<double> shares = grid_shares(works, grid);
  curve.noise_factor = 0;
  for (std::size_t g = 0; g < grid.size(); ++g)
    curve.noise_factor += shares[g] * grid[g].noise_factor;

  for (const Work& w : works) {
    if (w.index.empty()) {
      curve.sections.push_back(unknown_curve(w.section));
      continue;
    }
    const auto share = joint_shares(w, shares);
    SectionCurve section{w.section, {}, static_cast<int>(w.index.size())};
    fill_points(w, share, section);
    judge(w, share, options, curve.judgements);
    curve.sections.push_back(std::move(section));
  }
  curve.next = propose_readings(curve, readings, grid[grid.size() / 2], mean);
  return curve;
}

Length evenness(const std::vector<Length>& deviations) {
  if (deviations.empty()) return {};
  double sum = 0;
  for (Length d : deviations) sum += d.si() * d.si();
  return Length::from_si(std::sqrt(sum / static_cast<double>(deviations.size())));
}

}  // namespace batten
