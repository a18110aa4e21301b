#include "core/regulation/drift/filter.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU>

#include <algorithm>
#include <cmath>

namespace batten::drift {

namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

// Effects a piano may have beyond the prior's: the smallest variance, so that nothing is certain.
constexpr double least_sd = 1e-6;
// A reading farther off than this many standard deviations counts as so much less sure (a slip of
// hand or eye; Huber's weights, estimate).
constexpr double odd = 4;

double squared(double x) { return x * x; }

// What the readings of one section at one visit say together, the shared shock not yet out.
struct Sums {
  Matrix3d a = Matrix3d::Zero();                        // Σ E Eᵀ / F
  Vector3d b = Vector3d::Zero(), c = Vector3d::Zero();  // Σ E e / F, Σ E / F
  double d = 0, f = 0;                                  // Σ e / F, Σ 1 / F
  double shock = 0;                                     // variance
};

struct Normal {
  Matrix3d a = Matrix3d::Zero();
  Vector3d b = Vector3d::Zero();
};

class Filter {
 public:
  Filter(const Series& series, const Drivers& drivers, std::size_t sections)
      : s_(series), drivers_(drivers), sums_(sections), normal_(sections) {
    out_.notes.resize(series.notes.size());
    out_.sections.resize(sections);
    note_var_ = note_var(series.prior);
    const Vector3d mean = prior_mean(series.prior);
    size_ = {squared(mean(0)), squared(mean(1)), squared(mean(2))};
    prior_ = prior_cov(series.prior) + section_cov(series.prior);
    season_square_ = squared(mean(1)) + prior_(1, 1) + note_var_(1);
    mean_ = mean;
  }

  Belief run(std::span<const std::uint8_t> use) {
    std::uint32_t visit = 0;
    for (const Event& e : s_.events) {
      if (!use.empty() && use[e.note] == 0) continue;
      if (e.visit != visit) close_visit();
      visit = e.visit;
      take(e);
    }
    close_visit();
    conclude();
    return std::move(out_);
  }

