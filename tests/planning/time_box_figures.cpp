// Writes docs/theory/time-box-figures.md; with a second path, also compares with what is kept
// there.
#include "tests/planning/exact_time_box.hpp"
#include "tests/planning/time_box_cases.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <iostream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

namespace batten::invented {
namespace {

constexpr std::size_t piano_count = 300;
constexpr double minutes = 150;

struct Excess {
  double worst = 0, sum = 0;
  int unproven = 0, count = 0;
  void add(double share, const TimeBoxChoice& choice) {
    worst = std::max(worst, share);
    sum += share;
    unproven += choice.bound < choice.cost * (1 - 1e-9) ? 1 : 0;
    ++count;
  }
  std::string row(const std::string& cases) const {
    return fmt::format("| {} | {} | {:.2f} | {:.2f} | {} |\n", cases, count, 100 * worst,
                       100 * sum / count, unproven);
  }
};

using Draw = std::function<TimeBoxTask(workshop::Chance&, std::size_t)>;

// Over the optimum that GLPK finds.
Excess against_judge(std::uint64_t first_seed, std::size_t count, const Draw& draw) {
  Excess excess;
  for (std::size_t i = 0; i < count; ++i) {
    workshop::Chance chance(first_seed + i);
    const auto task = draw(chance, i);
    const auto best = exact::solve_time_box(task, 0, 60);
    const auto choice = choose_in_time(task);
    const bool right = best.solved && exact::is_permitted(task, choice->bundle, nullptr);
    excess.add(right ? choice->cost / best.cost - 1 : INFINITY, *choice);
  }
  return excess;
}

// Over its own bound.
Excess against_bound(std::uint64_t first_seed, std::size_t count, const Draw& draw) {
  Excess excess;
  for (std::size_t i = 0; i < count; ++i) {
    workshop::Chance chance(first_seed + i);
    const auto choice = choose_in_time(draw(chance, i));
    excess.add(choice->cost / std::max(1e-9, choice->bound) - 1, *choice);
  }
  return excess;
}

std::string spread(std::vector<double> values) {
  std::ranges::sort(values);
  const auto at = [&](double share) {
    return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
  };
  return fmt::format("{:.2f} | {:.2f} | {:.2f} | {:.2f} | {:.2f}", at(0), at(0.05), at(0.5),
                     at(0.95), at(1));
}

struct Others {
  std::vector<double> note_all, pass_all, note_out, pass_out;
  void add(const FoundPiano& piano, double there_are, double cost) {
    const auto ratio = [&](double left) { return std::sqrt(left / cost); };
    note_all.push_back(ratio(note_by_note(piano, there_are, Thrift::everything)));
    pass_all.push_back(ratio(pass_by_pass(piano, there_are, Thrift::everything)));
    note_out.push_back(ratio(note_by_note(piano, there_are, Thrift::what_is_out)));
    pass_out.push_back(ratio(pass_by_pass(piano, there_are, Thrift::what_is_out)));
  }
  std::string table() const {
    return "| the other way, from the bass until the time is up | least | 5 % | median | 95 % | "
           "most |\n|---|---:|---:|---:|---:|---:|\n| note by note, everything | " +
           spread(note_all) + " |\n| pass by pass, everything | " + spread(pass_all) +
           " |\n| note by note, only what is out of tolerance | " + spread(note_out) +
           " |\n| pass by pass, only what is out of tolerance | " + spread(pass_out) + " |\n";
  }
};

std::string beside_others() {
  Others fixed, quarter;
  std::vector<double> found, left, needed;
  for (std::uint64_t seed = 50; seed < 50 + piano_count; ++seed) {
    workshop::Chance chance(seed);
    const FoundPiano piano = find_piano(chance);
    TimeBoxTask task = as_task(piano, minutes);
    const auto choice = choose_in_time(task);
    fixed.add(piano, minutes, choice->cost);
    double start = 0;
    for (const auto& note : task.notes) start += note.front().cost;
    found.push_back(evenness(piano, start));
    left.push_back(evenness(piano, choice->cost));
    needed.push_back(minutes_needed(piano));
    task.minutes = needed.back() / 4;
    quarter.add(piano, task.minutes, choose_in_time(task)->cost);
  }
  return fmt::format(
      "## Beside other ways to spend {:.0f} minutes\n\n{} invented pianos (see time-box.md, 4): "
      "how many times as uneven the other way leaves it. Everything at every note would take "
      "{:.0f} minutes.\n\n{}\n"
      "The same with a quarter of the minutes that all adjusters out of tolerance need:\n\n{}\n"
      "| | least | 5 % | median | 95 % | most |\n|---|---:|---:|---:|---:|---:|\n"
      "| evenness found, tolerances | {} |\n| after the {:.0f} minutes chosen | {} |\n"
      "| minutes all that is out of tolerance needs | {} |\n",
      minutes, piano_count, all_minutes(), fixed.table(), quarter.table(), spread(found), minutes,
      spread(left), spread(needed));
}

std::string bundle_table() {
  std::string rows;
  for (const std::size_t bundles : {4U, 6U, 8U, 12U}) {
    double sum = 0;
    for (std::uint64_t seed = 50; seed < 150; ++seed) {
      workshop::Chance chance(seed);
      const FoundPiano piano = find_piano(chance);
      sum += evenness(piano, choose_in_time(as_task(piano, minutes, bundles))->cost);
    }
    rows += fmt::format("| {} | {:.4f} |\n", bundles, sum / 100);
  }
  return "## How many ways to treat a note\n\n100 pianos; the chain of time-box.md, 3.\n\n"
         "| bundles a note, at most | mean evenness after 150 minutes, tolerances "
         "|\n|---:|---:|\n" +
         rows + "\n";
}

std::string write() {
  const auto small = [](bool ties) {
    return
        [ties](workshop::Chance& c, std::size_t i) { return any_task(c, 6 + i % 5, 8, 5, ties); };
  };
  const auto wide = [](workshop::Chance& c, std::size_t i) {
    return any_task(c, 10, 8, 14, i % 2 == 0);
  };
  const auto arbitrary = [](workshop::Chance& c, std::size_t) {
    return any_task(c, 88, 12, 11, false);
  };
  const auto piano = [](workshop::Chance& c, std::size_t) {
    return as_task(find_piano(c), minutes);
  };
  return "# How well the time box does\n\nWritten by the build target `time_box_figures` "
         "(tests/planning/time_box_figures.cpp); nobody types a figure here.\n\n"
         "## How close to the optimum\n\n"
         "| cases | number | worst, % over | mean, % over | not proven |\n"
         "|---|---:|---:|---:|---:|\n" +
         against_judge(10000, 1000, small(false))
             .row("6–10 notes × 8 bundles × 5 passes, arbitrary; optimum by GLPK") +
         against_judge(10000, 1000, small(true)).row("the same with needs and leading notes") +
         against_judge(20000, 200, wide)
             .row(
                 "10 notes × 8 bundles × 14 passes, arbitrary, half with needs and leading notes; "
                 "optimum by GLPK") +
         against_bound(30000, 100, arbitrary)
             .row("88 notes × 12 bundles × 11 passes, arbitrary; over its own bound") +
         against_bound(50, piano_count, piano)
             .row("88 notes × 12 bundles × 10 passes, invented pianos; over its own bound") +
         "\n" + bundle_table() + beside_others();
}

// The same words, and numbers alike: libraries of other machines may round an exponential
// otherwise.
bool alike(const std::string& a, const std::string& b) {
  std::istringstream one(a), other(b);
  std::string x, y;
  for (;;) {
    const bool more = static_cast<bool>(one >> x);
    if (more != static_cast<bool>(other >> y)) return false;
    if (!more) return true;
    if (x == y) continue;
    char* end_x = nullptr;
    char* end_y = nullptr;
    const double v = std::strtod(x.c_str(), &end_x), w = std::strtod(y.c_str(), &end_y);
    const bool numbers = end_x != x.c_str() && end_y != y.c_str() && std::string(end_x) == end_y;
    if (!numbers || std::abs(v - w) > 0.01 + 0.03 * std::abs(v)) return false;
  }
}

}  // namespace
}  // namespace batten::invented

int main(int argc, char** argv) {
  const std::vector<std::string> arguments(argv + 1, argv + argc);
  if (arguments.empty()) return 2;
  const std::string text = batten::invented::write();
  std::ofstream(arguments[0], std::ios::binary) << text;
  if (arguments.size() < 2) return 0;
  std::ifstream kept(arguments[1], std::ios::binary);
  if (batten::invented::alike(std::string(std::istreambuf_iterator<char>(kept), {}), text))
    return 0;
  std::cerr << arguments[1] << " is not what the code gives now; build the target time_box_figures"
            << " and look at what changed.\n";
  return 1;
}
