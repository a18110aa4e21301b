// The filter against the joint Gaussian it stands for, written out whole: every unknown and every
// reading in one covariance, conditioned by a dense solve (Rasmussen & Williams, Gaussian
// Processes, appendix A.2).
#include "core/regulation/drift/filter.hpp"

#include "workshop/chance.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace batten::drift {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int sections = 2, notes_each = 3, visits = 4;

struct Case {
  Series series;
  Drivers drivers;
};

// Notes read at most visits, one set at the second.
Case make_case(std::uint64_t seed, double shared_a_day, double moisture_var) {
  workshop::Chance chance(seed);
  Case c;
  c.series.reading = Reading::blow;
  c.series.prior = *prior_of(Reading::blow);
  c.series.left_sd = 0.2;
  for (int s = 0; s < sections; ++s)
    for (int i = 0; i < notes_each; ++i)
      c.series.notes.push_back({Key{10 * s + i + 1}, static_cast<std::size_t>(s), 45.5, 0.5});
  for (std::uint32_t v = 0; v < visits; ++v)
    for (std::uint32_t n = 0; n < c.series.notes.size(); ++n) {
      if (v > 0 && chance.uniform() < 0.2 && shared_a_day == 0) continue;
      c.series.events.push_back(
          {Event::Kind::read, n, v, 45.5 + 0.2 * chance.normal(), 0.15 * 0.15});
      if (n == 1 && v == 1) {
        c.series.events.push_back({Event::Kind::set, n, v, 0, 0});
        c.series.events.push_back({Event::Kind::read, n, v, 45.6, 0.15 * 0.15});
      }
    }
  c.drivers.settle_hours = 100;
  c.drivers.own_a_day = 0.02 / 365;
  c.drivers.shared_a_day = shared_a_day;
  for (int v = 0; v < visits; ++v) {
    const double hours = 120.0 * v - 300;
    c.drivers.visits.push_back({200.0 * v, hours, std::exp(-hours / 100),
                                0.6 * (1 - std::exp(-1.0 * v)), 9 + 1.5 * std::sin(2.0 * v)});
    c.drivers.moisture_var.push_back(moisture_var);
  }
  return c;
}

// Unknowns: shared effects of both sections; each note's own playing-in and season.
struct Dense {
  VectorXd shared;
  MatrixXd shared_cov;
  VectorXd level, level_var;  // of every note at the last visit it was met
  double log_evidence = 0;
};

// Linear in independent causes: column per cause with its variance, row per reading.
class Causes {
 public:
  int add(double var) {
    var_.push_back(var);
    return static_cast<int>(var_.size()) - 1;
  }
  VectorXd row() const { return VectorXd::Zero(400); }
  VectorXd vars() const {
    VectorXd v = VectorXd::Zero(400);
    for (std::size_t i = 0; i < var_.size(); ++i) v(static_cast<Eigen::Index>(i)) = var_[i];
    return v;
  }

 private:
  std::vector<double> var_;
};

