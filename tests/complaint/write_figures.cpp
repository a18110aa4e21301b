// Writes docs/theory/complaint-figures.md, so that no figure in it is typed by hand.
//   write_complaint_figures OUT [KEPT]    with KEPT: fails if that file says something else
#include "tests/complaint/trial.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <iterator>
#include <map>
#include <sstream>
#include <string>
#include <vector>

namespace batten::trial {
namespace {

using Cases = std::vector<Case>;

const Step& step(const Case& c, std::size_t readings) {
  return c.steps[std::min(readings, c.steps.size() - 1)];
}

std::string percent(Share s) { return fmt::format("{:.1f} ± {:.1f}", 100 * s.mean, 100 * s.error); }
template <class Test>
std::string share(const Cases& cases, std::size_t readings, Test test) {
  return percent(share_of(cases, [&](const Case& c) { return test(step(c, readings)); }));
}

// What readings did to the entropy: sums after over before, and its standard error by leaving out
// tenths of the cases (jackknife).
struct Told {
  double of_sums = 0, error = 0, mean = 0, taken = 0;
  std::array<double, 3> by_step{};
};
Told told_by(const Cases& cases) {
  constexpr std::size_t tenths = 10;
  double before = 0, after = 0, ratios = 0, count = 0;
  std::array<double, tenths> part_before{}, part_after{};
  std::array<double, 3> step_before{}, step_after{};
  for (std::size_t i = 0; i < cases.size(); ++i)
    for (std::size_t k = 1; k < cases[i].steps.size(); ++k) {
      const double b = cases[i].steps[k - 1].entropy, a = cases[i].steps[k].entropy;
      before += b;
      after += a;
      part_before[i % tenths] += b;
      part_after[i % tenths] += a;
      step_before[std::min<std::size_t>(k, 3) - 1] += b;
      step_after[std::min<std::size_t>(k, 3) - 1] += a;
      ratios += a / b;
      count += 1;
    }
  Told t;
  t.of_sums = after / before;
  double sum = 0;
  for (std::size_t k = 0; k < tenths; ++k) {
    const double left = (after - part_after[k]) / (before - part_before[k]);
    sum += (left - t.of_sums) * (left - t.of_sums);
  }
  t.error = std::sqrt(sum * (tenths - 1) / tenths);
  t.mean = ratios / count;
  t.taken = count / static_cast<double>(cases.size());
  for (std::size_t k = 0; k < 3; ++k)
    t.by_step[k] = step_before[k] > 0 ? step_after[k] / step_before[k] : 0;
  return t;
}

double mean_entropy(const Cases& cases, std::size_t readings) {
  double sum = 0;
  for (const Case& c : cases) sum += step(c, readings).entropy;
  return sum / static_cast<double>(cases.size());
}

Cases cases_of(Kind kind, int count, bool one_figure = false, std::vector<int> keys = {}) {
  Plan plan;
  plan.kind = kind;
  plan.cases = count;
  plan.one_figure = one_figure;
  if (!keys.empty()) plan.keys = std::move(keys);
  std::cerr << "kind " << static_cast<int>(kind) << ", " << count << " cases\n";
  return try_cases(plan);
}

std::string single_row(const std::string& name, const Cases& cases) {
  std::string text;
  for (std::size_t r = 0; r <= 3; ++r)
    text += fmt::format("| {} | {} | {} | {} | {} | {} | {:.2f} |\n", name, r,
                        share(cases, r, [](const Step& s) { return s.rank == 1; }),
                        share(cases, r, [](const Step& s) { return s.rank <= 3; }),
                        share(cases, r, [](const Step& s) { return s.known; }),
                        share(cases, r, [](const Step& s) { return s.known && s.rank != 1; }),
                        mean_entropy(cases, r));
  return text;
}

std::string told_row(const std::string& name, const Cases& cases) {
  const Told t = told_by(cases);
  return fmt::format("| {} | {:.2f} | {:.3f} ± {:.3f} | {:.3f} | {:.2f} | {:.2f} | {:.2f} |\n",
                     name, t.taken, t.of_sums, t.error, t.mean, t.by_step[0], t.by_step[1],
                     t.by_step[2]);
}

std::string other_row(const std::string& name, const Cases& cases, bool two) {
  const auto at_end = [&](auto test) { return share(cases, 3, test); };
  return fmt::format("| {} | {} | {} | {} | {} | {} |\n", name, cases.size(),
                     at_end([](const Step& s) { return !s.known; }),
                     at_end([&](const Step& s) { return s.known && !(two && s.rank == 1); }),
                     at_end([](const Step& s) {
                       return s.leader == Cause::something_else || s.leader == Cause::no_fault;
                     }),
                     two ? at_end([](const Step& s) { return s.rank == 1; }) : std::string("–"));
}

std::string cause_table(const Cases& cases) {
  struct Count {
    int all = 0, first = 0, three = 0;
    std::map<Cause, int> instead;
  };
  std::map<Cause, Count> counts;
  for (const Case& c : cases) {
    Count& n = counts[c.truth[0]];
    const Step& s = c.steps.back();
    ++n.all;
    n.first += s.rank == 1 ? 1 : 0;
    n.three += s.rank <= 3 ? 1 : 0;
    if (s.rank != 1) ++n.instead[s.leader];
  }
  std::string text =
      "| true cause | cases | first | among three | led instead |\n|---|---:|---:|---:|---|\n";
  for (const auto& [cause, n] : counts) {
    std::string instead;
    for (const auto& [other, times] : n.instead)
      instead += fmt::format("{}{} {}", instead.empty() ? "" : ", ", kind_of(other).code, times);
    text += fmt::format("| {} | {} | {} | {} | {} |\n", kind_of(cause).code, n.all, n.first,
                        n.three, instead);
  }
  return text;
}

std::string unlisted_table(const Cases& cases) {
  std::map<int, std::array<int, 3>> counts;
  std::map<int, std::map<Cause, int>> named;
  for (const Case& c : cases) {
    auto& n = counts[c.unlisted];
    const Step& s = c.steps.back();
    ++n[0];
    n[1] += s.known ? 1 : 0;
    n[2] += s.leader == Cause::something_else || s.leader == Cause::no_fault ? 1 : 0;
    if (s.known) ++named[c.unlisted][s.leader];
  }
  std::string text =
      "| fault | cases | a listed cause named | of these, which | \"not in the list\" leads |\n"
      "|---|---:|---:|---|---:|\n";
  for (const auto& [which, n] : counts) {
    std::string list;
    for (const auto& [cause, times] : named[which])
      list += fmt::format("{}{} {}", list.empty() ? "" : ", ", kind_of(cause).code, times);
    text +=
        fmt::format("| {} | {} | {} | {} | {} |\n", unlisted_name(which), n[0], n[1], list, n[2]);
  }
  return text;
}

std::string by_size(const Cases& cases) {
  std::string text =
      "| size of the fault, share of sizes below it | cases | first, % | among three, % |\n"
      "|---|---:|---:|---:|\n";
  for (int q = 0; q < 4; ++q) {
    Cases some;
    for (const Case& c : cases)
      if (std::min(3, static_cast<int>(4 * c.size)) == q) some.push_back(c);
    text += fmt::format("| {:.2f}–{:.2f} | {} | {} | {} |\n", 0.25 * q, 0.25 * (q + 1), some.size(),
                        share(some, 3, [](const Step& s) { return s.rank == 1; }),
                        share(some, 3, [](const Step& s) { return s.rank <= 3; }));
  }
  return text;
}

std::string write() {
  const Cases single = cases_of(Kind::single, 1000);
  const Cases figures = cases_of(Kind::single, 400, true);
  const Cases sharp = cases_of(Kind::single, 200, false, {47});
  const Cases two = cases_of(Kind::two, 300);
  const Cases unlisted = cases_of(Kind::unlisted, 300);
  const Cases none = cases_of(Kind::none, 150);
  const auto known = [](const Cases& cases) {
    return share(cases, 3, [](const Step& s) { return s.known; });
  };
  std::string text = fmt::format(
      "# How well a complaint finds its cause\n\n"
      "Written by the build target `complaint_figures` (tests/complaint/write_figures.cpp); nobody "
      "types a figure here. ± one standard error (where all or none did, one case). What is asked, "
      "of whom and of which notes is told in [complaint.md](complaint.md): other pianos than the "
      "model's (geometry ± 3 %, notes ± 0.7 %, frictions ± 30 %, felts ± 20 %, hands that leave "
      "something at every screw, gauges that err as the catalogue says), but **the same law of "
      "motion and the same kind of player** as the diagnosis assumes: what a real action and a "
      "real player add is not in these figures.\n\n"
      "A reading is what one handling gives (a slow press: damper start, let-off and drop). The "
      "first one suggested is taken each time, until the leader has 95 % or three are taken.\n\n"
      "## Where it falls short\n\n"
      "- **Faults outside the list.** After three readings a listed cause is said to be known in "
      "{} % of them: it fits what was read, and the readings that would contradict it were not "
      "taken.\n"
      "- **Two faults at once.** It names one cause; one of the two leads in {} %, and after that "
      "is mended the other must be complained of anew.\n"
      "- **Nothing wrong.** A cause is named all the same in {} %.\n"
      "- **One figure at a time** tells less than one handling: first in {} %, among three in {} "
      "%, and {:.2f} of the entropy is left after each.\n"
      "- **Small faults** are the hard ones (table by size), and pairs that are read alike: see "
      "the last column of the causes.\n\n",
      known(unlisted), share(two, 3, [](const Step& s) { return s.rank == 1; }), known(none),
      share(figures, 3, [](const Step& s) { return s.rank == 1; }),
      share(figures, 3, [](const Step& s) { return s.rank <= 3; }), told_by(figures).of_sums);
  const std::string single_name =
      fmt::format("C2, C4, C6 of the medium profile: {} cases", single.size());
  text +=
      "## Single faults\n\n"
      "| cases | readings, at most | first, % | among three, % | said to be known, % | known, "
      "and wrong, % | entropy, bits |\n|---|---:|---:|---:|---:|---:|---:|\n" +
      single_row(single_name, single) +
      single_row(fmt::format("a sharp, G#4: {}", sharp.size()), sharp) +
      single_row(fmt::format("one figure a reading: {}", figures.size()), figures) +
      "\n## What a reading tells\n\n"
      "Entropy over all causes after a suggested reading, of that before it.\n\n"
      "| cases | readings taken | sum after / sum before | mean of ratios | first reading | "
      "second | third |\n|---|---:|---:|---:|---:|---:|---:|\n" +
      told_row("single faults", single) + told_row("one figure a reading", figures) +
      told_row("two faults", two) + told_row("not in the list", unlisted) +
      told_row("nothing wrong", none) +
      "\n## Other cases, after three readings\n\n"
      "| cases | | does not know, % | names a wrong cause, % | \"something else\" or \"nothing\" "
      "leads, % | one of two leads, % |\n|---|---:|---:|---:|---:|---:|\n" +
      other_row("two faults", two, true) + other_row("not in the list", unlisted, false) +
      other_row("nothing wrong", none, false) + "\n## By cause\n\n" + cause_table(single) +
      "\n## By size\n\n" + by_size(single) + "\n## Faults that are not in the list\n\n" +
      unlisted_table(unlisted);
  return text;
}

}  // namespace
}  // namespace batten::trial

