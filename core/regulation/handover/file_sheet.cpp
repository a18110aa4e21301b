#include "core/regulation/handover/telling.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace batten {

using namespace handover;

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();

void add_list(const Said& said, std::string title, std::vector<PageItem> items,
              ComposedPage& page) {
  page.blocks.push_back(heading(std::move(title)));
  if (items.empty()) {
    page.blocks.push_back(text(said.words("page.none")));
    return;
  }
  PageBlock list{.kind = BlockKind::list};
  list.items = std::move(items);
  page.blocks.push_back(std::move(list));
}

void add_conditions(const HandoverFacts& facts, const Said& said, ComposedPage& page) {
  std::vector<PageItem> items;
  for (const OtherAccount& o : facts.account.others)
    items.push_back({said.heading(o.reading) + (o.key ? " " + Said::note(*o.key) : ""),
                     first_and_last(said, o)});
  add_list(said, said.words("page.conditions"), std::move(items), page);
  items.clear();
  for (const auto& g : facts.gauges) {
    std::vector<std::string> names;
    for (const Reading r : g.readings) names.push_back(name_of(said.language(), r));
    items.push_back({g.name, joined(names)});
  }
  page.blocks.push_back(heading(said.words("page.gauges")));
  if (items.empty()) {
    page.blocks.push_back(text(said.words("page.gauges.none")));
    return;
  }
  PageBlock list{.kind = BlockKind::list};
  list.items = std::move(items);
  page.blocks.push_back(std::move(list));
}

// The first note of a section, from its end where `up` is false, that is a sharp or is none.
std::optional<Key> end_of(const Section& s, bool sharp, bool up) {
  for (int i = 0; i < s.count(); ++i) {
    const Key key{up ? s.first.number + i : s.last.number - i};
    if (is_sharp(key) == sharp) return key;
  }
  return std::nullopt;
}

// Targets by section: "46.0" or "46.0–45.6".
void add_brief(const HandoverFacts& facts, const Said& said, ComposedPage& page) {
  page.blocks.push_back(heading(said.words("page.brief")));
  PageBlock table{.kind = BlockKind::table};
  table.columns.push_back("");
  for (const Section& s : facts.sections)
    table.columns.push_back(Said::note(s.first) + "–" + Said::note(s.last));
  for (const Aim aim : all_aims)
    for (const bool sharp : {false, true}) {
      const Key any{sharp ? 38 : 40};  // C♯4… and C4: only their colour matters
      const Reading reading = reading_of(aim, any);
      if (sharp && reading == reading_of(aim, Key{40})) continue;
      PageRow row;
      std::string head = said.heading(reading);
      if (const std::string unit = said.unit(reading); !unit.empty())
        head.append(", ").append(unit);
      row.cells.push_back(std::move(head));
      bool known = false;
      for (const Section& s : facts.sections) {
        const auto first = end_of(s, sharp, true), last = end_of(s, sharp, false);
        const auto a = first ? facts.targets.at(aim, *first) : std::nullopt;
        const auto b = last ? facts.targets.at(aim, *last) : std::nullopt;
        known = known || a || b;
        const std::string from = said.bare(reading, a.value_or(none));
        const std::string to = said.bare(reading, b.value_or(none));
        row.cells.push_back(from == to ? from : std::string(from).append("–").append(to));
      }
      if (known) table.rows.push_back(std::move(row));
    }
  page.blocks.push_back(std::move(table));
}

void add_preparation(const HandoverFacts& facts, const Said& said, ComposedPage& page) {
  std::vector<PageItem> items;
  for (const auto& item : facts.gate.items) {
    std::string state = state_of(said, item);
    if (!item.wanting_notes.empty())
      state +=
          " (" + said.words("page.state.wanting") + ": " + Said::notes(item.wanting_notes) + ")";
    items.push_back({capital(name_of(said.language(), item.item)), std::move(state)});
  }
  add_list(said, said.words("page.preparation"), std::move(items), page);
}

void add_moves(const HandoverFacts& facts, const Said& said, ComposedPage& page) {
  std::vector<PageItem> items;
  for (const AdjusterAccount& a : facts.account.moves) {
    std::vector<std::string> notes;
    for (const NoteMoves& m : facts.account.moves_of_note)
      if (m.adjuster == a.adjuster)
        notes.push_back((m.key ? Said::note(*m.key) + " " : "") +
                        direction_of(said.language(), a.adjuster, m.amount) + " " +
                        said.amount(a.adjuster, m.amount));
    items.push_back(
        {said.heading(a.adjuster) + " (" + said.count("page.moves.count", a.moves) + ")",
         joined(notes, "; ")});
  }
  add_list(said, said.words("page.moves"), std::move(items), page);
}

