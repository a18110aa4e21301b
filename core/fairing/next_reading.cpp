#include "core/fairing/next_reading.hpp"

#include <algorithm>
#include <cmath>

namespace batten::fairing {

namespace {

constexpr std::size_t most_proposed = 5;
constexpr int enough_repeats = 4;
// A chance of being wrong between this and one less this leaves a reading undecided.
constexpr double undecided_from = 0.02;
// Standard deviation of a reading not yet taken: that of the readings already there, or this, mm.
constexpr double usual_sd = 0.1;

struct Doubtful {
  Key key;
  double open = 0;  // how undecided its most undecided reading is: the smaller of p and 1 - p
  bool wrong = false;
  int readings = 0;
};

// A reading that is surely wrong has nothing left to settle, but where it is the only one of its
// key the key wants a good one; those come last.
std::vector<Doubtful> doubtful_keys(const FairCurve& curve,
                                    const std::vector<HeightReading>& readings) {
  std::vector<Doubtful> list;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    auto it = std::find_if(list.begin(), list.end(),
                           [&](const Doubtful& d) { return d.key == readings[i].key; });
    if (it == list.end()) it = list.insert(list.end(), {readings[i].key, 0, false, 0});
    ++it->readings;
    const ReadingJudgement& j = curve.judgements[i];
    it->open = std::max(it->open, std::min(j.chance_wrong, 1 - j.chance_wrong));
    it->wrong |= j.doubt == Doubt::wrong;
  }
  std::erase_if(list, [](const Doubtful& d) {
    const bool undecided = d.open >= undecided_from && d.readings < enough_repeats;
    return !undecided && !(d.wrong && d.readings == 1);
  });
  std::sort(list.begin(), list.end(),
            [](const Doubtful& a, const Doubtful& b) { return a.open > b.open; });
  return list;
}

// Expected fall of the RMS standard deviation of a section for a reading at each of its keys, mm.
// A reading at c with variance s^2 lowers the variance at t by C(t,c)^2 / (C(c,c) + s^2).
Eigen::VectorXd expected_drops(const SectionData& data, const Hyperparameters& h,
                               const MeanPrior& mean, double reading_sd) {
  Eigen::MatrixXd c =
      prior_covariance(data.target_keys, data.target_keys, data.first, data.last, h, mean);
  if (data.keys.size() > 0) {
    const Prior prior = calc_prior(data, h, mean);
    c -= prior.cross.transpose() * calc_posterior(data, prior, h.noise_factor).gain;
  }
  const double now = c.diagonal().mean();
  Eigen::VectorXd drop(c.rows());
  for (Eigen::Index k = 0; k < c.rows(); ++k) {
    const double fall = c.col(k).squaredNorm() / (c(k, k) + reading_sd * reading_sd);
    const double then = std::max(0.0, now - fall / static_cast<double>(c.rows()));
    drop[k] = std::sqrt(std::max(0.0, now)) - std::sqrt(then);
  }
  return drop;
}

SectionData good_readings(const Section& section, const FairCurve& curve,
                          const std::vector<HeightReading>& readings) {
  std::vector<std::size_t> good;
  for (std::size_t i = 0; i < readings.size(); ++i)
    if (section.contains(readings[i].key) && curve.judgements[i].doubt != Doubt::wrong)
      good.push_back(i);
  SectionData d;
  d.first = section.first.number;
  d.last = section.last.number;
  d.target_keys = Eigen::VectorXd::LinSpaced(section.count(), d.first, d.last);
  const auto n = static_cast<Eigen::Index>(good.size());
  d.keys.resize(n);
  d.heights = Eigen::VectorXd::Zero(n);
  d.sd.resize(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    d.keys[i] = readings[good[static_cast<std::size_t>(i)]].key.number;
    d.sd[i] = readings[good[static_cast<std::size_t>(i)]].uncertainty.in(millimetre);
  }
  return d;
}

}  // namespace

std::vector<NextReading> propose_readings(const FairCurve& curve,
                                          const std::vector<HeightReading>& readings,
                                          const Hyperparameters& central, const MeanPrior& mean) {
  std::vector<NextReading> next;
  for (const Doubtful& d : doubtful_keys(curve, readings))
    if (next.size() < most_proposed) next.push_back({d.key, true, Length()});

  std::vector<NextReading> plain;
  for (const SectionCurve& s : curve.sections) {
    const SectionData data = good_readings(s.section, curve, readings);
    const double sd = data.sd.size() > 0 ? data.sd.mean() : usual_sd;
    const Eigen::VectorXd drop = expected_drops(data, central, mean, sd);
    // The lowest of equals, and of what differs by rounding alone: the same on every machine.
    Eigen::Index best = 0;
    while (drop[best] < drop.maxCoeff() * (1 - 1e-9)) ++best;
    plain.push_back(
        {Key{s.section.first.number + static_cast<int>(best)}, false, drop[best] * millimetre});
  }
  std::sort(plain.begin(), plain.end(),
            [](const NextReading& a, const NextReading& b) { return a.drop > b.drop; });
  for (const NextReading& n : plain)
    if (next.size() < most_proposed &&
        std::none_of(next.begin(), next.end(),
                     [&](const NextReading& m) { return m.key == n.key; }))
      next.push_back(n);
  return next;
}

}  // namespace batten::fairing
