#include "core/regulation/handover/feel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace batten::handover {

namespace {

constexpr int least_compared = 3;  // notes; fewer tell nothing of evenness

enum class Change : std::uint8_t { much_less, less, same, more, much_more };

// A change that the readings do not bear out, or that no hand would tell, is none. Shares: common
// practice, no source; of the power 12 % is about 1 dB, the least difference in level that is told
// apart with certainty (ISO 226's readers and hearing texts agree on about 1 dB; from memory).
Change change_of(const TouchFigure& f, double little, double much) {
  const double change = f.after - f.before;
  if (std::abs(change) < 2 * f.sd) return Change::same;
  const double share = change / std::max(std::abs(f.before), 1e-9);
  if (std::abs(share) < little) return Change::same;
  if (share > 0) return share < much ? Change::more : Change::much_more;
  return -share < much ? Change::less : Change::much_less;
}

std::string_view word_of(Change change) {
  switch (change) {
    case Change::much_less:
      return "much_less";
    case Change::less:
      return "less";
    case Change::same:
      return "same";
    case Change::more:
      return "more";
    case Change::much_more:
      return "much_more";
  }
  return "same";
}

struct TouchRow {
  std::string_view code;
  TouchFigure Touch::*figure;
  double scale;
  int decimals;
  double little, much;  // shares of the figure before
};
constexpr std::array<TouchRow, 4> touch_rows{{
    {"power", &Touch::power, 1, 2, 0.02, 0.12},
    {"time", &Touch::time, 1, 1, 0.02, 0.08},
    {"repetition", &Touch::repetition, 1, 1, 0.05, 0.2},
    {"unevenness", &Touch::unevenness, 100, 1, 0.15, 0.4},
}};

constexpr std::array<std::string_view, 3> register_names{"page.touch.bass", "page.touch.middle",
                                                         "page.touch.treble"};

std::string register_name(const HandoverFacts& facts, const Said& said, std::size_t i) {
  if (facts.touch.size() == register_names.size()) return said.words(register_names.at(i));
  return Said::note(facts.touch[i].key);
}

// "Bass, middle: a little louder; treble: as before."
std::string verdicts(const HandoverFacts& facts, const Said& said, const TouchRow& row) {
  std::vector<std::pair<std::string, std::string>> said_of;  // words, registers
  std::size_t told = 0;
  for (std::size_t i = 0; i < facts.touch.size(); ++i) {
    const TouchFigure& f = facts.touch[i].*row.figure;
    if (!f.known()) continue;
    ++told;
    const std::string words = said.words(
        fmt::format("page.touch.{}.{}", row.code, word_of(change_of(f, row.little, row.much))));
    const std::string name = register_name(facts, said, i);
    const auto group =
        std::ranges::find(said_of, words, &std::pair<std::string, std::string>::first);
    if (group == said_of.end())
      said_of.emplace_back(words, name);
    else
      group->second.append(", ").append(name);
  }
  if (told == 0) return {};
  if (said_of.size() == 1 && told == facts.touch.size())
    return capital(said.words("page.touch.all")) + ": " + said_of.front().first + ".";
  std::vector<std::string> parts;
  for (const auto& [words, names] : said_of)
    parts.push_back(std::string(names).append(": ").append(words));
  return joined(parts, "; ") + ".";
}

void add_touch(const HandoverFacts& facts, const Said& said, int rank, ComposedPage& page) {
  if (facts.touch.empty()) return;
  PageBlock block{.kind = BlockKind::figures, .rank = rank, .least = 2};
  block.columns.push_back("");
  for (std::size_t i = 0; i < facts.touch.size(); ++i)
    block.columns.push_back(said.words(
        "page.touch.register",
        {{"name", register_name(facts, said, i)}, {"note", Said::note(facts.touch[i].key)}}));
  for (const TouchRow& row : touch_rows) {
    PageRow out;
    out.cells.push_back(said.words(fmt::format("page.touch.{}", row.code)));
    bool any = false;
    for (const Touch& t : facts.touch) {
      const TouchFigure& f = t.*row.figure;
      any = any || f.known();
      std::string cell = "–";
      if (f.known()) {
        cell = said.number(f.before * row.scale, row.decimals) + " → " +
               said.number(f.after * row.scale, row.decimals);
        if (f.sd > 0)
          cell +=
              " ±\u00a0" +
              said.number(std::max(f.sd * row.scale, std::pow(10.0, -row.decimals)), row.decimals);
      }
      out.cells.push_back(std::move(cell));
    }
    if (!any) continue;
    out.means =
        said.words(fmt::format("page.touch.{}.means", row.code)) + " " + verdicts(facts, said, row);
    block.rows.push_back(std::move(out));
  }
  if (block.rows.empty()) return;
  page.blocks.push_back(std::move(block));
  PageBlock basis{.kind = BlockKind::quiet};
  basis.text = facts.profile_chosen
                   ? said.words("page.touch.basis")
                   : said.words("page.touch.stand_in", {{"profile", facts.profile}});
  page.blocks.push_back(std::move(basis));
}

// Squares of tolerances won over all its notes.
double gained(const ReadingAccount& r) {
  const double before = r.compared_found.rms_tolerances, now = r.compared_now.rms_tolerances;
  return r.compared_now.notes * (before * before - now * now);
}

// Root mean square of the standard deviations behind a comparison.
double good_to(const std::vector<const NoteAccount*>& notes) {
  double sum = 0;
  for (const NoteAccount* n : notes) sum += (n->first_sd * n->first_sd + n->now_sd * n->now_sd) / 2;
  return notes.empty() ? std::numeric_limits<double>::quiet_NaN()
                       : std::sqrt(sum / static_cast<double>(notes.size()));
}

void add_readings(const Said& said, const std::vector<const ReadingAccount*>& changed,
                  const HandoverFacts& facts, int rank, ComposedPage& page) {
  PageBlock block{.kind = BlockKind::figures, .rank = rank, .least = 2};
  block.columns = {said.words("page.note_by_note"),   said.words("page.typically"),
                   said.words("page.typically_now"),  said.words("page.good_to"),
                   said.words("page.outside_before"), said.words("page.outside_now")};
  for (const ReadingAccount* r : changed) {
    const Spread &found = r->compared_found, &now = r->compared_now;
    const auto of = [&](int count, int all) {
      return said.words("page.count_of",
                        {{"count", std::to_string(count)}, {"all", std::to_string(all)}});
    };
    block.rows.push_back(
        {{capital(meaning_of(said, r->reading)) + " (" + name_of(said.language(), r->reading) + ")",
          said.spread(r->reading, found.rms), said.spread(r->reading, now.rms),
          "±\u00a0" + said.spread(r->reading, good_to(compared_notes(facts.account, r->reading))),
          of(found.outside, found.notes), of(now.outside, now.notes)},
         "",
         false});
  }
  page.blocks.push_back(std::move(block));
}

PageBlock strip_of(const Said& said, const ReadingAccount& r, const HandoverFacts& facts,
                   int rank) {
  PageBlock strip{.kind = BlockKind::strip, .rank = rank};
  const auto notes = compared_notes(facts.account, r.reading);
  for (const NoteAccount* n : notes) {
    const double tolerance = std::max(n->tolerance, 1e-9);
    strip.marks.push_back({n->key, (n->first.value_or(n->target) - n->target) / tolerance,
                           (n->now - n->target) / tolerance});
  }
  strip.text = said.words("page.strip", {{"reading", said.heading(r.reading)},
                                         {"before", std::to_string(r.compared_found.outside)},
                                         {"notes", std::to_string(r.compared_found.notes)},
                                         {"after", std::to_string(r.compared_now.outside)}});
  return strip;
}

}  // namespace

