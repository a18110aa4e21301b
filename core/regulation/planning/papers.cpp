#include "core/regulation/planning/papers.hpp"

#include "core/quantities/text.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <limits>
#include <string_view>
#include <tuple>

namespace batten {
namespace {

// Whole micrometres inside: sums are exact.
constexpr double micrometres = 1000;
constexpr double finest_possible = 0.005;  // mm
constexpr double thickest_possible = 20;   // mm
constexpr std::size_t most_lying = 14;     // every subset is tried
constexpr std::size_t most_others = 3;
constexpr int unreachable = std::numeric_limits<int>::max() / 2;

int whole(double mm) { return static_cast<int>(std::lround(mm * micrometres)); }

bool is_paper(double mm) {
  return std::isfinite(mm) && mm >= finest_possible && mm <= thickest_possible;
}

// Thickest first.
std::vector<int> in_order(const std::vector<double>& mm) {
  std::vector<int> all;
  for (const double paper : mm) all.push_back(whole(paper));
  std::ranges::sort(all, std::greater());
  return all;
}

// The fewest papers that come to each total, 0…highest; a paper as often as wanted.
std::vector<int> calc_fewest(const std::vector<int>& papers, int highest) {
  std::vector<int> fewest(static_cast<std::size_t>(highest) + 1, unreachable);
  fewest[0] = 0;
  for (std::size_t total = 1; total < fewest.size(); ++total) {
    for (const int paper : papers) {
      const auto step = static_cast<std::size_t>(paper);
      if (step <= total) fewest[total] = std::min(fewest[total], fewest[total - step] + 1);
    }
  }
  return fewest;
}

struct Taken {
  std::vector<int> papers;  // thickest first
  int total = 0;
};

// Every different choice of papers that lie there; the empty one first.
std::vector<Taken> list_taken(const std::vector<int>& lying) {
  std::vector<Taken> all{{}};
  for (std::size_t first = 0; first < lying.size();) {
    std::size_t end = first;
    while (end < lying.size() && lying[end] == lying[first]) ++end;
    const std::size_t before = all.size();
    for (std::size_t k = 1; k <= end - first; ++k) {
      for (std::size_t i = 0; i < before; ++i) {
        Taken more = all[i];
        more.papers.insert(more.papers.end(), k, lying[first]);
        more.total += static_cast<int>(k) * lying[first];
        all.push_back(std::move(more));
      }
    }
    first = end;
  }
  return all;
}

// How good a change is, less is better: papers handled, micrometres off, papers added.
using Worth = std::tuple<int, int, int>;

class Search {
 public:
  Search(std::vector<int> papers, std::vector<Taken> taken, int amount, int within)
      : papers_(std::move(papers)), taken_(std::move(taken)), amount_(amount), within_(within) {
    int most = 0;
    for (const Taken& t : taken_) most = std::max(most, t.total);
    // One paper beyond, so that the nearest total above is in the table too.
    fewest_ = calc_fewest(papers_, std::max(0, amount + most) + within + papers_.front());
  }

  // Changes of the least worth, as (add, take) in micrometres; best first. Empty: none within.
  std::vector<PaperChange> solve() const {
    Worth least{unreachable, 0, 0};
    for (const Taken& t : taken_) {
      for (int total = lowest(t); total <= amount_ + t.total + within_; ++total)
        least = std::min(least, worth(t, total));
    }
    std::vector<PaperChange> found;
    if (std::get<0>(least) >= unreachable) return found;
    for (const Taken& t : taken_) {
      for (int total = lowest(t); total <= amount_ + t.total + within_; ++total) {
        if (worth(t, total) == least) list_sums(t, total, found);
      }
    }
    std::ranges::sort(found, [](const PaperChange& a, const PaperChange& b) {
      return std::tie(a.change, b.add, b.take) < std::tie(b.change, a.add, a.take);
    });
    return found;
  }

  // The change nearest to the amount that can be had at all, micrometres.
  int nearest() const {
    int best = 0;
    for (const Taken& t : taken_) {
      for (std::size_t total = 0; total < fewest_.size(); ++total) {
        const int change = static_cast<int>(total) - t.total;
        if (fewest_[total] < unreachable && std::abs(change - amount_) < std::abs(best - amount_))
          best = change;
      }
    }
    return best;
  }

 private:
  int lowest(const Taken& t) const { return std::max(0, amount_ + t.total - within_); }

  Worth worth(const Taken& t, int total) const {
    const int added = fewest_[static_cast<std::size_t>(total)];
    if (added >= unreachable) return {unreachable, 0, 0};
    return {added + static_cast<int>(t.papers.size()), std::abs(total - t.total - amount_), added};
  }

  // Every way to come to `total` with as few papers as it takes.
  void list_sums(const Taken& t, int total, std::vector<PaperChange>& found) const {
    std::vector<int> add;
    const auto down = [&](const auto& self, std::size_t from, int rest) -> void {
      if (rest == 0) {
        found.push_back(as_change(add, t));
        return;
      }
      const int left = fewest_[static_cast<std::size_t>(rest)];
      for (std::size_t i = from; i < papers_.size(); ++i) {
        if (papers_[i] > rest) continue;
        const int then = rest - papers_[i];
        if (fewest_[static_cast<std::size_t>(then)] != left - 1) continue;
        add.push_back(papers_[i]);
        self(self, i, then);
        add.pop_back();
      }
    };
    down(down, 0, total);
  }

