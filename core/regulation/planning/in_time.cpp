#include "core/regulation/planning/in_time.hpp"

#include "core/quantities/text.hpp"
#include "core/regulation/planning/time_box.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <string_view>

namespace batten {
namespace {

constexpr const char* weight_setting = "play-weight";

tl::unexpected<Problem> about_weights(const std::string& happened) {
  return problem("Setting play-weight: " + happened,
                 "Write one number per section, 0 or more, as in \"0.5; 1; 1; 0.4\".");
}

}  // namespace

Result<std::vector<double>> play_weights(Compass compass, const std::vector<Section>& sections,
                                         const std::map<std::string, std::string>& on_record) {
  std::vector<double> weights;
  const auto it = on_record.find(weight_setting);
  if (it == on_record.end()) {
    // Estimate, no source: the middle is played most, a fifth as often at the ends.
    constexpr double middle = 42, reach = 20, least = 0.2;
    for (int i = 0; i < compass.count(); ++i) {
      const double x = (compass.at(i).number - middle) / reach;
      weights.push_back(least + (1 - least) * std::exp(-0.5 * x * x));
    }
  } else {
    std::vector<double> list;
    std::string_view text = it->second;
    for (;;) {
      const auto end = text.find(';');
      const auto number = parse_number(text.substr(0, end));
      if (!number) return about_weights(number.error().happened);
      if (*number < 0) return about_weights("a weight cannot be below zero.");
      list.push_back(*number);
      if (end == std::string_view::npos) break;
      text.remove_prefix(end + 1);
    }
    if (list.size() != sections.size())
      return about_weights("there are " + std::to_string(sections.size()) + " sections but " +
                           std::to_string(list.size()) + " weights.");
    for (int i = 0; i < compass.count(); ++i)
      weights.push_back(list[static_cast<std::size_t>(section_of(sections, compass.at(i)))]);
  }
  const double sum = std::accumulate(weights.begin(), weights.end(), 0.0);
  if (!(sum > 0)) return about_weights("one weight at least must be above zero.");
  for (double& w : weights) w *= static_cast<double>(weights.size()) / sum;
  return weights;
}

namespace planning {
namespace {

constexpr auto at(Adjuster adjuster) { return static_cast<Eigen::Index>(adjuster); }
constexpr auto at(Aim aim) { return static_cast<Eigen::Index>(aim); }

// What an aim that was read and set costs still, in tolerances squared (estimate: half a
// tolerance).
constexpr double left_when_set = 0.25;

// Something that can be done at a note: one deeper step of its decision, or readings (and the move
// they will ask for).
struct Item {
  std::uint32_t adjusters = 0;
  double minutes = 0, gain = 0;
  std::size_t depth = 0;  // of the decision, once taken
};

struct Way {
  Bundle bundle;
  std::uint32_t adjusters = 0;
  std::size_t depth = 0;
};

double minutes_of(const std::vector<Pass>& passes, Key key, Adjuster adjuster) {
  double sum = 0;
  for (const Pass& p : passes)
    if (p.adjuster == adjuster)
      for (const Instruction& i : p.steps)
        if (i.key == key) sum += i.minutes;
  return sum;
}

// Ways to treat a note, from nothing to everything, the most gain a minute first as far as one step
// may come before another.
std::vector<Way> ways_of(const NoteTask& task, const Decision& decision,
                         const std::array<double, note_adjuster_count>& minutes,
                         const std::array<int, note_adjuster_count>& pass_of, double weight) {
  std::vector<Item> deeper, readings;
  std::uint32_t known = 0;
  for (std::size_t d = 1; d < decision.depths.size(); ++d) {
    const Depth &before = decision.depths[d - 1], &now = decision.depths[d];
    Item item{now.adjusters & ~before.adjusters, 0, before.cost - now.cost, d};
    known |= now.adjusters;
    for (std::size_t k = 0; k < note_adjuster_count; ++k)
      if ((item.adjusters >> k & 1) != 0) item.minutes += minutes[k];
    deeper.push_back(item);
  }
  for (std::size_t k = 0; k < note_adjuster_count; ++k) {
    if ((known >> k & 1) != 0 || minutes[k] <= 0) continue;
    const Aim aim = aim_for(static_cast<Adjuster>(k));
    const double t = task.tolerance(at(aim));
    const double spread = task.note->cov(at(aim), at(aim)) / (t * t);
    readings.push_back({1u << k, minutes[k], std::max(0.0, spread - left_when_set), 0});
  }
  const auto rate = [](const Item& i) { return i.gain / std::max(1e-3, i.minutes); };
  std::sort(readings.begin(), readings.end(),
            [&](const Item& a, const Item& b) { return rate(a) > rate(b); });

  std::vector<Way> ways{{{0, 0, weight * decision.depths.front().cost}, 0, 0}};
  Way way = ways.front();
  auto d = deeper.begin();
  auto r = readings.begin();
  while (d != deeper.end() || r != readings.end()) {
    const bool deep = d != deeper.end() && (r == readings.end() || rate(*d) >= rate(*r));
    const Item& item = deep ? *d++ : *r++;
    way.adjusters |= item.adjusters;
    way.bundle.minutes += item.minutes;
    way.bundle.cost = std::max(0.0, way.bundle.cost - weight * item.gain);
    if (deep) way.depth = item.depth;
    way.bundle.passes = 0;
    for (std::size_t k = 0; k < note_adjuster_count; ++k)
      if ((way.adjusters >> k & 1) != 0 && pass_of[k] >= 0) way.bundle.passes |= 1u << pass_of[k];
    ways.push_back(way);
  }
  return ways;
}

// Brings the board's decisions to the bundles chosen; which adjusters are worked on at each note.
std::vector<std::uint32_t> take(Board& board, const std::vector<std::vector<Way>>& ways,
                                const TimeBoxChoice& choice) {
  std::vector<std::uint32_t> taken;
  for (std::size_t i = 0; i < ways.size(); ++i) {
    const Way& way = ways[i][choice.bundle[i]];
    taken.push_back(way.adjusters);
    Decision& decision = board.decisions[i];
    decision.amounts = decision.depths[way.depth].amounts;
    for (std::size_t k = 0; k < note_adjuster_count; ++k)
      if ((way.adjusters >> k & 1) == 0) decision.amounts(at(static_cast<Adjuster>(k))) = 0;
  }
  return taken;
}

// The steps that are taken, counted anew.
template <class Taken>
std::vector<Pass> passes_in(std::vector<Pass> fresh, const Taken& in,
                            const WorkingCatalogue& catalogue) {
  std::vector<Pass> kept;
  for (Pass& pass : fresh) {
    std::erase_if(pass.steps, [&](const Instruction& step) { return !in(step); });
    pass.readings = pass.moves = 0;
    pass.minutes = catalogue.labour(pass.adjuster).minutes_set_up;
    for (const Instruction& step : pass.steps) {
      ++(step.kind == Instruction::Kind::read ? pass.readings : pass.moves);
      pass.minutes += step.minutes;
    }
    if (!pass.steps.empty()) kept.push_back(std::move(pass));
  }
  return kept;
}

// The whole plan as a time box: ways to treat each note, and the passes they need.
struct Boxed {
  TimeBoxTask task;  // minutes not yet set
  std::vector<std::vector<Way>> ways;
};

Result<Boxed> box(const Situation& s, const Board& board, const std::vector<Pass>& whole,
                  const std::map<std::string, std::string>& settings) {
  auto weights = play_weights(s.compass, s.targets.sections, settings);
  if (!weights) return tl::unexpected(weights.error());
  Boxed boxed;
  std::array<int, note_adjuster_count> pass_of;
  pass_of.fill(-1);
  for (std::size_t p = 0; p < whole.size(); ++p) {
    pass_of[index_of(whole[p].adjuster)] = static_cast<int>(p);
    boxed.task.set_up.push_back(s.catalogue.labour(whole[p].adjuster).minutes_set_up);
  }
  for (std::size_t i = 0; i < s.notes.size(); ++i) {
    std::array<double, note_adjuster_count> minutes{};
    for (std::size_t k = 0; k < note_adjuster_count; ++k)
      minutes[k] = minutes_of(whole, s.notes[i].key, static_cast<Adjuster>(k));
    boxed.ways.push_back(
        ways_of(board.tasks[i], board.decisions[i], minutes, pass_of, (*weights)[i]));
    boxed.task.notes.emplace_back();
    for (const Way& w : boxed.ways.back()) boxed.task.notes.back().push_back(w.bundle);
  }
  return boxed;
}

}  // namespace

Result<void> fit_into_time(const Situation& s, Board& board, Plan& plan, const Paces& paces,
                           const std::map<std::string, std::string>& settings,
                           const PlanOptions& options) {
  const std::vector<Pass> whole = std::move(plan.passes);
  auto boxed = box(s, board, whole, settings);
  if (!boxed) return tl::unexpected(boxed.error());
  auto& [task, ways] = *boxed;
  task.minutes = *options.minutes;
  const std::vector<Decision> decisions = board.decisions;
  std::vector<std::uint32_t> taken;
  const auto in = [&](const Instruction& step) {
    const auto i = static_cast<std::size_t>(s.compass.position(step.key));
    return (taken[i] >> index_of(step.adjuster) & 1) != 0;
  };
  // A note done in part is read again more often than one done in full, so that what was chosen may
  // take a little longer than reckoned: then as much less is asked for.
  constexpr int tries = 6;
  for (int i = 0; i < tries; ++i) {
    auto choice = choose_in_time(task);
    if (!choice) return tl::unexpected(choice.error());
    board.decisions = decisions;
    taken = take(board, ways, *choice);
    plan.passes = passes_in(make_passes(s, board, plan.order, paces, !plan.gate.open, options), in,
                            s.catalogue);
    double minutes = 0;
    for (const Pass& pass : plan.passes) minutes += pass.minutes;
    if (minutes <= *options.minutes) break;
    task.minutes = std::max(0.0, task.minutes - 1.1 * (minutes - *options.minutes));
  }
  for (const Pass& pass : whole)
    for (const Instruction& step : pass.steps)
      if (!in(step)) plan.left_for_time.push_back(step);
  return {};
}

}  // namespace planning

Result<std::vector<TimePoint>> calc_time_curve(const Plan& plan, const ActionModel& model,
                                               const std::map<std::string, std::string>& settings,
                                               const std::vector<double>& minutes) {
  using namespace planning;
  const Situation& s = plan.situation;
  const Board whole = make_board(s, model, plan.order.derived, {});
  auto boxed = box(s, whole, plan.passes, settings);
  if (!boxed) return tl::unexpected(boxed.error());
  auto curve = time_box_curve(boxed->task, minutes);
  if (!curve) return tl::unexpected(curve.error());
  std::vector<TimePoint> points;
  for (const TimeBoxPoint& p : *curve) {
    // The curve's last choices may leave out what buys next to nothing.
    if (p.minutes >= plan.minutes * (1 - 1e-9)) {
      TimePoint all{p.minutes, plan.minutes, plan.unevenness_after, {}};
      for (const Pass& pass : plan.passes) all.passes.push_back(pass.adjuster);
      points.push_back(std::move(all));
      continue;
    }
    Board board = whole;
    take(board, boxed->ways, p.choice);
    const double left = overall_unevenness(summarise(s, board), &AimSummary::unevenness_after);
    TimePoint point{p.minutes, p.choice.minutes, left, {}};
    for (std::size_t i = 0; i < plan.passes.size(); ++i)
      if ((p.choice.passes >> i & 1) != 0) point.passes.push_back(plan.passes[i].adjuster);
    points.push_back(std::move(point));
  }
  return points;
}

}  // namespace batten
