// Sets of suspects: the small updates against the same posterior computed from scratch with the
// suspects' noise widened. The identity is Woodbury's (Hager, SIAM Review 31, 1989, 221-239).
#include "core/fairing/hypotheses.hpp"

#include "workshop/chance.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

namespace batten::fairing {
namespace {

struct Scene {
  SectionData data;
  Hyperparameters h{0.5, 12, 1.2, 0};
  MeanPrior mean{50, 1.5, 0.6};
  Eigen::VectorXd wrong;
};

Scene make_scene(std::uint64_t seed, Eigen::Index n = 9) {
  workshop::Chance chance(seed);
  Scene s;
  s.data.first = 21;
  s.data.last = 44;
  s.data.keys.resize(n);
  s.data.heights.resize(n);
  s.data.sd.resize(n);
  s.wrong.resize(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    s.data.keys[i] = chance.between(21, 44);
    s.data.heights[i] = chance.normal();
    s.data.sd[i] = 0.05 + 0.1 * chance.uniform();
    s.wrong[i] = 1 + chance.uniform();
  }
  s.data.target_keys = Eigen::VectorXd::LinSpaced(24, 21, 44);
  return s;
}

Suspects some_suspects(std::uint64_t seed, Eigen::Index n) {
  workshop::Chance chance(seed + 1);
  Suspects s;
  for (Eigen::Index i = 0; i < n; ++i)
    if (chance.uniform() < 0.4) s.push_back(i);
  return s;
}

// The same readings with the suspects' errors widened from the start.
Posterior from_scratch(Scene s, const Suspects& suspects) {
  for (Eigen::Index i : suspects)
    s.data.sd[i] = std::hypot(s.data.sd[i], s.wrong[i] / s.h.noise_factor);
  return calc_posterior(s.data, s.h, s.mean);
}

// Measured over 1,000 scenes: 3e-8 relative; readings a tenth of a millimetre good under a prior
// of 50 mm make matrices conditioned like 1e7.
constexpr double close_enough = 3e-7;

RC_GTEST_PROP(Hypotheses, WeighAsIfComputedFromScratch, ()) {
  const auto seed = *rc::gen::inRange<std::uint64_t>(0, 1'000'000);
  const Scene s = make_scene(seed);
  const Suspects suspects = some_suspects(seed, 9);
  const Posterior all_good = calc_posterior(s.data, s.h, s.mean);
  const WrongPrior prior{0.03, 1.5};
  const double chance = static_cast<double>(suspects.size()) * std::log(0.03) +
                        static_cast<double>(9 - suspects.size()) * std::log(0.97);
  const double expected = from_scratch(s, suspects).log_evidence + chance;
  RC_ASSERT(std::abs(log_weight(all_good, suspects, s.wrong, prior) - expected) <=
            close_enough * std::abs(expected));
}

RC_GTEST_PROP(Hypotheses, BlendAsIfComputedFromScratch, ()) {
  const auto seed = *rc::gen::inRange<std::uint64_t>(0, 1'000'000);
  const Scene s = make_scene(seed);
  const std::vector<Suspects> sets{some_suspects(seed, 9), {}, {3}, {2, 5}};
  const std::vector<double> shares{0.4, 0.3, 0.2, 0.1};
  Eigen::VectorXd mean = Eigen::VectorXd::Zero(24), square = Eigen::VectorXd::Zero(24);
  for (std::size_t i = 0; i < sets.size(); ++i) {
    const Posterior p = from_scratch(s, sets[i]);
    mean += shares[i] * p.mean;
    square += shares[i] * (p.variance + p.mean.cwiseAbs2());
  }
  const Moments got = blend(calc_posterior(s.data, s.h, s.mean), sets, shares, s.wrong);
  RC_ASSERT(std::abs(got.share - 1) < 1e-12);
  RC_ASSERT((got.mean - mean).cwiseAbs().maxCoeff() <= close_enough);
  RC_ASSERT((got.square - square).cwiseAbs().maxCoeff() <= close_enough * (1 + square.maxCoeff()));
}

RC_GTEST_PROP(Hypotheses, InverseAsIfComputedFromScratch, ()) {
  const auto seed = *rc::gen::inRange<std::uint64_t>(0, 1'000'000);
  const Scene s = make_scene(seed);
  const Suspects suspects = some_suspects(seed, 9);
  const Eigen::MatrixXd got = inverse_under(calc_posterior(s.data, s.h, s.mean), suspects, s.wrong);
  const Eigen::MatrixXd expected = from_scratch(s, suspects).inverse;
  RC_ASSERT((got - expected).cwiseAbs().maxCoeff() <= close_enough * expected.cwiseAbs().maxCoeff());
}

// 1 + n + n (n - 1) / 2 sets where nothing is wrong; each but once.
TEST(Hypotheses, ListsEverySingleAndEveryPairOnce) {
  Scene s = make_scene(4);
  s.data.heights.setZero();
  const Posterior p = calc_posterior(s.data, s.h, s.mean);
  const WrongPrior prior{0.03, 1.5};
  auto list = list_hypotheses(p, wrong_sd(p, {}, {}, prior), prior);
  EXPECT_EQ(list.size(), 1U + 9U + 36U);
  std::sort(list.begin(), list.end());
  EXPECT_EQ(std::unique(list.begin(), list.end()), list.end());
}

// Three readings far out, each its own way: pairs cannot explain them, the grown set does.
TEST(Hypotheses, GrowWhereTwoAreNotEnough) {
  Scene s = make_scene(4, 20);
  s.data.keys = Eigen::VectorXd::LinSpaced(20, 21, 40);
  s.data.heights.setZero();
  s.data.heights[3] = 5;
  s.data.heights[9] = -4;
  s.data.heights[15] = 6;
  const Posterior p = calc_posterior(s.data, s.h, s.mean);
  const WrongPrior prior{0.03, 1.5};
  const Eigen::VectorXd wrong = wrong_sd(p, {}, {}, prior);
  const auto list = list_hypotheses(p, wrong, prior);
  const auto best = std::max_element(list.begin(), list.end(), [&](const auto& a, const auto& b) {
    return log_weight(p, a, wrong, prior) < log_weight(p, b, wrong, prior);
  });
  EXPECT_EQ(*best, (Suspects{3, 9, 15}));
}

// However far off a reading is, its own residual is in its spread: the normal density there is
// never below exp(-1/2) of the density's peak.
TEST(Hypotheses, SpreadGrowsWithTheSlip) {
  for (const double slip : {1.0, 10.0, 100.0}) {
    Scene s = make_scene(4);
    s.data.heights.setZero();
    s.data.heights[2] = slip;
    const Posterior p = calc_posterior(s.data, s.h, s.mean);
    const Eigen::VectorXd wrong = wrong_sd(p, {}, {}, {0.03, 1.5});
    const double residual = p.alpha[2] / p.inverse(2, 2);
    EXPECT_NEAR(wrong[2], std::hypot(1.5, residual), 1e-12 * wrong[2]);
    EXPECT_GE(wrong[2], std::abs(residual));
  }
}

// With a slip of 100 mm disarmed the others' spreads are what they are without that reading.
TEST(Hypotheses, ADisarmedSlipDoesNotWidenItsNeighbours) {
  const Scene clean = make_scene(4);
  Scene slipped = clean;
  slipped.data.heights[2] += 100;
  const WrongPrior prior{0.03, 1.5};
  const Posterior p = calc_posterior(slipped.data, slipped.h, slipped.mean);
  const Eigen::VectorXd first = wrong_sd(p, {}, {}, prior);
  const Eigen::VectorXd then = wrong_sd(p, {2}, first, prior);

  Scene without = clean;
  for (Eigen::VectorXd* v : {&without.data.keys, &without.data.heights, &without.data.sd}) {
    v->segment(2, v->size() - 3) = v->tail(v->size() - 3).eval();
    v->conservativeResize(v->size() - 1);
  }
  const Posterior q = calc_posterior(without.data, without.h, without.mean);
  const Eigen::VectorXd expected = wrong_sd(q, {}, {}, prior);
  for (Eigen::Index i = 0; i < 9; ++i) {
    if (i == 2) continue;
    // A disarmed reading keeps a thousandth of its pull: its noise is 100 mm, not infinite.
    EXPECT_NEAR(then[i] / expected[i < 2 ? i : i - 1], 1, 0.01) << i;
    EXPECT_GT(first[i] / then[i], 1.01) << i;
  }
  EXPECT_NEAR(then[2], first[2], 1e-6 * first[2]);
}

// Rasmussen & Williams 2006, eq. 4.17, worked by hand: sqrt(5) r / l = 2 gives (1 + 2 + 4/3) e^-2.
TEST(SectionModel, Matern52) {
  EXPECT_DOUBLE_EQ(matern52(0, 12), 1);
  EXPECT_NEAR(matern52(2 * 12 / std::sqrt(5.0), 12), (3 + 4.0 / 3) * std::exp(-2.0), 1e-15);
  EXPECT_DOUBLE_EQ(matern52(-5, 12), matern52(5, 12));
}

}  // namespace
}  // namespace batten::fairing
