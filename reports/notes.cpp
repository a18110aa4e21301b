#include "reports/notes.hpp"

#include "core/regulation/catalogue/cautions.hpp"
#include "core/regulation/catalogue/preparation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace batten::paper {
namespace {

constexpr double item_gap = 5;

std::vector<Key> with_verdict(const Line& line, Verdict verdict) {
  std::vector<Key> keys;
  for (const NoteLine& note : line.notes) {
    if (note.verdict == verdict) keys.push_back(note.key);
  }
  return keys;
}

// A tick box and its words beside it.
void flow_ticked(Flow& flow, const std::string& lead, const std::string& words) {
  const double indent = tick_size + 7;
  const double height =
      std::max(flow.page().paragraph_height(flow.width() - indent, lead, words), tick_size);
  flow.need(height);
  flow.page().tick_box(flow.left(), flow.y);
  flow.page().paragraph(flow.left() + indent, flow.y + 0.5, flow.width() - indent, lead, words);
  flow.y += height + item_gap;
}

void flow_words(Flow& flow, const std::string& lead, const std::string& words) {
  const double height = flow.page().paragraph_height(flow.width(), lead, words);
  flow.need(height);
  flow.page().paragraph(flow.left(), flow.y, flow.width(), lead, words);
  flow.y += height + item_gap;
}

struct Words {
  std::string lead, rest;
};

Words words_of(const Finding& finding, Units units) {
  const std::string note = note_label(finding.key);
  if (finding.kind == Finding::Kind::unison_off_level) {
    return {note + " unison",
            fmt::format("its strings stand {} apart; level them, or its blow is unsure by as much.",
                        units.fine_with_unit(finding.read))};
  }
  // A doubtful reading is followed as far as it is trusted; only what is more likely wrong than
  // right is left out.
  const std::string_view verdict = finding.kind != Finding::Kind::reading_flagged ? "may be wrong"
                                   : finding.chance_wrong < 0.5 ? "doubtful, followed only in part"
                                                                : "not followed";
  return {note + " string",
          fmt::format("read {}, the others say {} ± {} (95 % sure): {}, read it again.",
                      units.gauge(finding.read), units.gauge(finding.expected),
                      units.gauge_with_unit(1.96 * finding.expected_sd), verdict)};
}

std::vector<Words> things_to_look_at(const Line& line, Units units) {
  std::vector<Words> things;
  things.reserve(line.findings.size() + 5);
  for (const Finding& finding : line.findings) things.push_back(words_of(finding, units));
  const auto add = [&](Verdict verdict, std::string_view why, std::string_view one,
                       std::string_view many) {
    const auto keys = with_verdict(line, verdict);
    if (keys.empty()) return;
    if (keys.size() == 1) {
      things.push_back({note_label(keys.front()) + " hammer", fmt::format("{}: {}.", why, one)});
    } else {
      things.push_back({fmt::format("{} hammers", keys.size()),
                        fmt::format("{}: {} {}.", why, many, note_list(keys))});
    }
  };
  add(Verdict::read_again, "too far out to be trusted", "read it again", "read again");
  add(Verdict::moved_read_again, "turned since last read", "read it again", "read again");
  add(Verdict::target_unsure, "held, the target is not sure enough to set by",
      "read the strings here first", "read the strings first at");
  add(Verdict::held_escapement, "going down so far could lose the let-off",
      "read the aftertouch first", "read the aftertouch first at");
  add(Verdict::held_block, "going up so far could block on the string", "check the let-off first",
      "check the let-off first at");
  std::string next;
  for (const NextReading& reading : line.next_string) {
    if (!next.empty()) next += ", ";
    next += note_label(reading.key);
    if (reading.settles_doubt) next += " again";
  }
  if (!next.empty()) things.push_back({"Strings worth reading next", "best first: " + next + "."});
  return things;
}

}  // namespace

void flow_look_first(Flow& flow, const Line& line, Units units) {
  const std::vector<Words> things = things_to_look_at(line, units);
  if (things.empty()) return;
  flow.headline("Look at these first", 24);
  for (const Words& thing : things) flow_ticked(flow, thing.lead, thing.rest);
  flow.y += 6;
}

void flow_left_alone(Flow& flow, const Line& line, Units units) {
  struct Kind {
    Verdict verdict;
    std::string why;
  };
  const Length smallest = line.settings.crown_per_turn * turn / line.settings.turn_denominator;
  const std::vector<Kind> kinds{
      {Verdict::leave_fine,
       fmt::format("nearer than the smallest move (1/{} turn, {})", line.settings.turn_denominator,
                   units.fine_with_unit(smallest))},
      {Verdict::leave_noise, "within what the readings can tell"},
      {Verdict::not_read, "hammer not read"},
      {Verdict::no_transfer, "not compared, the bench is not tied to the key bed"},
      {Verdict::no_target, "nothing known of the strings here"},
      {Verdict::out_of_service, "out of service"}};
  bool any = false;
  for (const Kind& kind : kinds) any = any || !with_verdict(line, kind.verdict).empty();
  if (!any) return;
  flow.headline("Left alone", 30);
  for (const Kind& kind : kinds) {
    const auto keys = with_verdict(line, kind.verdict);
    if (keys.empty()) continue;
    flow_words(flow, counted(keys.size(), "note", "notes"),
               fmt::format("{}: {}.", kind.why, note_list(keys)));
  }
  flow.y += 6;
}

void flow_cautions(Flow& flow, const Line& line) {
  flow_caution_box(flow, line.cautions,
                   advises(line) ? "Before the first move" : "Mind, whatever you do next");
}