  static PaperChange as_change(const std::vector<int>& add, const Taken& t) {
    PaperChange change;
    int sum = -t.total;
    for (const int paper : add) {
      change.add.push_back(paper / micrometres);
      sum += paper;
    }
    for (const int paper : t.papers) change.take.push_back(paper / micrometres);
    change.change = sum / micrometres;
    return change;
  }

  std::vector<int> papers_;
  std::vector<Taken> taken_;
  int amount_, within_;
  std::vector<int> fewest_;
};

// One paper for a thinner one, the set's own thicknesses.
std::vector<PaperChange> list_swaps(const std::vector<int>& papers, int amount, int within) {
  std::vector<std::pair<int, PaperChange>> found;
  for (const int out : papers) {
    for (const int in : papers) {
      const int off = std::abs(in - out - amount);
      if (in >= out || off > within) continue;
      found.push_back({off, {{in / micrometres}, {out / micrometres}, (in - out) / micrometres}});
    }
  }
  std::ranges::sort(found, std::greater(), [](const std::pair<int, PaperChange>& swap) {
    return std::pair(-swap.first, swap.second.take);
  });
  std::vector<PaperChange> swaps;
  for (std::size_t i = 0; i < std::min(found.size(), most_others); ++i)
    swaps.push_back(std::move(found[i].second));
  return swaps;
}

std::string print_thickness(double mm) {
  const int decimals = whole(mm) % 10 == 0 ? 2 : 3;
  return print_number(mm, {.decimals = decimals});
}

// "2 × 0.25 + 0.08 mm"
std::string print_stack(const std::vector<double>& papers) {
  std::string text;
  for (std::size_t i = 0; i < papers.size();) {
    std::size_t end = i;
    while (end < papers.size() && papers[end] == papers[i]) ++end;
    if (i > 0) text += " + ";
    if (end - i > 1) text += std::to_string(end - i) + " × ";
    text += print_thickness(papers[i]);
    i = end;
  }
  return text + "\u202fmm";
}

std::string mm_text(int micrometre) {
  return print_thickness(std::abs(micrometre) / micrometres) + "\u202fmm";
}

Result<void> check(const PaperTask& task) {
  if (task.papers.empty())
    return problem("There are no papers to hand.", "Enter the thicknesses of the set.");
  if (!std::ranges::all_of(task.papers, is_paper))
    return problem("A paper's thickness is not between 0.005 and 20\u202fmm.", "Correct the set.");
  if (task.lying && task.lying->size() > most_lying)
    return problem("More than 14 papers lie in the stack.", "Change it for fewer, thicker ones.");
  if (task.lying && !std::ranges::all_of(*task.lying, is_paper))
    return problem("A paper in the stack is not between 0.005 and 20\u202fmm thick.");
  if (!std::isfinite(task.amount) || std::fabs(task.amount) > thickest_possible)
    return problem("A stack can be changed by 20\u202fmm at most.");
  if (task.within && !(*task.within >= 0 && *task.within <= 1))
    return problem("The tolerance of a stack must be 0 to 1\u202fmm.");
  return {};
}

}  // namespace

Result<PaperAdvice> choose_papers(const PaperTask& task) {
  if (const auto checked = check(task); !checked) return tl::unexpected(checked.error());
  std::vector<int> papers = in_order(task.papers);
  papers.erase(std::ranges::unique(papers).begin(), papers.end());
  const int within = task.within ? whole(*task.within) : papers.back() / 2;
  const int amount = whole(task.amount);
  // With the stack unknown, what is to go is put together as if it were to come.
  const bool blind = !task.lying && amount < 0;
  std::vector<Taken> taken =
      task.lying ? list_taken(in_order(*task.lying)) : std::vector<Taken>{{}};

  const Search search(papers, std::move(taken), blind ? -amount : amount, within);
  std::vector<PaperChange> found = search.solve();
  if (found.empty()) {
    const int near = blind ? -search.nearest() : search.nearest();
    return problem("No papers come within " + mm_text(within) + " of " + mm_text(amount) +
                       (amount < 0 ? " less." : " more."),
                   near == 0 ? "Leave the stack, or enter other papers."
                             : "Nearest is " + mm_text(near) + (near < 0 ? " less." : " more."));
  }

  PaperAdvice advice;
  advice.stack_known = task.lying.has_value();
  for (PaperChange& change : found) {
    if (blind) {
      std::swap(change.add, change.take);
      change.change = -change.change;
    }
    change.off = change.change - task.amount;
  }
  advice.best = std::move(found.front());
  for (std::size_t i = 1; i < std::min(found.size(), most_others + 1); ++i)
    advice.others.push_back(std::move(found[i]));
  if (blind && !advice.best.take.empty()) {
    advice.swaps = list_swaps(papers, amount, within);
    for (PaperChange& swap : advice.swaps) swap.off = swap.change - task.amount;
  }
  return advice;
}

std::string print_papers(const PaperChange& change) {
  if (change.add.empty() && change.take.empty()) return "leave the papers as they are";
  std::string text;
  if (!change.take.empty()) text = "take out " + print_stack(change.take);
  if (!change.add.empty()) text += (text.empty() ? "add " : " and add ") + print_stack(change.add);
  return text;
}

std::string print_papers(const PaperAdvice& advice) {
  std::string text = print_papers(advice.best);
  if (!advice.swaps.empty()) {
    const PaperChange& swap = advice.swaps.front();
    text += ", or change " + print_stack(swap.take) + " for " + print_stack(swap.add);
  } else if (!advice.stack_known && !advice.best.take.empty()) {
    text += ", or change a paper for one that much thinner";
  }
  return text;
}

}  // namespace batten
