#include "tests/planning/time_box_cases.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace batten::invented {
namespace {

struct Labour {
  double move, set_up;   // minutes; estimates, no source
  std::uint32_t before;  // adjusters to be set before it at a note, where they are set at all
};
// In common practice's order: balance punchings, jack, lever height, spring, capstan, front
// punchings, let-off, drop, back check, damper.
constexpr std::array<Labour, pass_count> labours{{{0.9, 8, 0},
                                                  {0.5, 5, 0},
                                                  {0.5, 4, 0},
                                                  {0.6, 4, 0},
                                                  {0.5, 4, 1U << 0 | 1U << 2},
                                                  {0.8, 8, 1U << 0 | 1U << 4},
                                                  {0.6, 6, 1U << 4},
                                                  {0.5, 5, 1U << 6},
                                                  {0.5, 6, 1U << 5},
                                                  {0.7, 8, 1U << 4}}};
constexpr double left_off = 0.35;

bool has(std::uint32_t passes, std::size_t pass) { return (passes >> pass & 1U) != 0; }
bool is_out(const FoundPiano& piano, std::size_t note, std::size_t aim) {
  return std::fabs(piano.off[note][aim]) > 1;
}

}  // namespace

TimeBoxTask any_task(workshop::Chance& chance, std::size_t notes, std::size_t bundles,
                     std::size_t passes, bool ties) {
  TimeBoxTask task;
  for (std::size_t p = 0; p < passes; ++p) task.set_up.push_back(10 * chance.uniform());
  const auto any_passes = [&] {
    return static_cast<std::uint32_t>(chance.between(0, (1 << passes) - 1));
  };
  double all = 0;
  for (std::size_t n = 0; n < notes; ++n) {
    const double worst = 1 + 20 * chance.uniform();
    std::vector<Bundle> options{{0, 0, worst}};
    double longest = 0;
    for (std::size_t b = 1; b < bundles; ++b) {
      const double minutes = 0.3 + 6 * chance.uniform();
      options.push_back({any_passes(), minutes, worst * chance.uniform()});
      longest = std::max(longest, minutes);
    }
    all += longest;
    task.notes.push_back(std::move(options));
  }
  for (const double minutes : task.set_up) all += minutes;
  task.minutes = all * (0.05 + 0.8 * chance.uniform());
  if (!ties) return task;
  for (std::size_t p = 0; p < passes; ++p)
    task.needs.push_back(chance.between(0, 2) == 0 ? any_passes() & any_passes() : 0);
  for (std::size_t n = 0; n < notes; ++n)
    task.leads.push_back(chance.between(0, 3) == 0 ? any_passes() & any_passes() : 0);
  return task;
}

FoundPiano find_piano(workshop::Chance& chance, std::size_t notes) {
  FoundPiano piano;
  std::array<double, pass_count> wear{};
  for (double& w : wear) w = 1.6 * std::exp(0.5 * chance.normal());
  for (std::size_t n = 0; n < notes; ++n) {
    std::array<double, pass_count> off{};
    for (std::size_t p = 0; p < pass_count; ++p)
      off[p] = wear[p] * chance.student(4) / std::sqrt(2.0);  // variance of t4 is 2
    piano.off.push_back(off);
    const double key = 1 + static_cast<double>(n) * 88 / static_cast<double>(notes);
    const double bass = std::clamp(0.5 + (key - 10) * 0.5 / 18, 0.5, 1.0);
    piano.weight.push_back(key <= 64 ? bass : std::max(0.4, 1 - (key - 64) * 0.6 / 20));
  }
  return piano;
}

double cost_of(const FoundPiano& piano, std::size_t note, std::uint32_t passes) {
  double sum = 0;
  for (std::size_t p = 0; p < pass_count; ++p) {
    const double found = std::fabs(piano.off[note][p]);
    const double off = has(passes, p) ? std::min(found, left_off) : found;
    sum += off * off;
  }
  return piano.weight[note] * sum;
}

double minutes_of(std::uint32_t passes) {
  double sum = 0;
  for (std::size_t p = 0; p < pass_count; ++p) sum += has(passes, p) ? labours[p].move : 0;
  return sum;
}

std::vector<double> set_up_minutes() {
  std::vector<double> all;
  all.reserve(labours.size());
  for (const Labour& l : labours) all.push_back(l.set_up);
  return all;
}

