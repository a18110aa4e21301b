// Prints every bit of a throw of the train and of forces in a few tangles; compiled at -O0 and -O2,
// the two must print the same.
#include "core/mechanism/energy.hpp"
#include "tests/mechanism/lane_throw.hpp"
#include "tests/mechanism/samples.hpp"

#include <cstddef>
#include <cstdio>
#include <vector>

int main() {
  using namespace batten;
  using namespace batten::mechanism;
  const auto show = [](double value) { std::printf("%a\n", value); };
  std::vector<Model<double>> eight;
  for (int lane = 0; lane < lane_count; ++lane)
    eight.push_back(make_model(tests::train(0.25 * lane)));
  const std::vector<double> hold(lane_count, 1.0);
  const int figures = tests::figures_of(eight[0].count, static_cast<int>(eight[0].contacts.size()));
  std::vector<double> out(static_cast<std::size_t>(lane_count * tests::throw_records * figures));
  tests::throw_base(eight.data(), hold.data(), out.data());
  for (const double value : out) show(value);
  tests::throw_one(eight[0], 1.0, out.data());
  for (const double value : out) show(value);
  for (unsigned seed = 0; seed < 20; ++seed) {
    const Model<double> model = make_model(tests::tangle(seed));
    Motion<double> motion{};
    for (int i = 0; i < model.count; ++i) {
      motion.q[i] = 0.05 * i - 0.03 * (seed % 7);
      motion.v[i] = 0.3 - 0.1 * i;
    }
    Forces<double> forces;
    prepare(model, forces);
    evaluate(model, motion, {}, forces);
    for (int i = 0; i < model.count; ++i) {
      show(forces.force[i]);
      for (int j = 0; j < model.count; ++j) {
        show(forces.mass[i][j]);
        show(forces.stiffness[i][j]);
        show(forces.damping[i][j]);
      }
    }
    show(calc_energy(model, motion).total());
    show(calc_loss(model, motion).total());
  }
}
