// Learning what a turn does. Truths are drawn by the law the prior states, and by another one.
#include "core/regulation/influence/responses.hpp"

#include "workshop/chance.hpp"

#include <Eigen/LU>
#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace batten {
namespace {

using workshop::Chance;

constexpr std::size_t registers = 4;
constexpr double reading_sd = 0.15;  // of a difference of two readings, mm

struct Piano {
  std::vector<double> factor;  // per register
};

Piano draw(Chance& chance, const ScrewPrior& prior) {
  const double whole = 1 + prior.sd_piano * chance.normal();
  Piano p;
  for (std::size_t r = 0; r < registers; ++r)
    p.factor.push_back(whole + prior.sd_register * chance.normal());
  return p;
}

MoveSeen move_at(const Piano& p, std::size_t reg, const ScrewPrior& prior, double predicted,
                 Chance& chance) {
  const double screw = p.factor[reg] + prior.sd_screw * chance.normal();
  return {Adjuster::capstan, reg, predicted, screw * predicted + reading_sd * chance.normal(),
          reading_sd};
}

// Bayesian linear regression in one go, Gelman et al., Bayesian Data Analysis, 3rd ed.,
// section 14.8 (from memory): precision = prior precision + sum x²/s², for one register and no
// misreads.
TEST(Responses, OneRegisterIsTheClosedForm) {
  const ScrewPrior& prior = screw_prior(Adjuster::capstan);
  Responses learned(1);
  Chance chance(7);
  double precision = 1 / (prior.sd_piano * prior.sd_piano + prior.sd_register * prior.sd_register);
  double weighted = precision;
  for (int i = 0; i < 12; ++i) {
    const double x = 0.4 + 0.1 * i;
    // Within a tenth of a standard deviation of what is believed, so that no misread is suspected.
    const double y =
        x * learned.factor(Adjuster::capstan, 0).mean + 0.1 * reading_sd * chance.normal();
    const double own = prior.sd_screw * x;
    const double noise = reading_sd * reading_sd + own * own;
    learned.learn({Adjuster::capstan, 0, x, y, reading_sd});
    precision += x * x / noise;
    weighted += x * y / noise;
  }
  const Factor f = learned.factor(Adjuster::capstan, 0);
  EXPECT_NEAR(f.mean, weighted / precision, 2e-3);
  // A share of 0.3 % of the evidence is granted to a misread even so.
  EXPECT_NEAR(f.sd, 1 / std::sqrt(precision), 0.02 / std::sqrt(precision));
}

struct Score {
  double square = 0, bound = 0;
  int inside = 0, count = 0;
};

// Twelve moves in each register, one in `misread` of them off by 1 mm.
Score learn_pianos(int pianos, double misread, std::uint64_t seed) {
  const ScrewPrior& prior = screw_prior(Adjuster::capstan);
  Score score;
  for (int i = 0; i < pianos; ++i) {
    Chance chance(seed + static_cast<std::uint64_t>(i));
    const Piano piano = draw(chance, prior);
    Responses learned(registers);
    // The information: prior and moves in one linear system, every misread known and left out.
    Eigen::MatrixXd cov =
        Eigen::MatrixXd::Constant(registers, registers, prior.sd_piano * prior.sd_piano);
    cov.diagonal().array() += prior.sd_register * prior.sd_register;
    Eigen::MatrixXd information = cov.inverse();
    for (int m = 0; m < 12; ++m)
      for (std::size_t r = 0; r < registers; ++r) {
        const double predicted = (chance.coin() ? 1 : -1) * (0.3 + 1.2 * chance.uniform());
        MoveSeen seen = move_at(piano, r, prior, predicted, chance);
        const bool wrong = chance.uniform() < misread;
        if (wrong) seen.seen += chance.coin() ? 1 : -1;
        learned.learn(seen);
        const double own = prior.sd_screw * predicted;
        const auto at = static_cast<Eigen::Index>(r);
        if (!wrong)
          information(at, at) += predicted * predicted / (reading_sd * reading_sd + own * own);
      }
    const Eigen::MatrixXd bound = information.inverse();
    for (std::size_t r = 0; r < registers; ++r) {
      const Factor f = learned.factor(Adjuster::capstan, r);
      const double off = f.mean - piano.factor[r];
      score.square += off * off;
      score.bound += bound(static_cast<Eigen::Index>(r), static_cast<Eigen::Index>(r));
      score.inside += std::abs(off) < 1.959964 * f.sd ? 1 : 0;
      ++score.count;
    }
  }
  return score;
}

// The Bayesian Cramér-Rao bound (van Trees 1968), which for a linear-Gaussian model is the
// posterior covariance itself.
void expect_near_the_bound(const Score& s) {
  const double ratio = std::sqrt(s.square / s.bound);
  const double covered = double(s.inside) / s.count;
  ::testing::Test::RecordProperty("ratio", std::to_string(ratio));
  ::testing::Test::RecordProperty("covered", std::to_string(covered));
  EXPECT_LT(ratio, 1.3) << covered;
  EXPECT_GT(covered, 0.92);
  EXPECT_LT(covered, 0.98);
}

TEST(Responses, TwelveMovesComeNearTheInformationBound) {
  expect_near_the_bound(learn_pianos(500, 0, 100));
}

TEST(Responses, ThreePercentMisreadDoNotSpoilIt) {
  expect_near_the_bound(learn_pianos(500, 0.03, 5000));
}

TEST(Responses, OneRegisterTeachesTheOthers) {
  Responses learned(2);
  const double before = learned.factor(Adjuster::capstan, 1).sd;
  for (int i = 0; i < 6; ++i) learned.learn({Adjuster::capstan, 0, 1.0, 1.2, 0.1});
  EXPECT_GT(learned.factor(Adjuster::capstan, 1).mean, 1.1);
  EXPECT_LT(learned.factor(Adjuster::capstan, 1).sd, 0.4 * before);
  EXPECT_EQ(learned.factor(Adjuster::drop_screw, 0).mean, 1);
  EXPECT_EQ(learned.moves_seen(Adjuster::capstan, 0), 6);
  EXPECT_EQ(learned.moves_seen(Adjuster::capstan, 1), 0);
}

TEST(Responses, ATurnThatGoesTheOtherWayIsAsked) {
  Responses learned(1);
  EXPECT_EQ(learned.learn({Adjuster::capstan, 0, 1.0, -0.9, 0.15}), Doubtful::wrong_sign);
  EXPECT_EQ(learned.learn({Adjuster::capstan, 0, 1.0, 1.05, 0.15}), Doubtful::no);
  EXPECT_EQ(learned.learn({Adjuster::capstan, 0, 1.0, 3.0, 0.15}), Doubtful::far_from_prior);
  // Too small to tell a direction by.
  EXPECT_EQ(learned.learn({Adjuster::capstan, 0, 0.2, -0.2, 0.15}), Doubtful::no);
}

}  // namespace
}  // namespace batten
