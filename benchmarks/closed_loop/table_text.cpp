#include "benchmarks/closed_loop/table_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

namespace batten::workshop {
namespace {

using Pianos = std::vector<PianoOutcome>;
using Figure = std::function<double(const Outcome&)>;

double quantile(std::vector<double> v, double share) {
  std::ranges::sort(v);
  const double at = share * static_cast<double>(v.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  const double rest = at - static_cast<double>(below);
  return below + 1 < v.size() ? v[below] + rest * (v[below + 1] - v[below]) : v[below];
}

std::string spread(const std::vector<double>& v, int decimals) {
  return fmt::format("{:.{}f} ({:.{}f}–{:.{}f})", quantile(v, 0.5), decimals, quantile(v, 0.05),
                     decimals, quantile(v, 0.95), decimals);
}

std::vector<double> of(const Pianos& pianos, std::size_t who, const Figure& figure) {
  std::vector<double> v;
  for (const PianoOutcome& p : pianos) v.push_back(figure(p.by[who]));
  return v;
}

std::string row(const Pianos& pianos, const char* name, const Figure& figure, int decimals) {
  std::string text = fmt::format("| {} ", name);
  for (std::size_t w = 0; w < technician_count; ++w)
    text += "| " + spread(of(pianos, w, figure), decimals) + " ";
  return text + "|\n";
}

double notes(const Outcome& o) { return o.after.notes; }

// Share of all notes of all pianos, and over pianos where one in twenty has less.
std::string share_row(const Pianos& pianos, const std::string& name,
                      const std::function<double(const Outcome&)>& count) {
  std::string text = "| " + name + " ";
  for (std::size_t w = 0; w < technician_count; ++w) {
    double sum = 0, all = 0;
    std::vector<double> each;
    for (const PianoOutcome& p : pianos) {
      sum += count(p.by[w]);
      all += notes(p.by[w]);
      each.push_back(100 * count(p.by[w]) / notes(p.by[w]));
    }
    text += fmt::format("| {:.1f} ({:.0f}) ", 100 * sum / all, quantile(each, 0.05));
  }
  return text + "|\n";
}

constexpr const char* head = "| | Batten | by the book | skilled |\n|---|---|---|---|\n";

std::string compare(const Pianos& pianos, std::size_t with, const char* name, const Figure& figure,
                    double most) {
  std::vector<double> ratio;
  int worse = 0;
  for (const PianoOutcome& p : pianos) {
    const double mine = figure(p.by[0]), other = figure(p.by[with]);
    ratio.push_back(mine / std::max(other, 1e-9));
    worse += mine > other ? 1 : 0;
  }
  return fmt::format("| {} | {} | {} | ≤ {:.2f} | {} |\n", name, technician_names[with],
                     spread(ratio, 2), most,
                     fmt::format("{:.0f} %", 100.0 * worse / static_cast<double>(pianos.size())));
}

std::string harms(const Pianos& pianos) {
  std::string text =
      "| | moves | harmful | upper bound | rubs its check | wrong way | of those after a misread | "
      "upper bound |\n|---|---|---|---|---|---|---|---|\n";
  for (std::size_t w = 0; w < technician_count; ++w) {
    Tally all;
    for (const PianoOutcome& p : pianos) {
      const Tally& t = p.by[w].tally;
      all.moves += t.moves;
      all.harmful += t.harmful;
      all.rubbing += t.rubbing;
      all.wrong_way += t.wrong_way;
      all.wrong_way_misread += t.wrong_way_misread;
    }
    const double per = 10'000;
    text += fmt::format("| {} | {} | {} | {:.2f} | {} | {} | {} | {:.2f} |\n", technician_names[w],
                        all.moves, all.harmful, per * upper_bound(all.harmful, all.moves),
                        all.rubbing, all.wrong_way, all.wrong_way_misread,
                        per * upper_bound(all.wrong_way, all.moves));
  }
  return text + "\nUpper bounds are in 10,000 moves.\n";
}

std::string one_truth(const Pianos& pianos) {
  if (pianos.empty()) return "";
  const auto tally = [](auto member) {
    return [member](const Outcome& o) { return static_cast<double>(o.tally.*member); };
  };
  std::string text;
  text += "What it took, median (5–95 % of the pianos):\n\n";
  text += head;
  text += row(pianos, "minutes", tally(&Tally::minutes), 0);
  text += row(pianos, "… reading", tally(&Tally::minutes_reading), 0);
  text += row(pianos, "… turning", tally(&Tally::minutes_turning), 0);
  text += row(pianos, "… taking up tools", tally(&Tally::minutes_set_up), 0);
  text += row(pianos, "… writing down", tally(&Tally::minutes_writing), 0);
  text += row(pianos, "readings by gauge", tally(&Tally::readings), 0);
  text += row(pianos, "readings by eye", tally(&Tally::readings_by_eye), 0);
  text += row(pianos, "moves", tally(&Tally::moves), 0);
  text += row(pianos, "rework", tally(&Tally::rework), 0);
  text += "\nWhat came of it:\n\n";
  text += head;
  text += row(
      pianos, "unevenness as found", [](const Outcome& o) { return o.before.unevenness_all; }, 2);
  text += row(
      pianos, "unevenness in the end", [](const Outcome& o) { return o.after.unevenness_all; }, 2);
  for (std::size_t j = 0; j < judged_count; ++j) {
    const std::string name(kind_of(reading_of(judged_aims[j], Key{1})).name);
    text += row(
        pianos, ("… of " + name).c_str(), [j](const Outcome& o) { return o.after.unevenness[j]; },
        2);
  }
  text += row(
      pianos, "mean aftertouch, mm", [](const Outcome& o) { return o.after.aftertouch; }, 2);
  text +=
      "\nNotes inside both tolerances, per cent of all (one piano in twenty has fewer than):\n\n";
  text += head;
  for (std::size_t j = 0; j < judged_count; ++j) {
    const std::string name(kind_of(reading_of(judged_aims[j], Key{1})).name);
    text += share_row(pianos, name, [j](const Outcome& o) { return o.after.inside[j]; });
  }
  text += share_row(pianos, "all of them", [](const Outcome& o) { return o.after.inside_all; });
  text += "\nBatten over the others, piano by piano:\n\n";
  text +=
      "| | against | ratio, median (5–95 %) | aim | pianos on which Batten is worse |\n"
      "|---|---|---|---|---|\n";
  text += compare(pianos, 1, "rework", tally(&Tally::rework), 0.50);
  text += compare(pianos, 1, "minutes", tally(&Tally::minutes), 0.70);
  text += compare(pianos, 2, "minutes", tally(&Tally::minutes), 0.85);
  text += compare(
      pianos, 2, "unevenness", [](const Outcome& o) { return o.after.unevenness_all; }, 1.0);
  text += compare(
      pianos, 1, "unevenness", [](const Outcome& o) { return o.after.unevenness_all; }, 1.0);
  text += "\nMoves that did harm or went the wrong way, by the truth:\n\n";
  text += harms(pianos);
  return text;
}

// The same pianos under the three technicians are the first so many of the mechanisms.
std::string threshold_text(const LoopResult& result) {
  const std::size_t count = result.thresholds.front().pianos.size();
  std::string text =
      fmt::format("\n## What the thresholds buy, the first {} mechanisms\n\n", count);
  text +=
      "The plan works on a reading, and has it read again, from a chance on that it lies outside "
      "its "
      "tolerance; the program's own is the first row. Means over the pianos.\n\n"
      "| | minutes | readings | moves | rework | unevenness | inside all, % "
      "|\n|---|---|---|---|---|---|---|\n";
  const auto line = [&](const std::string& name, const auto& outcome) {
    double minutes = 0, readings = 0, moves = 0, rework = 0, uneven = 0, inside = 0;
    for (std::size_t i = 0; i < count; ++i) {
      const Outcome& o = outcome(i);
      minutes += o.tally.minutes;
      readings += o.tally.readings + o.tally.readings_by_eye;
      moves += o.tally.moves;
      rework += o.tally.rework;
      uneven += o.after.unevenness_all;
      inside += 100.0 * o.after.inside_all / o.after.notes;
    }
    const auto n = static_cast<double>(count);
    text += fmt::format("| {} | {:.0f} | {:.0f} | {:.0f} | {:.0f} | {:.2f} | {:.0f} |\n", name,
                        minutes / n, readings / n, moves / n, rework / n, uneven / n, inside / n);
  };
  for (const Threshold& t : result.thresholds)
    line(fmt::format("Batten, from {:.2f}, again from {:.2f}", t.act_from, t.reread_from),
         [&](std::size_t i) -> const Outcome& { return t.pianos[i]; });
  for (std::size_t w = 1; w < technician_count; ++w)
    line(technician_names[w],
         [&](std::size_t i) -> const Outcome& { return result.mechanism[i].by[w]; });
  return text;
}

constexpr const char* preamble = R"(# The closed loop

Written by `make bench` (`closed_loop_table`): do not edit.

Invented pianos, whose truth nobody at them knows, are regulated from the first look to the last by three
technicians with the same hands, gauges and noise, and judged by the truth. A figure missed is left
standing here.

**The pianos.** Two kinds of truth, reported apart. *Mechanism*: an action as in docs/theory/action.md, drawn
between two stored profiles; every dimension ±3 % a piano, parts of a note within ±0.7 % (sd 0.25 %, places on
rails 0.1 %), felts' depths ±35 %, frictions ±25 %, masses ±5 %, springs ±8 %; screw pitches ±15 % a piano (uniform)
and 2 % a screw (sd); a string plane with 0.05 mm from string to string; friction that changes overnight (sd 8 %);
hammers that come to rest 0.12 mm (sd) off until they are tapped; own laws of the spring's rise and of the caught
hammer. *Tables*: no mechanism; responses looked up in hand-written tables with steps, bends and backlash, side
effects ±30 %, slopes ±20 % a piano. Both were once set to the usual figures, note by note, and are then worn by
section, from note to note and in outliers (workshop/misregulation.cpp). All laws are estimates.

**The hands.** Standard deviations of a gauge: blow, let-off 0.10 mm, drop 0.12, key height, dip 0.05, aftertouch 0.06,
check 0.4, jack clearance 0.03, strings 0.08; one reading in a hundred is off by four to ten of them. A turn is off
by 3 % and 1/128 turn, a bend by 10 %, a paper by 0.01 mm. Minutes a reading, a turn, a tool taken up and a walk:
workshop/hands.hpp. Batten's technician also writes every figure and every move down (0.04 minutes each), which the
others do not.

**The technicians.** *By the book*: common-practice order, the trade's millimetres a turn, the maker's figures, every
note by gauge until it is right, rounds until a round finds nearly nothing or no less than the one before. *Skilled*:
samples by gauge, dip chosen there, this piano's turn after three screws, the rest by eye (0.15 mm), spot checks.
*Batten*: begins with a few notes of each section, sets dip and aftertouch targets by the action ratio found there,
likens the nearest stored profile's ratio to it, and then does what the plan says, pass after pass; the plan is made
again after every thirty-two moves and every list of readings. (The full fit and brief take seconds and are left out here.)

**The judge.** Inside: within the absolute tolerance of the technician's own target *and* within the tolerance against
the neighbours' line (straight, four on either side, robust). Unevenness: root mean square against the section's fair
curve, in tolerances against neighbours. Rework: moves after the first on the same adjuster of the same note. Harmful: a
note that let go is blocked, carried by the lever or without escapement after the move. Wrong way: the truth lay more than
two standard deviations of a reading from the move's goal, and the move set out away from it.

)";

}  // namespace

double upper_bound(int seen, double tried) {
  if (tried <= 0) return 1;
  // Mean at which so few are seen once in twenty.
  double low = seen, high = seen + 10 + 5 * std::sqrt(seen + 1.0);
  for (int i = 0; i < 60; ++i) {
    const double mean = (low + high) / 2;
    double term = std::exp(-mean), sum = term;
    for (int k = 1; k <= seen; ++k) sum += term *= mean / k;
    (sum > 0.05 ? low : high) = mean;
  }
  return low / tried;
}

std::string table_text(const LoopResult& result) {
  std::string text = preamble;
  text += fmt::format("## Mechanism, {} pianos\n\n", result.mechanism.size());
  text += one_truth(result.mechanism);
  text += fmt::format("\n## Tables, {} pianos\n\n", result.table.size());
  text += one_truth(result.table);
  if (!result.thresholds.empty() && !result.thresholds.front().pianos.empty())
    text += threshold_text(result);
  return text;
}

}  // namespace batten::workshop
