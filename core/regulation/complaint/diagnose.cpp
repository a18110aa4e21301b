#include "core/regulation/complaint/explain.hpp"
#include "core/regulation/complaint/weighing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace batten {

namespace {

using namespace complaint;
using Entry = ComplaintTable::Entry;

// Read as often as its neighbours' are, a note is known beside them this much less surely.
constexpr double beside_uncertainty = 1.22;  // sqrt(3/2): two neighbours read as well
// A complaint a cause makes as likely as this counts as explained by it.
constexpr double explains_from = 0.15;
constexpr double worth_telling = 0.01;
// bits a look must be expected to tell to be worth the hand.
constexpr double least_told = 0.02;
// Chance of a note that cannot let go from which its caution is shown.
constexpr double caution_from = 0.05;

Result<Seen> see(const ComplaintTable& table, const Sighting& s) {
  const LookKind& kind = kind_of(s.look);
  Seen out{s.look, s.value.has_value(), 0, s.uncertainty.value_or(kind.usual_uncertainty)};
  const std::string name(kind.name);
  if (!(out.uncertainty > 0 && std::isfinite(out.uncertainty)))
    return problem("The uncertainty of the " + name + " is not a positive number.");
  if (!s.value) {
    if (kind.none.empty())
      return problem("The " + name + " can always be read.", "Give it a figure.");
    return out;
  }
  for (const double v : {*s.value, s.beside.value_or(*s.value)})
    if (!(v >= kind.possible_low && v <= kind.possible_high))
      return problem(
          fmt::format("{} cannot be {:g} {}.", name, v, unit_symbol(kind.unit)),
          fmt::format("Between {:g} and {:g} is possible.", kind.possible_low, kind.possible_high));
  const double sound = table.sound[static_cast<std::size_t>(s.look)];
  if (s.look == Look::key_height && !s.beside)
    return problem("A key's height tells nothing by itself.",
                   "Say what the keys beside it read as well.");
  out.value = s.beside ? *s.value - *s.beside + sound : *s.value;
  if (s.beside) out.uncertainty *= beside_uncertainty;
  return out;
}

// Mean over a cause's entries of what they make each look read; where most of them cannot be read,
// NaN. Also what complaints the cause explains.
struct CauseView {
  std::array<double, look_count> expected{};
  std::vector<Complaint> explained;
  double blocks = 0;
};
CauseView view_of(const ComplaintTable& table, std::span<const double> chances, Cause cause) {
  CauseView v;
  std::array<double, look_count> sum{}, weight{};
  std::array<double, complaint_count> mention{};
  double all = 0;
  for (std::size_t i = 0; i < table.entries.size(); ++i) {
    const Entry& e = table.entries[i];
    if (e.cause != cause) continue;
    all += chances[i];
    v.blocks += chances[i] * e.blocks;
    for (std::size_t k = 0; k < complaint_count; ++k) mention[k] += chances[i] * e.mention[k];
    for (std::size_t k = 0; k < look_count; ++k) {
      if (std::isnan(e.expected[k])) continue;
      sum[k] += chances[i] * e.expected[k];
      weight[k] += chances[i];
    }
  }
  for (std::size_t k = 0; k < look_count; ++k)
    v.expected[k] = weight[k] > 0.5 * all ? sum[k] / weight[k] : std::nan("");
  for (std::size_t k = 0; k < complaint_count; ++k)
    if (mention[k] > explains_from * all) v.explained.push_back(static_cast<Complaint>(k));
  return v;
}

Mend mend_of(const ComplaintTable& table, Cause cause, const CauseView& view,
             std::span<const Sighting> seen) {
  const CauseKind& kind = kind_of(cause);
  Mend m;
  m.cause = cause;
  m.adjuster = kind.adjuster;
  m.direction = kind.mend;
  m.read_by = kind.mended;
  if (m.read_by) {
    const auto k = static_cast<std::size_t>(*m.read_by);
    m.from = view.expected[k];
    m.to = table.sound[k];
    for (const Sighting& s : seen)
      if (s.look == *m.read_by) {
        m.from = s.value.value_or(std::nan(""));
        m.to = s.beside.value_or(m.to);
      }
  }
  m.text = explain_mend(m);
  return m;
}

void add_cautions(Diagnosis& d, std::span<const Complaint> felt, std::span<const Sighting> seen,
                  double blocks) {
  const bool jams = std::ranges::find(felt, Complaint::jams) != felt.end() ||
                    std::ranges::any_of(seen, [](const Sighting& s) {
                      return !s.value && (s.look == Look::let_off || s.look == Look::drop ||
                                          s.look == Look::aftertouch);
                    });
  const auto moves = [&](Adjuster a, int direction) {
    return d.mend && d.mend->adjuster == a && d.mend->direction == direction;
  };
  // Moves that bring the hammer nearer to being held at the string, and moves that use up
  // aftertouch.
  const bool nearer = moves(Adjuster::let_off_button, -1) || moves(Adjuster::drop_screw, -1) ||
                      moves(Adjuster::jack_button, -1) || moves(Adjuster::repetition_spring, +1);
  const bool uses_up = moves(Adjuster::capstan, -1) || moves(Adjuster::front_punchings, +1) ||
                       moves(Adjuster::balance_punchings, -1) ||
                       moves(Adjuster::lever_height_button, -1);
  if (jams || nearer || blocks > caution_from) d.cautions.push_back(Caution::blocked_hammer);
  if (uses_up) d.cautions.push_back(Caution::lost_escapement);
}

}  // namespace

