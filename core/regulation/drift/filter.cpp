#include "core/regulation/drift/filter.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU>

#include <algorithm>
#include <cmath>

namespace batten::drift {

namespace {

using Eigen::Matrix3d;
using Eigen::MatrixXd;
using Eigen::Vector3d;
using Eigen::VectorXd;

// Effects a piano may have beyond the prior's: the smallest variance, so that nothing is certain.
constexpr double least_sd = 1e-6;
// A reading farther off than this many standard deviations counts as so much less sure (a slip of
// hand or eye; Huber's weights, estimate).
constexpr double odd = 4;

double squared(double x) { return x * x; }

// What the readings of one section at one visit say together, the shocks not yet out.
struct Sums {
  Matrix3d a = Matrix3d::Zero();                        // Σ E Eᵀ / F
  Vector3d b = Vector3d::Zero(), c = Vector3d::Zero();  // Σ E e / F, Σ E / F
  double d = 0, f = 0;                                  // Σ e / F, Σ 1 / F
};

// A section's shock as its own readings tell it: linear in the section's shared effects.
struct Shock {
  double mean = 0;
  Eigen::RowVector3d by_shared = Eigen::RowVector3d::Zero();
  double var = 0;
};

class Filter {
 public:
  Filter(const Series& series, const Drivers& drivers, std::size_t sections)
      : s_(series), drivers_(drivers), sums_(sections), shocks_(sections) {
    const auto size = 3 * static_cast<Eigen::Index>(sections);
    a_ = MatrixXd::Zero(size, size);
    b_ = VectorXd::Zero(size);
    out_.notes.resize(series.notes.size());
    note_var_ = note_var(series.prior);
    mean_ = prior_mean(series.prior);
    prior_ = prior_cov(series.prior) + section_cov(series.prior);
    season_square_ = squared(mean_(1)) + prior_(1, 1);
  }

  Belief run(std::span<const std::uint8_t> use) {
    const auto counts = [&](const Event& e) { return use.empty() || use[e.note] != 0; };
    for (std::size_t begin = 0; begin < s_.events.size();) {
      const std::uint32_t visit = s_.events[begin].visit;
      std::size_t end = begin;
      while (end < s_.events.size() && s_.events[end].visit == visit) ++end;
      begin_visit(visit);
      for (std::size_t i = begin; i < end; ++i)
        if (counts(s_.events[i])) arrive(s_.events[i]);
      end_of_shocks();
      for (std::size_t i = begin; i < end; ++i)
        if (counts(s_.events[i])) take(s_.events[i]);
      begin = end;
    }
    conclude();
    return std::move(out_);
  }

 private:
  void begin_visit(std::uint32_t visit) {
    const double days = visit > 0 ? drivers_.visits[visit].day - drivers_.visits[visit - 1].day : 0;
    section_shock_ = drivers_.shared_a_day * days;
    piano_shock_ = season_square_ * drivers_.moisture_var[visit];
  }

  // What a note meets first at a later visit tells of the shared effects and shocks.
  void arrive(const Event& e) {
    NoteBelief& n = out_.notes[e.note];
    if (!n.known || n.visit == e.visit) return;
    advance(n, e.visit);
    if (e.kind != Event::Kind::read) return;
    const Note& note = s_.notes[e.note];
    const Eigen::RowVector3d sense = n.by_shared.row(0);
    const double miss = e.value - n.mean(0);
    const double own = n.cov(0, 0) + trusted(n, e, section_shock_ + piano_shock_);
    Sums& sums = sums_[note.section];
    sums.a += sense.transpose() * sense / own;
    sums.b += sense.transpose() * (miss / own);
    sums.c += sense.transpose() / own;
    sums.d += miss / own;
    sums.f += 1 / own;
    count(own, miss);
  }

  void take(const Event& e) {
    NoteBelief& n = out_.notes[e.note];
    const Note& note = s_.notes[e.note];
    if (!n.known) {
      begin(n, note, e.kind == Event::Kind::set ? s_.left_sd : s_.prior.found);
      n.visit = e.visit;
      if (e.kind == Event::Kind::read) update(n, note, e, true);
    } else {
      const bool later = n.arrived;
      if (later) settle_shock(n, note.section);
      if (later) n.disturbed = false;
      if (e.kind == Event::Kind::read) {
        if (later) {
          ++out_.pairs;
        } else if (n.disturbed) {
          // Read again because it was moved: it was left as it was wanted.
          leave(n, note);
          n.disturbed = false;
        }
        update(n, note, e, !later);
      }
    }
    if (e.kind == Event::Kind::set) {
      leave(n, note);
      n.set = true;
      n.set_growth = 1 / drivers_.visits[e.visit].decay;
    } else if (e.kind == Event::Kind::disturbed) {
      if (!n.disturbed) n.cov(0, 0) += squared(disturbed * note.tolerance);
      n.disturbed = true;
    }
  }