std::string meaning_of(const Said& said, Reading reading) {
  const std::string key = "page.for." + std::string(kind_of(reading).code);
  return said.knows(key) ? said.words(key) : name_of(said.language(), reading);
}

double tolerance_of(const HandoverFacts& facts, Reading reading) {
  const auto note = std::ranges::find(facts.account.notes, reading, &NoteAccount::reading);
  return note == facts.account.notes.end() ? std::numeric_limits<double>::quiet_NaN()
                                           : note->tolerance;
}

void add_feel(const HandoverFacts& facts, const Said& said, FeelRanks ranks, ComposedPage& page) {
  page.blocks.push_back(heading(said.words("page.feel")));
  std::vector<const ReadingAccount*> changed;
  for (const ReadingAccount& r : facts.account.readings) {
    const auto notes = compared_notes(facts.account, r.reading);
    if (r.compared_now.notes >= least_compared &&
        std::ranges::any_of(notes, [](const NoteAccount* n) { return n->shifted; }))
      changed.push_back(&r);
  }
  if (changed.empty()) {
    page.blocks.push_back(text(said.words("page.feel.none")));
    return;
  }
  std::ranges::stable_sort(changed, std::ranges::greater{},
                           [](const ReadingAccount* r) { return gained(*r); });
  add_touch(facts, said, ranks.touch, page);
  add_readings(said, changed, facts, ranks.readings, page);
  page.blocks.push_back(strip_of(said, *changed.front(), facts, ranks.strip));
  PageBlock legend{.kind = BlockKind::quiet, .rank = ranks.legend};
  legend.text = said.words("page.strip.legend");
  page.blocks.push_back(std::move(legend));
}

}  // namespace batten::handover