Result<Diagnosis> diagnose(const ComplaintTable& table, std::span<const Complaint> felt,
                           std::span<const Sighting> seen) {
  if (felt.empty() && seen.empty())
    return problem("Nothing was felt and nothing read.", "Say what is felt, or read something.");
  std::array<bool, complaint_count> is_felt{};
  for (const Complaint c : felt) is_felt[static_cast<std::size_t>(c)] = true;
  std::vector<Seen> looks;
  for (const Sighting& s : seen) {
    auto look = see(table, s);
    if (!look) return tl::unexpected(look.error());
    looks.push_back(*look);
  }

  const std::size_t n = table.entries.size();
  std::vector<double> chances(n);
  double most = -1e300;
  for (std::size_t i = 0; i < n; ++i) {
    const Entry& e = table.entries[i];
    double log = std::log(e.weight);
    // Where nothing was said to be felt, nothing was asked.
    if (!felt.empty()) log += calc_log_mention(e, is_felt);
    for (const Seen& s : looks) log += std::log(calc_likelihood(table, e, s));
    chances[i] = log;
    most = std::max(most, log);
  }
  double all = 0;
  for (double& c : chances) all += c = std::exp(c - most);
  for (double& c : chances) c /= all;

  Diagnosis d;
  d.entropy = calc_entropy(table, chances);
  std::array<double, cause_count> of{};
  double blocks = 0;
  for (std::size_t i = 0; i < n; ++i) {
    of[static_cast<std::size_t>(table.entries[i].cause)] += chances[i];
    blocks += chances[i] * table.entries[i].blocks;
  }
  std::array<std::size_t, cause_count> order{};
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) { return of[a] > of[b]; });
  for (const std::size_t c : order) {
    const auto cause = static_cast<Cause>(c);
    d.ranked.push_back({cause, of[c], {}, {}});
    if (of[c] < worth_telling || c >= listed_cause_count) continue;
    const CauseView view = view_of(table, chances, cause);
    d.ranked.back().because = reason_of(table, view.expected, view.explained, felt, seen);
    d.ranked.back().reason = explain_cause(d.ranked.back().because);
  }
  const RankedCause& first = d.ranked.front();
  d.known =
      static_cast<std::size_t>(first.cause) < listed_cause_count && first.probability >= known_from;

  const auto taken = [&](Look look) {
    return std::ranges::find(seen, look, &Sighting::look) != seen.end();
  };
  for (const LookKind& kind : look_kinds()) {
    if (taken(kind.id)) continue;
    const double after = calc_entropy_after(table, {&kind.id, 1}, chances);
    if (d.entropy - after > least_told) d.next_figures.push_back({kind.id, d.entropy, after});
  }
  std::ranges::stable_sort(d.next_figures, {}, &NextLook::entropy_after);
  for (const TakingKind& kind : taking_kinds()) {
    std::vector<Look> left;
    for (const Look look : kind.looks)
      if (!taken(look)) left.push_back(look);
    if (left.empty()) continue;
    const double after = calc_entropy_after(table, left, chances);
    if (d.entropy - after > least_told) d.next.push_back({kind.id, d.entropy, after});
  }
  std::ranges::stable_sort(d.next, {}, &NextTaking::entropy_after);
  if (d.known) d.mend = mend_of(table, first.cause, view_of(table, chances, first.cause), seen);
  add_cautions(d, felt, seen, blocks);
  d.summary = summarise(d);
  return d;
}

}  // namespace batten
