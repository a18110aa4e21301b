#include "core/regulation/handover/feel.hpp"
#include "core/regulation/handover/telling.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <utility>

namespace batten {

using namespace handover;

namespace {

constexpr std::size_t most_farthest = 2;
constexpr std::size_t most_named = 6;  // notes; all of them are on the sheet for the file
// How soon blocks give way where there is no room, the highest first.
enum Rank : int {
  never,
  first_strip,
  touch_rows,
  legends,
  expectations,
  left,
  readings,
  signature,
};

void add_words(const HandoverFacts& facts, const Said& said, ComposedPage& page) {
  if (facts.owner_words.empty()) return;
  page.blocks.push_back(heading(said.words("page.words")));
  page.blocks.push_back(text(facts.owner_words));
}

void add_found(const HandoverFacts& facts, const Said& said, ComposedPage& page) {
  page.blocks.push_back(heading(said.words("page.found")));
  std::set<Key> notes;
  int read = 0, outside = 0;
  for (const NoteAccount& n : facts.account.notes) {
    if (!n.as_found) continue;
    notes.insert(n.key);
    ++read;
    outside += n.outside_at_first() ? 1 : 0;
  }
  if (read == 0) {
    page.blocks.push_back(text(said.words("page.found.none")));
    return;
  }
  std::string intro =
      said.words("page.found.intro", {{"read", std::to_string(read)},
                                      {"notes", std::to_string(notes.size())},
                                      {"keys", std::to_string(facts.compass.count())},
                                      {"outside", std::to_string(outside)}});
  std::vector<const ReadingAccount*> worst;
  for (const ReadingAccount& r : facts.account.readings)
    if (r.found.outside > 0) worst.push_back(&r);
  std::ranges::stable_sort(worst, std::ranges::greater{}, [](const ReadingAccount* r) {
    return r->found.rms_tolerances * std::sqrt(static_cast<double>(r->found.outside));
  });
  intro += " " + said.words(worst.empty() ? "page.found.all_well" : "page.found.farthest");
  page.blocks.push_back(text(std::move(intro)));
  if (worst.empty()) return;
  if (worst.size() > most_farthest) worst.resize(most_farthest);
  PageBlock list{.kind = BlockKind::list};
  for (const ReadingAccount* r : worst)
    list.items.push_back(
        {said.heading(r->reading),
         said.words(
             "page.found.item",
             {{"what", meaning_of(said, r->reading)},
              {"outside", std::to_string(r->found.outside)},
              {"read", std::to_string(r->found.notes)},
              {"tolerance", "±\u00a0" + said.spread(r->reading, tolerance_of(facts, r->reading))},
              {"off", said.spread(r->reading, r->found.rms)}})});
  page.blocks.push_back(std::move(list));
}

void add_done(const HandoverFacts& facts, const Said& said, ComposedPage& page) {
  page.blocks.push_back(heading(said.words("page.done")));
  std::vector<std::string> prepared;
  for (const auto& item : facts.gate.items)
    if (item.record && item.record->state == PreparationState::done && !item.earlier_visit)
      prepared.push_back(name_of(said.language(), item.item));
  if (!prepared.empty())
    page.blocks.push_back(text(said.words("page.done.prepared", {{"list", joined(prepared)}})));
  if (facts.account.moves.empty()) {
    page.blocks.push_back(text(said.words("page.done.none")));
    return;
  }
  int moves = 0;
  std::vector<std::string> parts;
  for (const AdjusterAccount& a : facts.account.moves) {
    moves += a.moves;
    const std::string name = name_of(said.language(), a.adjuster);
    const bool of_notes = kind_of(a.adjuster).scope == Scope::per_note;
    parts.push_back(of_notes ? said.count("page.done.part", a.notes, {{"adjuster", name}})
                             : said.words("page.done.part_piano", {{"adjuster", name}}));
  }
  page.blocks.push_back(text(said.count("page.done.moves", moves, {{"list", joined(parts)}})));
}

// What still lies outside, by reading and reason: name of the reading, then what is said.
void add_outside(const HandoverFacts& facts, const Said& said, std::vector<PageItem>& items) {
  struct Group {
    Reading reading;
    std::string why;
    std::vector<Key> keys;
  };
  std::vector<Group> groups;
  for (const StillOutside& o : facts.account.outside) {
    const std::string why = why_outside(said, o);
    auto group = std::ranges::find_if(
        groups, [&](const Group& g) { return g.reading == o.note.reading && g.why == why; });
    if (group == groups.end()) group = groups.insert(groups.end(), {o.note.reading, why, {}});
    group->keys.push_back(o.note.key);
  }
  std::ranges::stable_sort(groups, std::ranges::greater{},
                           [](const Group& g) { return g.keys.size(); });
  for (Group& g : groups) {
    std::ranges::sort(g.keys);
    const auto count = static_cast<long>(g.keys.size());
    const auto reading =
        std::ranges::find(facts.account.readings, g.reading, &ReadingAccount::reading);
    const int asked =
        reading == facts.account.readings.end() ? static_cast<int>(count) : reading->asked;
    items.push_back({said.heading(g.reading),
                     g.keys.size() > most_named
                         ? said.words("page.left.many", {{"count", std::to_string(count)},
                                                         {"asked", std::to_string(asked)},
                                                         {"why", g.why}})
                         : said.count("page.left.outside", count,
                                      {{"notes", Said::notes(g.keys)}, {"why", g.why}})});
  }
}

void add_left(const HandoverFacts& facts, const Said& said, ComposedPage& page) {
  page.blocks.push_back(heading(said.words("page.left")));
  PageBlock list{.kind = BlockKind::list, .rank = left, .least = 2};
  // Readings alone are wishes of the plan, no work the owner waits for.
  if (facts.moves_left > 0)
    list.items.push_back(
        {said.words("page.left.steps"),
         said.words("page.left.steps.text", {{"readings", std::to_string(facts.readings_left)},
                                             {"moves", std::to_string(facts.moves_left)},
                                             {"minutes", said.minutes(facts.minutes_left)}})});
  for (const Entry& e : facts.account.skips) {
    const auto& skip = std::get<MoveSkipped>(e.content);
    list.items.push_back({said.heading(skip.adjuster),
                          said.words("page.left.skip", {{"note", note_or_all(said, skip.note)},
                                                        {"reason", skip.reason}})});
  }
  add_outside(facts, said, list.items);
  for (const auto& item : facts.gate.items)
    if (!item.passed || (item.record && item.record->state == PreparationState::waived) ||
        !item.wanting_notes.empty())
      list.items.push_back({capital(name_of(said.language(), item.item)), state_of(said, item)});
  std::vector<std::string> unread;
  for (const ReadingAccount& r : facts.account.readings)
    if (r.read == 0) unread.push_back(name_of(said.language(), r.reading));
  if (!unread.empty())
    list.items.push_back({said.words("page.left.unread"),
                          said.words("page.left.unread.text", {{"list", joined(unread)}})});
  if (list.items.empty())
    page.blocks.push_back(text(said.words("page.left.none")));
  else
    page.blocks.push_back(std::move(list));
}

void add_expect(const HandoverFacts& facts, const Said& said, ComposedPage& page) {
  page.blocks.push_back(heading(said.words("page.expect")));
  const auto item = [&](std::string_view key, int rank) {
    PageBlock list{.kind = BlockKind::list, .rank = rank, .least = 1};
    list.items.push_back({"", said.words(key)});
    // Whole or not at all: it stands on no other sheet.
    list.whole = true;
    page.blocks.push_back(std::move(list));
  };
  item("page.expect.season", never);
  if (!facts.account.moves.empty()) item("page.expect.felt", expectations);
  PageBlock basis{.kind = BlockKind::quiet};
  basis.text = said.words("page.expect.basis");
  page.blocks.push_back(std::move(basis));
  PageBlock call{.kind = BlockKind::caution};
  call.lead = said.words("page.expect.call");
  call.text = said.words("page.expect.call.text");
  page.blocks.push_back(std::move(call));
}

std::string month_of(const Said& said, const CivilDay& day) {
  return month_in(said.language(), day.year, day.month);
}

std::string come_back_words(const ComeBack& back, const Said& said) {
  const std::string limit = said.number(back.limit * 100, 0);
  std::string text;
  switch (back.state) {
    case ComeBack::State::due_at:
      text = said.words("page.next.due", {{"month", month_of(said, back.day)}, {"limit", limit}});
      if (back.low && back.high)
        text += " " + said.words("page.next.span", {{"low", month_of(said, *back.low)},
                                                    {"high", month_of(said, *back.high)}});
      else if (back.low)
        text += " " + said.words("page.next.not_before", {{"low", month_of(said, *back.low)}});
      break;
    case ComeBack::State::overdue:
      text = said.words("page.next.overdue", {{"limit", limit}});
      break;
    case ComeBack::State::beyond:
      text = said.words("page.next.beyond", {{"limit", limit}});
      break;
    case ComeBack::State::unknown:
      return {};
  }
  if (back.visits < 2) text += " " + said.words("page.next.one_visit");
  return text;
}

void add_next(const HandoverFacts& facts, const Said& said, ComposedPage& page) {
  page.blocks.push_back(heading(said.words("page.next")));
  const std::string reckoned = facts.come_back ? come_back_words(*facts.come_back, said) : "";
  if (!facts.next_visit.empty()) page.blocks.push_back(text(facts.next_visit));
  if (!reckoned.empty()) page.blocks.push_back(text(reckoned));
  if (facts.next_visit.empty() && reckoned.empty())
    page.blocks.push_back(text(said.words("page.next.none")));
}

}  // namespace

ComposedPage compose_owner_page(const HandoverFacts& facts, PageStyle style) {
  const Said said(style);
  ComposedPage page;
  page.title = facts.piano;
  page.language = style.language;
  page.name = said.words("page.owner.name");
  page.head = head_of(facts, said);
  page.compass = facts.compass;
  page.before = said.words("page.before");
  page.after = said.words("page.after");
  add_words(facts, said, page);
  add_found(facts, said, page);
  add_done(facts, said, page);
  add_feel(facts, said, {touch_rows, readings, first_strip, legends}, page);
  add_left(facts, said, page);
  add_expect(facts, said, page);
  add_next(facts, said, page);
  PageBlock sign{.kind = BlockKind::sign, .rank = signature};
  sign.text = said.words("page.sign");
  page.blocks.push_back(std::move(sign));
  return page;
}

}  // namespace batten