void add_outside(const HandoverFacts& facts, const Said& said, ComposedPage& page) {
  // By reading and reason; what is wanted and the tolerance stand in the reading's own table.
  std::vector<PageItem> items;
  for (const StillOutside& o : facts.account.outside) {
    const Reading r = o.note.reading;
    const std::string unit = said.unit(r);
    const std::string lead =
        said.heading(r) + (unit.empty() ? "" : ", " + unit) + " – " + why_outside(said, o) + ":";
    auto one = std::ranges::find(items, lead, &PageItem::lead);
    if (one == items.end()) one = items.insert(items.end(), {lead, ""});
    // A note and its figure stay in one line: no-break spaces.
    one->text.append(one->text.empty() ? "" : ";  ").append(Said::note(o.note.key));
    one->text.append("\u00a0").append(o.note.basis == Basis::reckoned ? "≈\u00a0" : "");
    one->text.append(said.bare(r, o.note.now));
  }
  add_list(said, said.words("page.outside"), std::move(items), page);
  items.clear();
  for (const Entry& e : facts.account.skips) {
    const auto& skip = std::get<MoveSkipped>(e.content);
    items.push_back({note_or_all(said, skip.note) + ", " + name_of(said.language(), skip.adjuster),
                     skip.reason});
  }
  add_list(said, said.words("page.skipped"), std::move(items), page);
  items.clear();
  for (const auto& r : facts.remarks)
    items.push_back({r.key ? Said::note(*r.key) : "", r.text + " (" + said.day(r.day) + ")"});
  add_list(said, said.words("page.remarks"), std::move(items), page);
}

std::string first_words(const Said& said, const NoteAccount& n) {
  if (!n.first) return "–";
  const std::string value = said.bare(n.reading, *n.first);
  return (n.as_found ? value : "(" + value + ")") + (n.outside_at_first() ? " !" : "");
}

std::string now_words(const Said& said, const NoteAccount& n) {
  if (n.basis == Basis::unread) return "–";
  const std::string sign = n.basis == Basis::reckoned  ? "≈ "
                           : n.basis == Basis::earlier ? "° "
                                                       : "";
  return sign + said.bare(n.reading, n.now) + (n.doubted ? " ?" : "") +
         (n.outside_now() ? " !" : "");
}

void add_reading(const ReadingAccount& r, const HandoverFacts& facts, const Said& said,
                 ComposedPage& page) {
  PageBlock table{.kind = BlockKind::table};
  table.columns = {said.words("page.column.note"), said.words("page.column.wanted"),
                   said.words("page.column.first"), said.words("page.column.now")};
  double tolerance = none, beside = none;
  for (const NoteAccount& n : facts.account.notes) {
    if (n.reading != r.reading) continue;
    tolerance = n.tolerance;
    beside = n.neighbour_tolerance;
    if (n.basis == Basis::unread) continue;
    table.rows.push_back({{Said::note(n.key), said.bare(n.reading, n.target), first_words(said, n),
                           now_words(said, n)},
                          "",
                          n.outside_now()});
  }
  if (table.rows.empty()) return;
  const std::string unit = said.unit(r.reading);
  page.blocks.push_back(subheading(
      unit.empty() ? said.heading(r.reading)
                   : said.words("page.reading.heading",
                                {{"reading", said.heading(r.reading)}, {"unit", unit}})));
  page.blocks.push_back(
      text(said.words("page.reading.line",
                      {{"as_found", std::to_string(r.as_found)},
                       {"asked", std::to_string(r.asked)},
                       {"read", std::to_string(r.now_read)},
                       {"reckoned", std::to_string(r.now_reckoned)},
                       {"tolerance", "±\u00a0" + said.spread(r.reading, tolerance)},
                       {"beside", "±\u00a0" + said.spread(r.reading, beside)},
                       {"found", r.found.notes > 0 ? said.spread(r.reading, r.found.rms) : "–"},
                       {"now", r.now.notes > 0 ? said.spread(r.reading, r.now.rms) : "–"}})));
  page.blocks.push_back(std::move(table));
}

}  // namespace

ComposedPage compose_file_sheet(const HandoverFacts& facts, PageStyle style) {
  const Said said(style);
  ComposedPage page;
  page.title = facts.piano;
  page.language = style.language;
  page.name = said.words("page.file.name");
  page.head = head_of(facts, said);
  page.compass = facts.compass;
  add_conditions(facts, said, page);
  add_brief(facts, said, page);
  add_preparation(facts, said, page);
  add_moves(facts, said, page);
  add_outside(facts, said, page);
  page.blocks.push_back(heading(said.words("page.readings")));
  const bool any = std::ranges::any_of(
      facts.account.notes, [](const NoteAccount& n) { return n.basis != Basis::unread; });
  if (any) {
    PageBlock legend{.kind = BlockKind::quiet};
    legend.text = said.words("page.legend") + "\n" +
                  said.words(facts.profile_chosen ? "page.model" : "page.model.stand_in",
                             {{"profile", facts.profile}});
    page.blocks.push_back(std::move(legend));
    for (const ReadingAccount& r : facts.account.readings) add_reading(r, facts, said, page);
  } else {
    page.blocks.push_back(text(said.words("page.readings.none")));
  }
  PageBlock sign{.kind = BlockKind::sign};
  sign.text = said.words("page.sign");
  page.blocks.push_back(std::move(sign));
  return page;
}

}  // namespace batten
