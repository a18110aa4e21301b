#include "cli/history_text.hpp"

#include "app/line_job.hpp"
#include "app/readings.hpp"
#include "cli/terminal.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/preparation.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <fmt/format.h>

#include <cmath>

namespace batten::cli {

namespace {

std::string at(const std::optional<Key>& note) {
  return note ? note_name(*note) + " " : std::string();
}
std::string because(const std::string& text) { return text.empty() ? text : " (" + text + ")"; }

std::string amount_text(const MoveMade& m, const AdjusterKind& kind) {
  const double size = std::abs(m.amount);
  switch (kind.unit) {
    // Recorded turns may be finer than a hand's step; 1/256 shows every one that could be typed.
    case MoveUnit::turns:
      return print_turns(size * turn, 256);
    case MoveUnit::millimetres:
      return print_millimetres(size * millimetre);
    case MoveUnit::bend_steps:
      return print_number(size, {.decimals = 1}) + " steps";
  }
  return {};
}

struct Words {
  std::string operator()(const ReadingTaken& r) const {
    std::string text = at(r.note) + std::string(kind_of(r.reading).name) + " " +
                       print_reading(r.reading, r.value) + " ± " +
                       print_reading(r.reading, r.uncertainty);
    return r.gauge.empty() ? text : text + ", gauge " + r.gauge;
  }
  std::string operator()(const MoveMade& m) const {
    const AdjusterKind& kind = kind_of(m.adjuster);
    return at(m.note) + std::string(kind.name) + ": " +
           std::string(m.amount < 0 ? kind.negative : kind.positive) + " " + amount_text(m, kind) +
           because(m.remark);
  }
  std::string operator()(const MoveSkipped& s) const {
    return at(s.note) + std::string(kind_of(s.adjuster).name) + ": left" + because(s.reason);
  }
  std::string operator()(const PreparationNoted& p) const {
    return at(p.note) + std::string(kind_of(p.item).name) + ": " +
           std::string(state_code(p.state)) + because(p.reason);
  }
  std::string operator()(const SettingChosen& s) const {
    return "setting " + s.name + ": " + s.value;
  }
  std::string operator()(const Remark& r) const { return at(r.note) + "remark: " + r.text; }
  std::string operator()(const Undo& u) const {
    return "took back " + to_text(u.entry).substr(0, 8);
  }
};

}  // namespace

std::string entry_text(const EntryContent& content) { return std::visit(Words{}, content); }

std::string history_text(const std::vector<HistoryLine>& lines) {
  std::string out;
  const std::string* visit = nullptr;
  for (const HistoryLine& h : lines) {
    if (visit == nullptr || *visit != h.visit_title) {
      out += inked("Visit: " + h.visit_title, Ink::strong) + "\n";
      visit = &h.visit_title;
    }
    out += fmt::format("  {}  {}  {}{}{}\n", print_clock(h.entry.at_ms),
                       to_text(h.entry.id).substr(0, 8), entry_text(h.entry.content),
                       h.entry.who.empty() ? "" : "  — " + h.entry.who,
                       h.in_force ? "" : "  [taken back]");
  }
  return out;
}

}  // namespace batten::cli
