// Eight lanes give what eight single runs give, to the last bit, on every instruction set.
#include "core/mechanism/lanes.hpp"

#include "tests/mechanism/lane_throw.hpp"
#include "tests/mechanism/runs.hpp"
#include "tests/mechanism/samples.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

namespace batten::tests {
namespace {

using namespace mechanism;

using Throw = void (*)(const Model<double>*, const double*, double*);

struct Set {
  std::string name;
  Throw eight;
  bool here;  // whether this machine can run it
};
void PrintTo(const Set& set, std::ostream* out) { *out << set.name; }

std::vector<Set> sets() {
  std::vector<Set> all{{"base", throw_base, true}};
#if defined(BATTEN_X86_LANES)
  __builtin_cpu_init();
  all.push_back({"avx2", throw_avx2, __builtin_cpu_supports("x86-64-v3") != 0});
  all.push_back({"avx512", throw_avx512, __builtin_cpu_supports("x86-64-v4") != 0});
#endif
  return all;
}

class Isas : public testing::TestWithParam<Set> {
 protected:
  void SetUp() override {
    if (!GetParam().here) GTEST_SKIP() << "this processor lacks " << GetParam().name;
    for (int lane = 0; lane < lane_count; ++lane)
      models.push_back(make_model(train(-1 + 0.25 * lane)));
    figures = static_cast<std::size_t>(
        figures_of(models[0].count, static_cast<int>(models[0].contacts.size())));
  }
  std::vector<double> eight(const std::vector<double>& hold) const {
    std::vector<double> out(lane_count * throw_records * figures);
    GetParam().eight(models.data(), hold.data(), out.data());
    return out;
  }
  std::vector<double> one(std::size_t lane, double hold) const {
    std::vector<double> out(throw_records * figures);
    throw_one(models[lane], hold, out.data());
    return out;
  }
  double figure_of(const std::vector<double>& all, std::size_t record, std::size_t lane,
                   std::size_t figure) const {
    return all[(record * lane_count + lane) * figures + figure];
  }
  std::vector<Model<double>> models;
  std::size_t figures = 0;
};

TEST_P(Isas, give_what_one_gives_to_the_last_bit) {
  const std::vector<double> all = eight(std::vector<double>(lane_count, 1.0));
  std::size_t unlike = 0, pressed = 0;
  for (std::size_t lane = 0; lane < lane_count; ++lane) {
    const std::vector<double> single = one(lane, 1.0);
    for (std::size_t r = 0; r < throw_records; ++r)
      for (std::size_t f = 0; f < figures; ++f) {
        // == and not the bits: a zero may have either sign.
        if (figure_of(all, r, lane, f) != single[r * figures + f]) ++unlike;
        if (f > 20 && single[r * figures + f] < 0) ++pressed;
      }
    EXPECT_GT(std::abs(single[single.size() - figures + 10]), 0.1);  // the arm was thrown
  }
  EXPECT_EQ(unlike, 0U);
  EXPECT_GT(pressed, 100U);
  EXPECT_NE(figure_of(all, throw_records - 1, 0, 10), figure_of(all, throw_records - 1, 1, 10));
}

TEST_P(Isas, a_held_lane_stays_and_leaves_the_others_alone) {
  std::vector<double> hold(lane_count, 1.0);
  hold[3] = 0;
  const std::vector<double> all = eight(hold), free = eight(std::vector<double>(lane_count, 1.0));
  const std::size_t last = throw_records - 1;
  for (std::size_t f = 0; f < figures; ++f) {
    EXPECT_EQ(figure_of(all, last, 3, f), figure_of(all, 0, 3, f)) << f;
    for (const std::size_t lane : {2U, 4U})
      EXPECT_EQ(figure_of(all, last, lane, f), figure_of(free, last, lane, f)) << f;
  }
}

INSTANTIATE_TEST_SUITE_P(Lanes, Isas, testing::ValuesIn(sets()),
                         [](const auto& one) { return one.param.name; });

// Against the library's long double functions: within 2 units in the last place for |a| < 1000.
TEST(Lanes, sine_and_cosine) {
  double worst = 0;
  for (int k = -100000; k <= 100000; ++k) {
    const double a = 0.00999 * k + 1e-7 * (k % 977);
    double sine = 0, cosine = 0;
    sin_cos(a, sine, cosine);
    for (const auto& [found, exact] : {std::pair{sine, std::sin(static_cast<long double>(a))},
                                       std::pair{cosine, std::cos(static_cast<long double>(a))}}) {
      const double unit =
          std::ldexp(1.0, std::ilogb(std::max(std::fabs(static_cast<double>(exact)), 1e-300)) - 52);
      worst = std::max(worst, static_cast<double>(std::fabs(found - exact)) / unit);
    }
  }
  EXPECT_LT(worst, 2);
  RecordProperty("units_in_the_last_place", figure(worst));
  // A lane beyond pi/4 makes its neighbours go the long way: the same bits.
  for (const double a : {0.0, 0.3, -0.77, 0.785, 1.0, -1.0, 2.0, -3.0, 900.0}) {
    Lanes<Isa::base> angles(a), sine, cosine;
    angles.set(2, 1.9);
    sin_cos(angles, sine, cosine);
    double s = 0, c = 0;
    sin_cos(a, s, c);
    EXPECT_EQ(sine[5], s);
    EXPECT_EQ(cosine[5], c);
  }
}

TEST(Lanes, choose_and_compare_each_for_itself) {
  using L = Lanes<Isa::base>;
  L a(0), b(3.5);
  for (int i = 0; i < lane_count; ++i) a.set(i, i);
  const auto low = a < b;
  const L chosen = select(low, a, -b);
  for (int i = 0; i < lane_count; ++i) {
    EXPECT_EQ(low[i], i < 3.5);
    EXPECT_EQ((!low)[i], i >= 3.5);
    EXPECT_EQ((a <= L(3))[i], i <= 3);
    EXPECT_EQ((a >= L(3))[i], i >= 3);
    EXPECT_EQ((a > L(3))[i], i > 3);
    EXPECT_EQ(chosen[i], i < 3.5 ? i : -3.5);
    EXPECT_EQ(sqrt(a)[i], std::sqrt(i));
    EXPECT_EQ((a / b)[i], i / 3.5);
  }
  EXPECT_TRUE(any(low));
  EXPECT_FALSE(any(low & !low));
  for (int i = 0; i < lane_count; ++i) {
    L one(0);
    one.set(i, 1);
    EXPECT_TRUE(any(L(0.5) < one)) << i;
  }
}

TEST(Lanes, only_alike_models_go_side_by_side) {
  const Model<double> model = make_model(train());
  EXPECT_TRUE(alike(model, make_model(train(1))));
  const auto differs = [&](auto&& change) {
    Description d = train();
    change(d);
    EXPECT_TRUE(check(d));
    return !alike(model, make_model(d));
  };
  EXPECT_TRUE(differs([](Description& d) { d.contacts.pop_back(); }));
  EXPECT_TRUE(differs([](Description& d) { d.contacts[0].law.half_powers = 4; }));
  EXPECT_TRUE(differs([](Description& d) { d.contacts[6].solid = SolidKind::disc; }));
  EXPECT_TRUE(differs([](Description& d) { d.contacts[5].round = RoundKind::disc; }));
  EXPECT_TRUE(differs([](Description& d) { d.contacts[0].solid_body = 3; }));
  EXPECT_TRUE(differs([](Description& d) { d.couplings[3].b = ground; }));
  EXPECT_TRUE(differs([](Description& d) { d.stops[0].a = 3; }));
  EXPECT_TRUE(differs([](Description& d) { d.stops[0].law.half_powers = 4; }));
  EXPECT_TRUE(differs([](Description& d) { d.probes[0].body = 0; }));
  EXPECT_TRUE(differs([](Description& d) { d.bodies[3].parent = ground; }));
  EXPECT_TRUE(differs([](Description& d) { d.ties = {{"t", 0, 1, {}, {}, 1, 1}}; }));
}

}  // namespace
}  // namespace batten::tests