void flow_caution_box(Flow& flow, std::vector<Caution> cautions, const std::string& title) {
  if (cautions.empty()) return;
  const auto maker = std::ranges::find(cautions, Caution::makers_instructions);
  if (maker != cautions.end()) std::rotate(cautions.begin(), maker, maker + 1);
  const double pad = 9;
  const double inner = flow.width() - 2 * pad;
  double height = 2 * pad + 20 - item_gap;
  for (const Caution caution : cautions) {
    const CautionText& text = text_of(caution);
    height += flow.page().paragraph_height(inner, text.heading, text.text) + item_gap;
  }
  flow.need(height);
  Page& page = flow.page();
  page.outline({flow.left() + 0.75, flow.y + 0.75, flow.width() - 1.5, height - 1.5}, 1.5);
  double y = flow.y + pad;
  page.text({flow.left() + pad, y - 2, inner, 18}, title, {.size = 13, .bold = true});
  y += 20;
  for (const Caution caution : cautions) {
    const CautionText& text = text_of(caution);
    y += page.paragraph(flow.left() + pad, y, inner, text.heading, text.text) + item_gap;
  }
  flow.y += height + 12;
}

void flow_gate(Flow& flow, const Line& line) {
  if (line.gate.open) return;
  std::size_t missing = 0;
  for (const auto& item : line.gate.items) missing += item.passed ? 0 : 1;
  const double pad = 10;
  const double inner = flow.width() - 2 * pad;
  const double indent = tick_size + 8;
  const std::string headline =
      fmt::format("No capstan yet: {} first", counted(missing, "thing", "things"));
  const std::string why =
      "A line set on an action that is not ready does not stay. Put each in order, or leave it "
      "knowingly with a reason, and write it down; the worklist follows then.";
  struct Row {
    std::string name, how;
  };
  std::vector<Row> rows;
  std::string passed;
  for (const auto& item : line.gate.items) {
    const PreparationKind& kind = kind_of(item.item);
    std::string name(kind.name);
    if (item.passed) {
      if (!passed.empty()) passed += "; ";
      passed += name;
      if (item.record && item.record->state == PreparationState::waived) {
        passed += " (left knowingly: " + item.record->reason + ")";
      }
      continue;
    }
    name[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(name[0])));
    std::string how = fmt::format("{} {}", kind.how, kind.why);
    if (!item.wanting_notes.empty()) {
      how = fmt::format("Wanting at {}. {}", note_list(item.wanting_notes), how);
    } else if (item.earlier_visit) {
      how = fmt::format("Passed in an earlier visit: look again. {}", how);
    } else if (item.record && item.record->state == PreparationState::wanting) {
      how.insert(0, "Looked at, not in order. ");
    }
    rows.push_back({name, how});
  }
  Page* page = &flow.page();
  double height = 2 * pad + 26 + page->paragraph_height(inner, "", why) + 8;
  for (const Row& row : rows) {
    height += std::max(page->paragraph_height(inner - indent, row.name, row.how), tick_size) + 6;
  }
  const std::string in_order = passed.empty() ? "" : passed + ".";
  if (!passed.empty()) height += page->paragraph_height(inner, "In order", in_order) + 4;
  flow.need(height);
  page = &flow.page();
  page->outline({flow.left() + 1, flow.y + 1, flow.width() - 2, height - 2}, 2);
  double y = flow.y + pad;
  page->text({flow.left() + pad, y - 2, inner, 22}, headline, {.size = 16, .bold = true});
  y += 26;
  y += page->paragraph(flow.left() + pad, y, inner, "", why) + 8;
  for (const Row& row : rows) {
    page->tick_box(flow.left() + pad, y);
    const double used =
        page->paragraph(flow.left() + pad + indent, y + 0.5, inner - indent, row.name, row.how);
    y += std::max(used, tick_size) + 6;
  }
  if (!passed.empty()) page->paragraph(flow.left() + pad, y, inner, "In order", in_order);
  flow.y += height + 12;
}

void flow_no_moves(Flow& flow, const Line& line) {
  if (!line.gate.open || !line.order.empty()) return;
  const bool read = std::any_of(line.notes.begin(), line.notes.end(),
                                [](const NoteLine& note) { return note.hammer.has_value(); });
  std::string lead = "Nothing to turn.";
  std::string words =
      "No hammer read so far asks for a move that a hand can make and the readings "
      "are sure of.";
  if (!line.transfer.ready) {
    lead = "No capstan yet.";
    words = fmt::format(
        "The hammers were read on the bench and the strings over the key bed. Read "
        "the datum transfer at three or more notes, the lowest and the highest "
        "among them; so far there {}.",
        line.transfer.readings == 1 ? "is one" : fmt::format("are {}", line.transfer.readings));
  } else if (!read) {
    lead = "No capstan yet.";
    words =
        "No hammer height has been read. Read the samples first, marked with a lozenge on the "
        "keyboard above.";
  }
  const double pad = 10;
  const double height =
      flow.page().paragraph_height(flow.width() - 2 * pad, lead, words, {.size = 13}) + 2 * pad;
  flow.need(height);
  flow.page().outline({flow.left() + 1, flow.y + 1, flow.width() - 2, height - 2}, 2);
  flow.page().paragraph(flow.left() + pad, flow.y + pad, flow.width() - 2 * pad, lead, words,
                        {.size = 13});
  flow.y += height + 12;
}

}  // namespace batten::paper
