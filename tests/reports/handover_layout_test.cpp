// Nothing on the handover's pages is cut, covers another text or leaves the paper, whatever was
// read, in both languages; the owner's page is one sheet. Limits on print are the project's own
// (8.5 pt at least anywhere); common practice, no source.
#include "reports/page_flow.hpp"
#include "reports/pictures.hpp"
#include "tests/reports/handover_fixture.hpp"

#include <cairomm/surface.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

namespace batten::paper {
namespace {

constexpr PageStyle german{Language::german, false};
constexpr PageStyle english_inches{Language::english, true};
const Compass small_one{Key{1}, Key{73}};
const Compass large_one{Key{-8}, Key{88}};

std::vector<HandoverCase> cases() {
  return {{.name = "all"},
          {.name = "all_german", .style = german},
          {.name = "letter_inches", .style = english_inches, .letter = true},
          {.name = "long_names", .long_names = true},
          {.name = "long_names_german",
           .long_names = true,
           .own_words = 500,
           .style = german,
           .letter = true},
          {.name = "keys_97", .compass = large_one, .read = 97, .style = german},
          {.name = "keys_73", .compass = small_one, .read = 73},
          {.name = "nothing_read", .read = 0, .done = false},
          {.name = "nothing_done_german", .done = false, .style = german},
          {.name = "few_read", .read = 38},
          {.name = "own_words", .own_words = 2000, .style = german}};
}

PageSheetOptions options_of(const HandoverCase& c) {
  PageSheetOptions o;
  o.paper = c.letter ? Paper::letter : Paper::a4;
  o.letterhead.name = c.long_names
                          ? "Klavierwerkstatt Annemarie-Charlotte von Fürstenberg-Hohenlohe "
                            "und Töchter, Nachfolger des Instrumentenhauses am Markt"
                          : "Workshop";
  o.letterhead.lines = {"1 Street", "12345 Town", "+49 30 000000"};
  return o;
}

class HandoverLayout : public testing::TestWithParam<HandoverCase> {
 protected:
  Sheets owner() const {
    return set_on_one(compose_owner_page(invented_facts(GetParam()), GetParam().style),
                      options_of(GetParam()));
  }
  Sheets file() const {
    return set_as_needed(compose_file_sheet(invented_facts(GetParam()), GetParam().style),
                         options_of(GetParam()));
  }
};

void nothing_leaves_or_covers(const Sheets& sheets) {
  for (std::size_t s = 0; s < sheets.size(); ++s) {
    const Page& page = *sheets[s];
    const Box paper{10 * mm, 10 * mm, page.width() - 20 * mm, page.height() - 20 * mm};
    EXPECT_TRUE(paper.holds(page.ink(), 0.5)) << "sheet " << s + 1;
    const auto& texts = page.texts();
    for (const TextMark& t : texts) {
      EXPECT_TRUE(t.cell.holds(t.ink, 1.5)) << s + 1 << ": " << t.text;
      EXPECT_GE(t.size, 8.49) << t.text;
    }
    for (std::size_t i = 0; i < texts.size(); ++i)
      for (std::size_t k = i + 1; k < texts.size(); ++k)
        EXPECT_FALSE(texts[i].ink.meets(texts[k].ink))
            << s + 1 << ": " << texts[i].text << " / " << texts[k].text;
  }
}

TEST_P(HandoverLayout, OwnersPageIsOneSheetAndWhole) {
  const Sheets sheets = owner();
  ASSERT_EQ(sheets.size(), 1U);
  nothing_leaves_or_covers(sheets);
  // Only names longer than their line may end in "…"; the user's own words are shortened before.
  for (const TextMark& t : sheets[0]->texts())
    if (!GetParam().long_names) {
      EXPECT_FALSE(t.cut) << t.text;
    }
}

TEST_P(HandoverLayout, FileSheetIsWhole) { nothing_leaves_or_covers(file()); }

std::string all_text(const Sheets& sheets) {
  std::string all;
  for (const auto& s : sheets)
    for (const TextMark& t : s->texts()) all += t.text + "\n";
  return all;
}

// What may never give way: the caution, when to come back, what every figure rests on.
TEST_P(HandoverLayout, CautionAndDateStay) {
  const std::string all = all_text(owner());
  const Language l = GetParam().style.language;
  EXPECT_NE(all.find(say(l, "page.expect.call.text")), std::string::npos);
  EXPECT_NE(all.find(say(l, "page.next")), std::string::npos);
  if (GetParam().read > 0 && GetParam().done) {
    EXPECT_NE(all.find(say(l, "page.touch.power.means")), std::string::npos);
  }
}

// Every note read stands on the sheet for the file, in every reading it has.
TEST_P(HandoverLayout, FileSheetLeavesNoReadingOut) {
  const auto facts = invented_facts(GetParam());
  const Sheets sheets = file();
  std::size_t read = 0;
  for (const NoteAccount& n : facts.account.notes) read += n.basis != Basis::unread ? 1U : 0U;
  const ComposedPage page = compose_file_sheet(facts, GetParam().style);
  std::size_t rows = 0, drawn = 0;
  for (const PageBlock& b : page.blocks)
    if (b.kind == BlockKind::table && b.columns.size() == 4) rows += b.rows.size();
  EXPECT_EQ(rows >= read, true) << rows << " of " << read;
  for (const auto& s : sheets)
    for (const TextMark& t : s->texts())
      if (t.cut) ++drawn;
  // Only names of a piano or letterhead longer than their line may end in "…".
  EXPECT_LE(drawn, GetParam().long_names ? 4 * sheets.size() : 0U);
}

INSTANTIATE_TEST_SUITE_P(Every, HandoverLayout, testing::ValuesIn(cases()),
                         [](const auto& one) { return one.param.name; });

// A text longer than a sheet goes on over the next, word for word.
TEST(HandoverFlow, LongRemarkIsSplitBetweenSheetsAndWhole) {
  const HandoverCase c{.name = "", .read = 0, .done = false, .long_names = true};
  const HandoverFacts facts = invented_facts(c);
  const std::string all =
      all_text(set_as_needed(compose_file_sheet(facts, c.style), options_of(c)));
  std::size_t words = 0, wanted = 0;
  for (std::size_t at = 0; (at = all.find("pianist asked", at)) != std::string::npos; ++at) ++words;
  for (std::size_t at = 0;
       (at = facts.remarks[0].text.find("pianist asked", at)) != std::string::npos; ++at)
    ++wanted;
  EXPECT_GE(words, wanted);
}

}  // namespace
}  // namespace batten::paper
