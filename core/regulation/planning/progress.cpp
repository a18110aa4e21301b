#include "core/regulation/planning/progress.hpp"

#include "core/regulation/planning/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace batten {
namespace {

struct Content {
  std::string operator()(const ReadingTaken& r) const {
    return (r.note ? note_name(*r.note) + " " : "") + std::string(kind_of(r.reading).name);
  }
  std::string operator()(const MoveMade& m) const {
    return (m.note ? note_name(*m.note) + " " : "") + std::string(kind_of(m.adjuster).name);
  }
  std::string operator()(const MoveSkipped& m) const {
    return (m.note ? note_name(*m.note) + " " : "") + std::string(kind_of(m.adjuster).name);
  }
  std::string operator()(const Remark&) const { return "a remark"; }
  std::string operator()(const auto&) const { return ""; }
};

std::string count(int n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string ago(std::int64_t ms) {
  constexpr double hour = 3'600'000.0;
  const double hours = static_cast<double>(ms) / hour;
  if (hours < 0.25) return "just now";
  if (hours < 1.5) return fmt::format("{:.0f} minutes ago", 60 * hours);
  if (hours < 36) return fmt::format("{:.0f} hours ago", hours);
  if (hours < 24 * 14) return fmt::format("{:.0f} days ago", hours / 24);
  if (hours < 24 * 90) return fmt::format("{:.0f} weeks ago", hours / 24 / 7);
  return fmt::format("{:.0f} months ago", hours / 24 / 30.44);
}

std::string list(const std::vector<std::string>& parts) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i)
    text += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
  return text;
}

// "2 readings and 1 move"
std::string work(int reads, int moves) {
  std::vector<std::string> parts;
  if (reads > 0) parts.push_back(count(reads, "reading", "readings"));
  if (moves > 0) parts.push_back(count(moves, "move", "moves"));
  return list(parts);
}

std::string done_words(const JobProgress& progress) {
  std::vector<std::string> finished, half;
  for (const PassProgress& p : progress.passes) {
    const std::string name(pass_name(p.adjuster));
    const int touched = p.turned + p.skipped;
    if (p.finished())
      finished.push_back(fmt::format("{} ({})", name, count(touched, "note", "notes")));
    else if (p.begun())
      half.push_back(p.moves_left > 0
                         ? fmt::format("{} ({} of {} notes)", name, touched, touched + p.moves_left)
                         : fmt::format("{} ({} turned, {} to read)", name, touched, p.reads_left));
  }
  std::string text;
  if (!finished.empty()) text += list(finished) + (finished.size() == 1 ? " is done" : " are done");
  if (!half.empty())
    text += (text.empty() ? "" : "; ") + list(half) +
            (half.size() == 1 ? " is under way" : " are under way");
  return text.empty() ? "nothing is turned yet in this visit" : text;
}

}  // namespace

std::string print_minutes(double minutes) {
  const double rounded = minutes > 120 ? 5 * std::round(minutes / 5) : std::ceil(minutes - 1e-9);
  const auto whole = static_cast<long>(rounded);
  if (whole < 60) return fmt::format("{} min", whole);
  if (whole % 60 == 0) return fmt::format("{} h", whole / 60);
  return fmt::format("{} h {} min", whole / 60, whole % 60);
}

JobProgress calc_progress(const Plan& plan, const Standing& standing, std::int64_t now_ms) {
  JobProgress progress;
  const Entry* last = nullptr;
  for (const auto* entries :
       {&standing.readings, &standing.moves, &standing.remarks, &standing.skips})
    for (const Entry& e : *entries)
      if (last == nullptr || e.at_ms >= last->at_ms) last = &e;
  if (last != nullptr) {
    progress.since_ms = std::max<std::int64_t>(0, now_ms - last->at_ms);
    progress.last = std::visit(Content{}, last->content);
  }
  for (const Adjuster adjuster : plan.order.derived) {
    PassProgress p;
    p.adjuster = adjuster;
    for (const NoteState& note : plan.situation.notes) {
      p.turned += note.moves[index_of(adjuster)] > 0 ? 1 : 0;
      p.skipped += note.skipped[index_of(adjuster)] && note.moves[index_of(adjuster)] == 0 ? 1 : 0;
    }
    for (const Pass& pass : plan.passes) {
      if (pass.adjuster != adjuster) continue;
      p.moves_left = pass.moves;
      p.reads_left = pass.readings;
      p.minutes_left = pass.minutes;
    }
    progress.moves_left += p.moves_left;
    progress.reads_left += p.reads_left;
    progress.minutes_left += p.minutes_left;
    if (p.begun() || p.moves_left + p.reads_left > 0) progress.passes.push_back(p);
  }
  return progress;
}

std::string progress_words(const Plan& plan, const JobProgress& progress) {
  const auto missing =
      std::ranges::count_if(plan.gate.items, [](const auto& item) { return !item.passed; });
  std::string first;
  if (!progress.since_ms)
    first = "Nothing has been read or turned yet.";
  else
    first = fmt::format("The last entry, {}, was made {}: {}.", progress.last,
                        ago(*progress.since_ms), done_words(progress));
  if (!plan.gate.open)
    return first + fmt::format(
                       " First {} of the preparation {} to be looked at: nothing is turned "
                       "before.",
                       count(static_cast<int>(missing), "item", "items"),
                       missing == 1 ? "has" : "have");
  const PassProgress* next = nullptr;
  for (const PassProgress& p : progress.passes)
    if (next == nullptr && p.moves_left + p.reads_left > 0) next = &p;
  if (next == nullptr)
    return first +
           " Nothing is left to read or to turn: every reading asked for lies inside its "
           "tolerance as surely as is asked.";
  const bool only = progress.minutes_left - next->minutes_left < 0.5;
  return first +
         fmt::format(
             " Next comes the {}: {}, about {}{}.", pass_name(next->adjuster),
             work(next->reads_left, next->moves_left), print_minutes(next->minutes_left),
             only ? ", and then all is done"
                  : " of the " + print_minutes(progress.minutes_left) + " that are left in all");
}

}  // namespace batten