 private:
  void take(const Event& e) {
    NoteBelief& n = out_.notes[e.note];
    const Note& note = s_.notes[e.note];
    if (!n.known) {
      begin(n, note, e.kind == Event::Kind::set ? s_.left_sd : s_.prior.found);
      n.visit = e.visit;
      if (e.kind == Event::Kind::read) update(n, note, e, 0);
    } else {
      const bool later = e.visit != n.visit;
      const double shock = later ? advance(n, e.visit) : 0;
      if (e.kind == Event::Kind::read) {
        if (later) {
          ++n.reads;
          ++out_.pairs;
        }
        update(n, note, e, shock);
      } else {
        n.cov(0, 0) += shock;
      }
    }
    if (e.kind == Event::Kind::set) {
      n.cov.row(0).setZero();
      n.cov.col(0).setZero();
      n.by_shared.row(0).setZero();
      n.mean(0) = note.target;
      n.cov(0, 0) = squared(s_.left_sd);
      n.set = true;
      n.set_hours = drivers_.visits[e.visit].hours;
    } else if (e.kind == Event::Kind::disturbed) {
      n.cov(0, 0) += squared(disturbed * note.tolerance);
    }
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

  // To a later visit; returns the variance of the shock shared since the one before it.
  double advance(NoteBelief& n, std::uint32_t visit) {
    const Drivers::At& to = drivers_.visits[visit];
    const Step s = step_to(n, drivers_, to);
    Matrix3d f = Matrix3d::Identity();
    f(0, 1) = s.settled;
    f(0, 2) = s.moisture;
    n.mean(0) += s.settled * n.mean(1) + s.moisture * n.mean(2) + s.wear * mean_(2);
    n.by_shared.row(0) +=
        s.settled * n.by_shared.row(1) + s.moisture * n.by_shared.row(2) + s.wear * wear_row();
    n.cov = f * n.cov * f.transpose();
    n.cov(0, 0) += drivers_.own_a_day * s.days;
    const double all = drivers_.shared_a_day * s.days + season_square_ * drivers_.moisture_var;
    // Notes passed over at the visits between have had shocks of their own dates.
    const double last_days = visit > 0 ? to.day - drivers_.visits[visit - 1].day : s.days;
    const double shared = drivers_.shared_a_day * std::min(s.days, last_days) +
                          season_square_ * drivers_.moisture_var;
    n.cov(0, 0) += all - shared;
    n.visit = visit;
    return shared;
  }

  static Eigen::RowVector3d wear_row() { return {0, 0, 1}; }

  void update(NoteBelief& n, const Note& note, const Event& e, double shock) {
    const Eigen::RowVector3d sense = n.by_shared.row(0);
    const double miss = e.value - n.mean(0);
    const double unsure = n.cov(0, 0) + e.var + shock + sense * prior_ * sense.transpose();
    double var = e.var;
    if (squared(miss) > squared(odd) * unsure) var += squared(miss / odd) - unsure;
    const double own = n.cov(0, 0) + var;
    Sums& sums = sums_[note.section];
    if (shock > 0) {
      sums.a += sense.transpose() * sense / own;
      sums.b += sense.transpose() * (miss / own);
      sums.c += sense.transpose() / own;
      sums.d += miss / own;
      sums.f += 1 / own;
      sums.shock = std::max(sums.shock, shock);
    } else if (sense.squaredNorm() > 0) {
      normal_[note.section].a += sense.transpose() * sense / own;
      normal_[note.section].b += sense.transpose() * (miss / own);
    }
    out_.log_evidence -= 0.5 * (std::log(own) + miss * miss / own);
    // The note itself does not know which part of its surprise is shared.
    n.cov(0, 0) += shock;
    const Vector3d gain = n.cov.col(0) / (n.cov(0, 0) + var);
    const Eigen::RowVector3d row = n.cov.row(0);
    n.mean += gain * miss;
    n.by_shared -= gain * sense;
    n.cov -= gain * row;
  }

  // Integrates the shared shocks of a visit out.
  void close_visit() {
    for (std::size_t r = 0; r < sums_.size(); ++r) {
      Sums& s = sums_[r];
      if (s.f > 0) {
        const double whole = s.f + 1 / s.shock;
        normal_[r].a += s.a - s.c * s.c.transpose() / whole;
        normal_[r].b += s.b - s.c * (s.d / whole);
        out_.log_evidence += 0.5 * s.d * s.d / whole - 0.5 * std::log1p(s.f * s.shock);
      }
      s = {};
    }
  }

  void conclude() {
    const Matrix3d between = section_cov(s_.prior);
    Matrix3d a = prior_cov(s_.prior).inverse();
    Vector3d b = Vector3d::Zero();
    out_.log_evidence += 0.5 * std::log(a.determinant());
    for (std::size_t r = 0; r < normal_.size(); ++r) {
      const Normal& n = normal_[r];
      const Matrix3d lift = (Matrix3d::Identity() + n.a * between).inverse();
      a += lift * n.a;
      b += lift * n.b;
      out_.log_evidence += 0.5 * std::log(lift.determinant());
      // A section with the piano's share known.
      SectionBelief& section = out_.sections[r];
      section.cov = between * lift;
      section.at = section.cov * n.b;
      section.slope = Matrix3d::Identity() - section.cov * n.a;
      out_.log_evidence += 0.5 * n.b.dot(section.at);
    }
    a = (0.5 * (a + a.transpose())).eval();
    out_.piano_cov = a.inverse();
    out_.piano = out_.piano_cov * b;
    out_.log_evidence += 0.5 * b.dot(out_.piano) - 0.5 * std::log(a.determinant());
  }

  const Series& s_;
  const Drivers& drivers_;
  std::vector<Sums> sums_;
  std::vector<Normal> normal_;
  Belief out_;
  Eigen::Vector2d note_var_;
  Vector3d mean_, size_;
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
  if (n.set)
    s.settled += settles_again * (std::exp(-(from.hours - n.set_hours) / d.settle_hours) -
                                  std::exp(-(to.hours - n.set_hours) / d.settle_hours));
  return s;
}

Belief filter(const Series& series, const Drivers& drivers, std::size_t sections,
              std::span<const std::uint8_t> use) {
  return Filter(series, drivers, sections).run(use);
}

}  // namespace batten::drift