  // The shock its section had, as far as it is known by the section's readings.
  void settle_shock(NoteBelief& n, std::size_t section) const {
    const Shock& shock = shocks_[section];
    n.mean(0) += shock.mean;
    n.by_shared.row(0) += shock.by_shared;
    n.cov(0, 0) += shock.var;
    n.arrived = false;
  }

  // Somewhere about its target; of what was before nothing is left.
  void leave(NoteBelief& n, const Note& note) const {
    n.cov.row(0).setZero();
    n.cov.col(0).setZero();
    n.by_shared.row(0).setZero();
    n.mean(0) = note.target;
    n.cov(0, 0) = squared(s_.left_sd);
  }

  void begin(NoteBelief& n, const Note& note, double sd) const {
    n.known = true;
    n.mean = {note.target, mean_(0), mean_(1)};
    n.by_shared.setZero();
    n.by_shared(1, 0) = n.by_shared(2, 1) = 1;
    n.cov.setZero();
    n.cov(0, 0) = squared(sd);
    n.cov(1, 1) = note_var_(0);
    n.cov(2, 2) = note_var_(1);
  }

  // To a later visit, shocks not counted.
  void advance(NoteBelief& n, std::uint32_t visit) const {
    const Drivers::At& to = drivers_.visits[visit];
    const Step s = step_to(n, drivers_, to);
    Matrix3d f = Matrix3d::Identity();
    f(0, 1) = s.settled;
    f(0, 2) = s.moisture;
    n.mean(0) += s.settled * n.mean(1) + s.moisture * n.mean(2) + s.wear * mean_(2);
    n.by_shared.row(0) += s.settled * n.by_shared.row(1) + s.moisture * n.by_shared.row(2) +
                          Eigen::RowVector3d(0, 0, s.wear);
    n.cov = f * n.cov * f.transpose();
    n.cov(0, 0) += drivers_.own_a_day * s.days;
    // Notes passed over at the visits between have had shocks of their own dates.
    const double last_days = to.day - drivers_.visits[visit - 1].day;
    n.cov(0, 0) += drivers_.shared_a_day * std::max(0.0, s.days - last_days);
    n.visit = visit;
    n.arrived = true;
  }

  // The variance to give a reading: its own, or more where it is odd.
  double trusted(const NoteBelief& n, const Event& e, double shock) const {
    const Eigen::RowVector3d sense = n.by_shared.row(0);
    const double miss = e.value - n.mean(0);
    const double unsure = n.cov(0, 0) + e.var + shock + sense * prior_ * sense.transpose();
    return squared(miss) > squared(odd) * unsure ? e.var + squared(miss / odd) - unsure : e.var;
  }

  void update(NoteBelief& n, const Note& note, const Event& e, bool teaches) {
    const Eigen::RowVector3d sense = n.by_shared.row(0);
    const double miss = e.value - n.mean(0);
    const double own = n.cov(0, 0) + trusted(n, e, 0);
    if (teaches) {
      const auto at = 3 * static_cast<Eigen::Index>(note.section);
      a_.block<3, 3>(at, at) += sense.transpose() * sense / own;
      b_.segment<3>(at) += sense.transpose() * (miss / own);
      count(own, miss);
    }
    const Vector3d gain = n.cov.col(0) / own;
    const Eigen::RowVector3d row = n.cov.row(0);
    n.mean += gain * miss;
    n.by_shared -= gain * sense;
    n.cov -= gain * row;
  }

  // Into the evidence; logarithms are taken of many at a time.
  void count(double own, double miss) {
    variances_ *= own;
    out_.log_evidence -= 0.5 * miss * miss / own;
    if (variances_ < 1e-200 || variances_ > 1e200) take_logarithm();
  }
  void take_logarithm() {
    out_.log_evidence -= 0.5 * std::log(variances_);
    variances_ = 1;
  }