Dense solve(const Case& c) {
  const Prior& p = c.series.prior;
  const Eigen::Vector3d mean = prior_mean(p);
  const Eigen::Matrix3d piano = prior_cov(p), section = section_cov(p);
  Causes causes;
  std::array<int, 3> common{};
  std::array<std::array<int, 3>, sections> own{};
  for (int i = 0; i < 3; ++i) common[static_cast<std::size_t>(i)] = causes.add(piano(i, i));
  for (auto& list : own)
    for (int i = 0; i < 3; ++i) list[static_cast<std::size_t>(i)] = causes.add(section(i, i));
  // Shocks: [visit][section], [visit].
  std::array<std::array<int, sections>, visits> wander{};
  std::array<int, visits> air{};
  const double season = mean(1) * mean(1) + piano(1, 1) + section(1, 1);
  for (std::size_t v = 1; v < visits; ++v) {
    for (auto& w : wander[v]) w = causes.add(c.drivers.shared_a_day * 200);
    air[v] = causes.add(season * c.drivers.moisture_var[v]);
  }
  struct State {
    bool known = false, set = false;
    std::uint32_t visit = 0;
    double constant = 0, set_hours = 0;
    VectorXd row;
    int playing_in = 0, season = 0;
  };
  std::vector<State> states(c.series.notes.size());
  std::vector<VectorXd> rows;
  std::vector<double> offs;
  const auto begin = [&](State& s, double sd) {
    s.constant = 45.5;
    s.row = causes.row();
    s.row(causes.add(sd * sd)) = 1;
  };
  for (const Event& e : c.series.events) {
    State& s = states[e.note];
    const std::size_t r = c.series.notes[e.note].section;
    if (!s.known) {
      begin(s, p.found);
      s.known = true;
      s.visit = e.visit;
      s.playing_in = causes.add(note_var(p)(0));
      s.season = causes.add(note_var(p)(1));
    }
    if (e.visit != s.visit) {
      const auto &from = c.drivers.visits[s.visit], &to = c.drivers.visits[e.visit];
      double settled = to.settled - from.settled;
      if (s.set)
        settled += settles_again * (std::exp(-(from.hours - s.set_hours) / 100) -
                                    std::exp(-(to.hours - s.set_hours) / 100));
      const std::array<double, 3> step{settled, to.moisture - from.moisture,
                                       (to.hours - from.hours) / 1000};
      for (std::size_t i = 0; i < 3; ++i) {
        s.constant += step[i] * mean(static_cast<Eigen::Index>(i));
        s.row(common[i]) += step[i];
        s.row(own[r][i]) += step[i];
      }
      s.row(s.playing_in) += step[0];
      s.row(s.season) += step[1];
      s.row(causes.add(c.drivers.own_a_day * (to.day - from.day))) = 1;
      for (std::size_t v = s.visit + 1; v <= e.visit; ++v) {
        s.row(wander[v][r]) += 1;
        s.row(air[v]) += 1;
      }
      s.visit = e.visit;
    }
    if (e.kind == Event::Kind::set) {
      begin(s, c.series.left_sd);
      s.set = true;
      s.set_hours = c.drivers.visits[e.visit].hours;
    } else {
      VectorXd row = s.row;
      row(causes.add(e.var)) = 1;
      rows.push_back(row);
      offs.push_back(e.value - s.constant);
    }
  }
  const auto n = static_cast<Eigen::Index>(rows.size());
  MatrixXd h(n, 400);
  VectorXd off(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    h.row(i) = rows[static_cast<std::size_t>(i)];
    off(i) = offs[static_cast<std::size_t>(i)];
  }
  const MatrixXd prior = causes.vars().asDiagonal();
  const MatrixXd cov = h * prior * h.transpose();
  const MatrixXd gain = prior * h.transpose() * cov.inverse();
  const VectorXd post = gain * off;
  const MatrixXd post_cov = prior - gain * h * prior;
  Dense d;
  MatrixXd pick = MatrixXd::Zero(3 * sections, 400);
  for (int r = 0; r < sections; ++r)
    for (int i = 0; i < 3; ++i) {
      pick(3 * r + i, common[static_cast<std::size_t>(i)]) = 1;
      pick(3 * r + i, own[static_cast<std::size_t>(r)][static_cast<std::size_t>(i)]) = 1;
    }
  d.shared = pick * post;
  d.shared_cov = pick * post_cov * pick.transpose();
  d.level = d.level_var = VectorXd::Zero(static_cast<Eigen::Index>(states.size()));
  for (std::size_t i = 0; i < states.size(); ++i) {
    const auto k = static_cast<Eigen::Index>(i);
    d.level(k) = states[i].constant + states[i].row.dot(post);
    d.level_var(k) = states[i].row.dot(post_cov * states[i].row);
  }
  const Eigen::LLT<MatrixXd> llt(cov);
  d.log_evidence =
      -0.5 * off.dot(llt.solve(off)) - MatrixXd(llt.matrixL()).diagonal().array().log().sum();
  return d;
}