double all_minutes(std::size_t notes) {
  double sum = minutes_of((1U << pass_count) - 1) * static_cast<double>(notes);
  for (const Labour& l : labours) sum += l.set_up;
  return sum;
}

// What is out of tolerance and must be set before is set too, once the later one is.
std::uint32_t with_before(const FoundPiano& piano, std::size_t note, std::uint32_t passes) {
  for (std::size_t p = pass_count; p-- > 0;) {
    if (!has(passes, p)) continue;
    for (std::size_t q = 0; q < pass_count; ++q) {
      if (has(labours[p].before, q) && is_out(piano, note, q)) passes |= 1U << q;
    }
  }
  return passes;
}

TimeBoxTask as_task(const FoundPiano& piano, double minutes, std::size_t bundles) {
  TimeBoxTask task;
  task.set_up = set_up_minutes();
  task.minutes = minutes;
  for (std::size_t n = 0; n < piano.off.size(); ++n) {
    std::vector<Bundle> options{{0, 0, cost_of(piano, n, 0)}};
    std::uint32_t passes = 0;
    while (options.size() < bundles) {
      std::uint32_t best = passes;
      double steepest = 0;
      for (std::size_t p = 0; p < pass_count; ++p) {
        const std::uint32_t more = with_before(piano, n, passes | 1U << p);
        if (more == passes) continue;
        const double gain = options.back().cost - cost_of(piano, n, more);
        const double worth = gain / (minutes_of(more) - minutes_of(passes));
        if (worth <= steepest) continue;
        steepest = worth;
        best = more;
      }
      if (best == passes) break;
      passes = best;
      options.push_back({passes, minutes_of(passes), cost_of(piano, n, passes)});
    }
    task.notes.push_back(std::move(options));
  }
  return task;
}

double evenness(const FoundPiano& piano, double cost) {
  double weight = 0;
  for (const double w : piano.weight) weight += w;
  return std::sqrt(cost / (weight * pass_count));
}

namespace {

class Clock {
 public:
  explicit Clock(double minutes) : left_(minutes) {}
  bool work(std::size_t pass) {
    const double takes = labours[pass].move + (has(up_, pass) ? 0 : labours[pass].set_up);
    if (takes > left_) return false;
    left_ -= takes;
    up_ |= 1U << pass;
    return true;
  }

 private:
  double left_;
  std::uint32_t up_ = 0;
};

double cost_left(const FoundPiano& piano, const std::vector<std::uint32_t>& done) {
  double sum = 0;
  for (std::size_t n = 0; n < done.size(); ++n) sum += cost_of(piano, n, done[n]);
  return sum;
}

}  // namespace

double note_by_note(const FoundPiano& piano, double minutes, Thrift thrift) {
  std::vector<std::uint32_t> done(piano.off.size(), 0);
  Clock clock(minutes);
  for (std::size_t n = 0; n < done.size(); ++n) {
    for (std::size_t p = 0; p < pass_count; ++p) {
      if (thrift == Thrift::what_is_out && !is_out(piano, n, p)) continue;
      if (!clock.work(p)) return cost_left(piano, done);
      done[n] |= 1U << p;
    }
  }
  return cost_left(piano, done);
}

double pass_by_pass(const FoundPiano& piano, double minutes, Thrift thrift) {
  std::vector<std::uint32_t> done(piano.off.size(), 0);
  Clock clock(minutes);
  for (std::size_t p = 0; p < pass_count; ++p) {
    for (std::size_t n = 0; n < done.size(); ++n) {
      if (thrift == Thrift::what_is_out && !is_out(piano, n, p)) continue;
      if (!clock.work(p)) return cost_left(piano, done);
      done[n] |= 1U << p;
    }
  }
  return cost_left(piano, done);
}

double minutes_needed(const FoundPiano& piano) {
  double sum = 0;
  std::uint32_t up = 0;
  for (std::size_t n = 0; n < piano.off.size(); ++n) {
    for (std::size_t p = 0; p < pass_count; ++p) {
      if (!is_out(piano, n, p)) continue;
      sum += labours[p].move + (has(up, p) ? 0 : labours[p].set_up);
      up |= 1U << p;
    }
  }
  return sum;
}

}  // namespace batten::invented
