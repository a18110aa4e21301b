#include "core/regulation/handover/telling.hpp"

#include <algorithm>
#include <utility>

namespace batten {

namespace {

std::string_view hold_word(Hold::Reason reason) {
  switch (reason) {
    case Hold::Reason::could_block:
      return "page.hold.could-block";
    case Hold::Reason::could_not_let_go:
      return "page.hold.could-not-let-go";
    case Hold::Reason::could_be_carried:
      return "page.hold.could-be-carried";
    case Hold::Reason::could_trap:
      return "page.hold.could-trap";
    case Hold::Reason::could_rub:
      return "page.hold.could-rub";
    case Hold::Reason::beyond_limit:
      return "page.hold.beyond-limit";
    case Hold::Reason::response_doubted:
      return "page.hold.response-doubted";
    case Hold::Reason::direction_unsure:
      return "page.hold.direction-unsure";
    case Hold::Reason::lacking:
      return "page.hold.lacking";
  }
  return "page.why.held";
}

std::string dates(const HandoverFacts& facts, const Said& said) {
  if (!facts.from && !facts.to) return {};
  const CivilDay from = facts.from.value_or(facts.to.value_or(CivilDay{}));
  const CivilDay to = facts.to.value_or(from);
  if (from == to) return said.day(to);
  return said.words("page.dates", {{"from", said.day(from)}, {"to", said.day(to)}});
}

}  // namespace

std::vector<const NoteAccount*> compared_notes(const Account& account, Reading reading) {
  std::vector<const NoteAccount*> notes;
  for (const NoteAccount& n : account.notes)
    if (n.reading == reading && n.as_found && n.known()) notes.push_back(&n);
  std::ranges::sort(notes, {}, [](const NoteAccount* n) { return n->key; });
  return notes;
}

namespace handover {

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
  std::string text;
  for (const std::string& part : parts) {
    if (part.empty()) continue;
    if (!text.empty()) text += between;
    text += part;
  }
  return text;
}

std::string first_and_last(const Said& said, const OtherAccount& o) {
  const std::string first = said.value(o.reading, o.first), last = said.value(o.reading, o.last);
  if (o.times < 2 || first == last) return last;
  return said.words("page.first_last", {{"first", first}, {"last", last}});
}

std::vector<PageItem> head_of(const HandoverFacts& facts, const Said& said) {
  std::vector<PageItem> head;
  if (const std::string where = joined({facts.place, facts.visit, dates(facts, said)}, " · ");
      !where.empty())
    head.push_back({"", where});
  if (!facts.who.empty()) head.push_back({said.words("page.by"), joined(facts.who)});
  std::vector<std::string> room;
  for (const OtherAccount& o : facts.account.others)
    if (!o.key && (o.reading == Reading::humidity || o.reading == Reading::temperature))
      room.push_back(name_of(said.language(), o.reading) + " " + first_and_last(said, o));
  head.push_back({said.words("page.room"),
                  room.empty() ? said.words("page.room.unread") : joined(room, " · ")});
  return head;
}

std::string note_or_all(const Said& said, const std::optional<Key>& key) {
  return key ? Said::note(*key) : said.words("page.all_notes");
}

std::string why_outside(const Said& said, const StillOutside& one) {
  switch (one.why) {
    case StillOutside::Why::skipped:
      return said.words(
          "page.why.skipped",
          {{"reason", one.skip ? std::get<MoveSkipped>(one.skip->content).reason : "–"}});
    case StillOutside::Why::held:
      return said.words(one.hold ? hold_word(one.hold->reason) : "page.why.held");
    case StillOutside::Why::to_do:
      return said.words("page.why.to-do");
    case StillOutside::Why::no_move:
      return said.words("page.why.no-move");
  }
  return {};
}

std::string state_of(const Said& said, const PreparationGate::Item& item) {
  if (!item.record) return said.words("page.state.none");
  if (item.earlier_visit) return said.words("page.state.earlier");
  switch (item.record->state) {
    case PreparationState::wanting:
      return said.words("page.state.wanting");
    case PreparationState::found:
      return said.words("page.state.found");
    case PreparationState::done:
      return said.words("page.state.done");
    case PreparationState::waived:
      return said.words("page.state.waived", {{"reason", item.record->reason}});
  }
  return {};
}

PageBlock heading(std::string text) {
  PageBlock b;
  b.kind = BlockKind::heading;
  b.text = std::move(text);
  return b;
}
PageBlock subheading(std::string text) {
  PageBlock b = heading(std::move(text));
  b.kind = BlockKind::subheading;
  return b;
}
PageBlock text(std::string text, std::string lead) {
  PageBlock b;
  b.text = std::move(text);
  b.lead = std::move(lead);
  return b;
}

}  // namespace handover

}  // namespace batten