// Levels of the filter with all that is not known of the shared.
double level(const Belief& b, const Series& s, std::size_t i) {
  const NoteBelief& n = b.notes[i];
  return n.mean(0) + n.by_shared.row(0).dot(b.of_section(s.notes[i].section));
}
double level_var(const Belief& b, const Series& s, std::size_t i) {
  const NoteBelief& n = b.notes[i];
  const auto at = 3 * static_cast<Eigen::Index>(s.notes[i].section);
  const Eigen::RowVector3d row = n.by_shared.row(0);
  return n.cov(0, 0) + row * b.shared_cov.block<3, 3>(at, at) * row.transpose();
}

TEST(DriftFilter, IsTheJointGaussianWhereNoShockIsShared) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Case c = make_case(seed, 0, 0);
    const Belief b = filter(c.series, c.drivers, sections);
    const Dense d = solve(c);
    EXPECT_TRUE(b.shared.isApprox(d.shared, 1e-7)) << seed << "\n" << b.shared << "\n" << d.shared;
    EXPECT_TRUE(b.shared_cov.isApprox(d.shared_cov, 1e-7)) << seed;
    EXPECT_NEAR(b.log_evidence, d.log_evidence, 1e-7) << seed;
    for (std::size_t i = 0; i < c.series.notes.size(); ++i) {
      EXPECT_NEAR(level(b, c.series, i), d.level(static_cast<Eigen::Index>(i)), 1e-8) << seed;
      EXPECT_NEAR(level_var(b, c.series, i), d.level_var(static_cast<Eigen::Index>(i)), 1e-9);
    }
  }
}

// With shocks it is nearly so: what a note keeps of its section's shock after it was read is taken
// for its own.
TEST(DriftFilter, IsNearlySoWithSharedShocks) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Case c = make_case(seed, 0.01 / 365, 0.3);
    const Belief b = filter(c.series, c.drivers, sections);
    const Dense d = solve(c);
    for (Eigen::Index i = 0; i < b.shared.size(); ++i) {
      const double sd = std::sqrt(d.shared_cov(i, i));
      EXPECT_NEAR(b.shared(i), d.shared(i), 0.35 * sd) << seed << " " << i;
      EXPECT_NEAR(std::sqrt(b.shared_cov(i, i)), sd, 0.12 * sd) << seed << " " << i;
    }
    for (std::size_t i = 0; i < c.series.notes.size(); ++i) {
      const auto k = static_cast<Eigen::Index>(i);
      EXPECT_NEAR(level(b, c.series, i), d.level(k), 0.45 * std::sqrt(d.level_var(k))) << seed;
      EXPECT_NEAR(std::sqrt(level_var(b, c.series, i)), std::sqrt(d.level_var(k)),
                  0.1 * std::sqrt(d.level_var(k)));
    }
  }
}

TEST(DriftFilter, NothingReadIsThePrior) {
  Case c = make_case(1, 0, 0);
  c.series.events.clear();
  const Belief b = filter(c.series, c.drivers, sections);
  EXPECT_TRUE(b.shared.isZero());
  EXPECT_NEAR(b.shared_cov(0, 0), (prior_cov(c.series.prior) + section_cov(c.series.prior))(0, 0),
              1e-12);
  EXPECT_EQ(b.pairs, 0);
}

// One wild reading, 40 standard deviations off, moves the level by little more than four would.
TEST(DriftFilter, AWildReadingIsNotFollowed) {
  Case c = make_case(3, 0, 0);
  const Belief before = filter(c.series, c.drivers, sections);
  for (Event& e : c.series.events)
    if (e.visit == visits - 1 && e.note == 0) e.value += 20;
  const Belief after = filter(c.series, c.drivers, sections);
  EXPECT_LT(std::abs(level(after, c.series, 0) - level(before, c.series, 0)), 3);
}

}  // namespace
}  // namespace batten::drift
