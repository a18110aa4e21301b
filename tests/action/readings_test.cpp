// Slow readings: definitions, faults, and that eight at once are one after the other.
#include "core/action/readings.hpp"

#include "core/action/regulate.hpp"
#include "core/action/slow.hpp"
#include "random_actions.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstring>

namespace batten::action {
namespace {

Note regulated() {
  static const Note note = [] {
    const auto g = solve_regulation(Dimensions{}, Wanted{});
    EXPECT_TRUE(g.has_value());
    return Note{Dimensions{}, g ? g->adjustments : Adjustments{}};
  }();
  return note;
}

ReadOptions plain() {
  ReadOptions options;
  options.with_blow = options.keep_curves = false;
  return options;
}

Readings read_with(double Adjustments::*adjuster, double move) {
  Note n = regulated();
  n.adjustments.*adjuster += move;
  return *calc_readings(n, plain());
}

bool has(const Readings& r, Fault fault) {
  return std::ranges::find(r.faults, fault) != r.faults.end();
}

// The curve itself against what is read from it (the definitions in readings.hpp).
TEST(Readings, AreThoseOfTheCurve) {
  ReadOptions curves;
  curves.with_blow = false;
  const Readings r = *calc_readings(regulated(), curves);
  EXPECT_TRUE(r.faults.empty());
  ASSERT_GT(r.down.size(), 50U);
  const auto top = std::ranges::min_element(
      r.down.begin(), r.down.end() - 1,
      [](const SweepPoint& a, const SweepPoint& b) { return a.below < b.below; });
  EXPECT_NEAR(r.blow, r.down.front().below, 1e-12);
  // Between two rows the turn lies a few micrometres nearer than the nearest row.
  EXPECT_LE(r.let_off, top->below);
  EXPECT_NEAR(r.let_off, top->below, 15e-6);
  EXPECT_NEAR(r.dip, r.down.back().depth, 1e-12);
  EXPECT_NEAR(r.down.back().front_force, 300 * 9.80665e-3, 0.002);
  const double falls = r.dip - r.aftertouch;
  EXPECT_GT(falls, top->depth);
  EXPECT_LT(falls, top->depth + 0.3e-3);
  const auto seen = std::ranges::find_if(top, r.down.end(),
                                         [&](const SweepPoint& p) { return p.depth >= falls; });
  EXPECT_GE(seen->below, r.let_off + 0.1e-3 - 1e-9);
  EXPECT_LE((seen - 1)->below, r.let_off + 0.1e-3 + 1e-9);
  auto rest = top;
  while ((rest + 1)->below >= rest->below) ++rest;
  EXPECT_GT(rest->below, top->below + 0.25e-3);
  EXPECT_NEAR(r.drop, rest->below - r.let_off, 5e-6);
  EXPECT_NEAR(r.ratio_identity, (r.blow - r.let_off) / falls, 1e-12);
  // The way up ends with the key free again where it was.
  ASSERT_FALSE(r.up.empty());
  EXPECT_NEAR(r.up.back().depth, 0, 0.1e-3);
}

// R1 (trade list archives 2002, 2004) also where the lever gives way under the moving hammer,
// through all strengths of the spring between carrying firmly and not at all.
TEST(Readings, HoldTheIdentityWhateverTheSpring) {
  std::vector<Note> notes;
  for (int k = -20; k <= 15; ++k) {
    notes.push_back(regulated());
    notes.back().adjustments.spring += 0.01 * k;
  }
  for (const auto& r : calc_readings(notes, plain()))
    if (r->faults.empty()) {
      EXPECT_NEAR(r->ratio_identity / r->ratio_mean, 1, 0.02);
    }
}

// Halving all steps moves readings by less than a fifth of a regulation's tolerance of 10 um: the
// first-order error of the press, measured.
TEST(Readings, HardlyDependOnTheStep) {
  ReadOptions coarse = plain(), fine = plain();
  fine.sweep.fine /= 2;
  fine.sweep.coarse /= 2;
  const Readings a = *calc_readings(regulated(), coarse), b = *calc_readings(regulated(), fine);
  EXPECT_NEAR(a.blow, b.blow, 1e-9);
  EXPECT_NEAR(a.let_off, b.let_off, 6e-6);
  EXPECT_NEAR(a.drop, b.drop, 20e-6);
  EXPECT_NEAR(a.dip, b.dip, 0.2e-6);
  EXPECT_NEAR(a.aftertouch, b.aftertouch, 3e-6);
  EXPECT_NEAR(a.down_weight, b.down_weight, 1e-3);
  EXPECT_NEAR(a.let_off_bump, b.let_off_bump, 0.02);
}

// A tenth of a micrometre of an adjuster moves a reading by its influence and no more than the
// press's noise: what differences rest on.
TEST(Readings, AreSmoothInTheAdjusters) {
  for (double Adjustments::*adjuster : {&Adjustments::let_off_button, &Adjustments::drop_screw}) {
    std::vector<Note> notes(24, regulated());
    for (std::size_t i = 0; i < notes.size(); ++i)
      notes[i].adjustments.*adjuster += 2e-6 * static_cast<double>(i);
    const auto r = calc_readings(notes, plain());
    double worst = 0;
    for (std::size_t i = 1; i + 1 < r.size(); ++i)
      for (double Readings::*reading :
           {&Readings::let_off, &Readings::drop, &Readings::aftertouch, &Readings::dip})
        worst = std::fmax(worst,
                          std::abs(*r[i + 1].*reading - 2 * (*r[i].*reading) + *r[i - 1].*reading));
    // 1.3 um measured; second differences of noise are two and a half times it.
    EXPECT_LT(worst, 6e-6);
  }
}

void expect_same(const slow::Job& a, const slow::Job& b) {
  for (const auto trace : {&slow::Job::down, &slow::Job::weigh_down, &slow::Job::weigh_up}) {
    const SweepTrace &x = a.*trace, &y = b.*trace;
    ASSERT_EQ(x.count, y.count);
    for (int i = 0; i < x.count; ++i)
      ASSERT_EQ(std::memcmp(&x.rows[i], &y.rows[i], sizeof(SweepPoint)), 0) << i;
  }
  EXPECT_EQ(std::memcmp(&a.rest, &b.rest, sizeof(SweepPoint)), 0);
  EXPECT_EQ(std::memcmp(&a.trial, &b.trial, sizeof(Trial)), 0);
}

// Every instruction set gives one note's rows to the last bit (lanes.hpp says why it must).
TEST(Readings, AreTheSameInEveryLane) {
  const auto actions = checks::random_actions(Dimensions{}, 8, 0.02, 7);
  std::vector<mechanism::Model<double>> models;
  for (const Dimensions& d : actions.dimensions)
    models.push_back(mechanism::make_model(*assemble(d, regulated().adjustments)));
  constexpr std::size_t room = most_sweep_rows + 200;
  std::vector<SweepPoint> one_rows(8 * room), lane_rows(8 * room);
  const auto jobs_in = [&](std::vector<SweepPoint>& rows) {
    std::vector<slow::Job> jobs(8);
    for (std::size_t k = 0; k < 8; ++k) {
      SweepPoint* place = &rows[k * room];
      jobs[k].model = &models[k];
      jobs[k].down = {place, most_sweep_rows, 0};
      jobs[k].weigh_down = {place + most_sweep_rows, 100, 0};
      jobs[k].weigh_up = {place + most_sweep_rows + 100, 100, 0};
      jobs[k].with_trial = true;
    }
    return jobs;
  };
  std::vector<slow::Job> one = jobs_in(one_rows);
  for (slow::Job& job : one) slow::run(&job, 1);
  const auto compare = [&](void (*run)(slow::Job*, int), int count) {
    std::vector<slow::Job> lanes = jobs_in(lane_rows);
    run(lanes.data(), count);
    for (std::size_t k = 0; k < static_cast<std::size_t>(count); ++k) expect_same(one[k], lanes[k]);
  };
  compare(slow::run_base, 8);
  compare(slow::run_base, 3);
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx2")) compare(slow::run_avx2, 8);
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
      __builtin_cpu_supports("avx512vl")) {
    compare(slow::run_avx512, 8);
    compare(slow::run_avx512, 5);
  }
#endif
}

TEST(Readings, OfManyNotesAreThoseOfEach) {
  std::vector<Note> notes(11, regulated());
  for (std::size_t i = 0; i < notes.size(); ++i)
    notes[i].adjustments.capstan += 0.02e-3 * static_cast<double>(i);
  notes[4].dimensions.centres = 1;  // a metre: refused, the others unharmed
  const auto many = calc_readings(notes, plain());
  ASSERT_EQ(many.size(), notes.size());
  for (std::size_t i = 0; i < notes.size(); ++i) {
    if (i == 4) {
      ASSERT_FALSE(many[i].has_value());
      EXPECT_NE(many[i].error().happened.find("centres"), std::string::npos);
      continue;
    }
    const Readings one = *calc_readings(notes[i], plain());
    EXPECT_EQ(many[i]->let_off, one.let_off);
    EXPECT_EQ(many[i]->down_weight, one.down_weight);
    EXPECT_EQ(many[i]->damper_start, one.damper_start);
  }
}

// Faults by what brings them about (trade texts: cautions and causes of blocking).
TEST(Faults, AreNamed) {
  const Readings late = read_with(&Adjustments::let_off_button, -0.5e-3);
  EXPECT_TRUE(has(late, Fault::blocked));
  EXPECT_FALSE(has(late, Fault::lever_carried));
  EXPECT_TRUE(std::isnan(late.let_off));
  EXPECT_TRUE(std::isnan(late.aftertouch));
  const Readings carried = read_with(&Adjustments::drop_screw, -1e-3);
  EXPECT_TRUE(has(carried, Fault::blocked));
  EXPECT_TRUE(has(carried, Fault::lever_carried));
  const Readings shallow = read_with(&Adjustments::front_punchings, 1.5e-3);
  ASSERT_EQ(shallow.faults.size(), 1U);
  EXPECT_EQ(shallow.faults[0], Fault::no_escapement);
  EXPECT_TRUE(std::isnan(shallow.drop));
  EXPECT_FALSE(std::isnan(shallow.down_weight));
  EXPECT_TRUE(has(read_with(&Adjustments::back_check, 3e-3), Fault::touches_check));
  EXPECT_TRUE(read_with(&Adjustments::back_check, 0).faults.empty());
}

// Without damper there is no start; a key that is too heavy in front does not come up.
TEST(Readings, AreMissingWhereThereIsNothingToRead) {
  Note n = regulated();
  n.dimensions.damper_start = 99;
  n.dimensions.lead_mass = 0.25;
  const Readings r = *calc_readings(n, plain());
  EXPECT_TRUE(std::isnan(r.damper_start));
  EXPECT_TRUE(std::isnan(r.up_weight));
  EXPECT_TRUE(std::isnan(r.spring_rise));
  EXPECT_NEAR(r.check_distance, r.static_catch, 0);
}

// Balance weight falls by the lead's moment (lever arms; closed form).
TEST(Lead, IsThatOfItsMoment) {
  Note n = regulated();
  for (const double wanted : {0.30, 0.39, 0.45}) {
    const auto lead = solve_lead(n, wanted);
    ASSERT_TRUE(lead.has_value());
    n.dimensions.lead_mass = *lead;
    const Readings r = *calc_readings(n, plain());
    EXPECT_NEAR((r.down_weight + r.up_weight) / 2, wanted, 1e-4);
  }
  const double more = *solve_lead(n, 0.30), less = *solve_lead(n, 0.40);
  const double by_moment = 0.10 * n.dimensions.key_front / (9.80665 * n.dimensions.lead_place);
  // The keys' turning and felts change it by 1 %.
  EXPECT_NEAR(more - less, by_moment, 0.03 * by_moment);
  const auto none = solve_lead(n, 5);
  ASSERT_FALSE(none.has_value());
  EXPECT_NE(none.error().happened.find("300 g"), std::string::npos);
}

// The spring's grade rises with its strength (catalogue: 0 stays to 4 jumps).
TEST(Trials, TellTheSpringsGrade) {
  int last = 0;
  for (const double spring : {-0.6, -0.1, 0.0, 0.1, 0.5}) {
    Note n = regulated();
    n.adjustments.spring += spring;
    ReadOptions options;
    options.keep_curves = false;
    const Readings r = *calc_readings(n, options);
    EXPECT_GE(r.spring_grade, last) << spring;
    last = r.spring_grade;
    if (spring < -0.5) {
      EXPECT_LE(r.spring_grade, 1);
    }
    if (spring == 0.0) {
      EXPECT_EQ(r.spring_grade, 2);
    }
  }
  EXPECT_EQ(last, 4);
}

}  // namespace
}  // namespace batten::action