  // Integrates the shocks of a visit out, the sections' first, then the piano's, and keeps what
  // each section's readings say of its own.
  void end_of_shocks() {
    VectorXd c = VectorXd::Zero(b_.size());
    double d = 0, f = 0;
    for (std::size_t r = 0; r < sums_.size(); ++r) {
      const Sums& s = sums_[r];
      const double all = section_shock_ + piano_shock_, known = all / (1 + s.f * all);
      shocks_[r] = {known * s.d, -known * s.c.transpose(), known};
      if (s.f > 0) {
        const auto at = 3 * static_cast<Eigen::Index>(r);
        const double share = section_shock_ / (1 + s.f * section_shock_);
        a_.block<3, 3>(at, at) += s.a - s.c * s.c.transpose() * share;
        b_.segment<3>(at) += s.b - s.c * (s.d * share);
        out_.log_evidence += 0.5 * s.d * s.d * share - 0.5 * std::log1p(s.f * section_shock_);
        c.segment<3>(at) = s.c * (1 - s.f * share);
        d += s.d * (1 - s.f * share);
        f += s.f * (1 - s.f * share);
      }
      sums_[r] = {};
    }
    if (f <= 0) return;
    const double share = piano_shock_ / (1 + f * piano_shock_);
    a_ -= share * c * c.transpose();
    b_ -= share * d * c;
    out_.log_evidence += 0.5 * d * d * share - 0.5 * std::log1p(f * piano_shock_);
  }

  void conclude() {
    take_logarithm();
    const auto sections = static_cast<Eigen::Index>(sums_.size());
    const Matrix3d piano = prior_cov(s_.prior), own = section_cov(s_.prior);
    MatrixXd prior(3 * sections, 3 * sections);
    for (Eigen::Index i = 0; i < sections; ++i)
      for (Eigen::Index j = 0; j < sections; ++j)
        prior.block<3, 3>(3 * i, 3 * j) = i == j ? Matrix3d(piano + own) : piano;
    // cov = (prior⁻¹ + A)⁻¹ through the prior's factor, which stays regular where a prior is
    // narrow.
    const MatrixXd root = Eigen::LLT<MatrixXd>(prior).matrixL();
    const MatrixXd inner =
        MatrixXd::Identity(3 * sections, 3 * sections) + root.transpose() * a_ * root;
    const Eigen::LLT<MatrixXd> solved(inner);
    out_.shared_cov = root * solved.solve(root.transpose());
    out_.shared = out_.shared_cov * b_;
    out_.log_evidence +=
        0.5 * b_.dot(out_.shared) - MatrixXd(solved.matrixL()).diagonal().array().log().sum();
  }

  const Series& s_;
  const Drivers& drivers_;
  std::vector<Sums> sums_;
  std::vector<Shock> shocks_;
  MatrixXd a_;
  VectorXd b_;
  double variances_ = 1;
  double section_shock_ = 0, piano_shock_ = 0;
  Belief out_;
  Eigen::Vector2d note_var_;
  Vector3d mean_;
  Matrix3d prior_;
  double season_square_ = 0;
};

}  // namespace

Eigen::Vector3d prior_mean(const Prior& p) {
  return {p.playing_in.mean, p.season.mean, p.wear.mean};
}

Eigen::Matrix3d prior_cov(const Prior& p) {
  return Vector3d(squared(p.playing_in.sd) + squared(least_sd),
                  squared(p.season.sd) + squared(least_sd), squared(p.wear.sd) + squared(least_sd))
      .asDiagonal();
}

Eigen::Matrix3d section_cov(const Prior& p) {
  return Vector3d(squared(section_share * p.playing_in.size()) + squared(least_sd),
                  squared(section_share * p.season.size()) + squared(least_sd),
                  squared(section_share * p.wear.size()) + squared(least_sd))
      .asDiagonal();
}

Eigen::Vector2d note_var(const Prior& p) {
  return {squared(note_share * p.playing_in.size()), squared(note_share * p.season.size())};
}

Step step_to(const NoteBelief& n, const Drivers& d, const Drivers::At& to) {
  const Drivers::At& from = d.visits[n.visit];
  Step s;
  s.days = std::max(0.0, to.day - from.day);
  s.wear = (to.hours - from.hours) / 1000;
  s.moisture = to.moisture - from.moisture;
  s.settled = to.settled - from.settled;
  if (n.set) s.settled += settles_again * n.set_growth * (from.decay - to.decay);
  return s;
}

Belief filter(const Series& series, const Drivers& drivers, std::size_t sections,
              std::span<const std::uint8_t> use) {
  return Filter(series, drivers, sections).run(use);
}

}  // namespace batten::drift