namespace {

// The same words, and numbers alike: 8 %, 3 or 0.1. Mathematical libraries of other machines may
// round otherwise, and what a note at the edge of a fault does may then turn.
bool alike(const std::string& a, const std::string& b) {
  std::istringstream one(a), other(b);
  std::string x, y;
  while (true) {
    const bool more = static_cast<bool>(one >> x);
    if (more != static_cast<bool>(other >> y)) return false;
    if (!more) return true;
    if (x == y) continue;
    char* end_x = nullptr;
    char* end_y = nullptr;
    const double v = std::strtod(x.c_str(), &end_x), w = std::strtod(y.c_str(), &end_y);
    const bool numbers = end_x != x.c_str() && end_y != y.c_str() && std::string(end_x) == end_y;
    const double allowed = std::abs(v) < 1 ? 0.1 : std::max(3.0, 0.08 * std::abs(v));
    if (!numbers || std::abs(v - w) > allowed) return false;
  }
}

}  // namespace

int main(int argc, char** argv) {
  const std::vector<std::string> arguments(argv + 1, argv + argc);
  if (arguments.empty()) return 2;
  const std::string text = batten::trial::write();
  std::ofstream(arguments[0], std::ios::binary) << text;
  if (arguments.size() < 2) return 0;
  std::ifstream kept(arguments[1], std::ios::binary);
  if (alike(std::string(std::istreambuf_iterator<char>(kept), {}), text)) return 0;
  std::cerr << arguments[1] << " is not what the code gives now; build the target complaint_figures"
            << " and look at what changed.\n";
  return 1;
}
