// Uncertainties propagated by JCGM 100:2008 (GUM) 5.1.2 against JCGM 101:2008, the propagation of
// distributions by a Monte Carlo method.
#include "core/regulation/line/gather.hpp"
#include "core/regulation/line/transfer.hpp"
#include "tests/line/journal_page.hpp"
#include "workshop/chance.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace batten {
namespace {

using namespace line_test;
using workshop::Chance;

// An end gauge compared by differences (GUM annex H.1) has the form of a hammer read on a bench:
// deviation = reading + offset − (string − blow), the parts independent, sensitivities ±1.
TEST(Uncertainty, OfADeviationIsTheRootSumOfSquaresOfItsParts) {
  Page page = level_page();
  page.set("hammer-datum", "bench").hammer("C4", 92, 0.15);
  for (const char* n : {"A0", "C4", "C8"}) page.transfer(n, 62, 0.12);
  const Line line = page.line();
  const NoteLine& n = at(line, "C4");
  const line::Readings r = line::gather(Compass{}, page.standing());
  const line::Transfer transfer(Compass{}, r.transfers);
  const double parts = std::sqrt(0.15 * 0.15 + std::pow(mm(transfer.sd(key("C4"))), 2) +
                                 std::pow(mm(n.string_sd), 2));
  EXPECT_NEAR(mm(*n.deviation_sd), parts, 1e-12);
  EXPECT_NEAR(mm(*n.hammer_sd), std::hypot(0.15, mm(transfer.sd(key("C4")))), 1e-12);
}

struct Spread {
  double sum = 0, squares = 0;
  int count = 0;
  void add(double v) {
    sum += v;
    squares += v * v;
    ++count;
  }
  double sd() const { return std::sqrt(squares / count - std::pow(sum / count, 2)); }
};

// The whole chain drawn 20,000 times from the transfer readings on: what is stated beside the
// deviation is how far it scatters about the truth. The tilt of the bench is drawn from the law the
// transfer assumes (0.5 mm from the middle to an end), the string's error from its stated one.
TEST(Uncertainty, AgreesWithAMonteCarloOfTheWholeChain) {
  const std::vector<Key> at_notes{Key{4}, Key{16}, Key{40}, Key{58}};
  const double u = 0.12, hammer_u = 0.1;
  Page page = level_page();
  page.set("hammer-datum", "bench");
  for (const char* n : {"A0", "C4", "C8"}) page.hammer(n, 92, hammer_u);
  for (Key k : at_notes) page.transfer(note_name(k), 62, u);  // on a line: nothing is widened
  const Line line = page.line();

  Chance chance(11);
  for (const char* name : {"A0", "C4", "C8"}) {
    const NoteLine& n = at(line, name);
    const auto place = [](Key k) { return 2.0 * (k.number - 1) / 87 - 1; };
    Spread error;
    for (int draw = 0; draw < 20'000; ++draw) {
      const double tilt = 0.5 * chance.normal();
      const auto offset = [&](Key k) { return 62 + tilt * place(k); };
      std::vector<HeightReading> readings;
      readings.reserve(at_notes.size());
      for (Key k : at_notes)
        readings.push_back({k, (offset(k) + u * chance.normal()) * millimetre, u * millimetre});
      const double transferred = mm(line::Transfer(Compass{}, readings).offset(n.key));
      const double hammer_error = hammer_u * chance.normal();
      const double string_error = mm(n.string_sd) * chance.normal();
      error.add(transferred - offset(n.key) + hammer_error - string_error);
    }
    EXPECT_NEAR(error.sd() / mm(*n.deviation_sd), 1, 0.03) << name;
  }
}

}  // namespace
}  // namespace batten
