// Nothing on the sheet covers, leaves or outgrows anything: asked of every word and box as it was
// set, for every kind of line. Limits on print are the project's own (11 pt where it is read at the
// piano, 8.5 pt at least anywhere, 5 mm boxes); common practice, no source.
#include "line_fixture.hpp"
#include "reports/compose.hpp"
#include "reports/flow.hpp"
#include "reports/strip.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <memory>
#include <string>
#include <vector>

namespace batten::paper {
namespace {

struct Case {
  std::string name;
  FixtureOptions line;
  SheetOptions sheet;
  SheetHeading heading{"The big grand", "Großer Saal", "before the recital", "25 November 2026",
                       "A. Technician"};
};

std::string endless(const std::string& word) {
  std::string text;
  for (int i = 0; i < 40; ++i) text += word + " ";
  return text;
}

std::vector<Case> cases() {
  const SheetHeading long_names{endless("Flügel"), endless("Übungsraum"), endless("Prüfung"),
                                endless("November"), endless("Müller")};
  const std::string unbroken(300, 'W');
  const std::vector<Key> many{Key{-5}, Key{4}, Key{20}, Key{30}, Key{44}, Key{66}};
  const SheetOptions letter{.paper = Paper::letter};
  const SheetOptions inches{.paper = Paper::letter, .inches = true};
  const SheetOptions comma{.decimal_comma = true};
  const auto with = [](auto change) {
    FixtureOptions options;
    change(options);
    return options;
  };
  using F = FixtureOptions;
  return {
      {"plain", {}, {}},
      {"letter", {}, letter},
      {"bench_inches", with([](F& f) { f.bench = true; }), inches},
      {"all_moves", with([](F& f) { f.all_moves = true, f.troubles = false; }), comma},
      {"all_moves_letter", with([](F& f) { f.all_moves = true, f.troubles = false; }), inches},
      {"gate_shut", with([](F& f) { f.gate_open = false; }), {}},
      {"gate_shut_letter", with([](F& f) { f.gate_open = false; }), letter},
      {"untied", with([](F& f) { f.bench = true, f.transfer_readings = 1; }), {}},
      {"unread", with([](F& f) { f.read = false; }), {}},
      {"keys_97", with([&](F& f) { f.lowest = Key{-8}, f.section_ends = many; }), {}},
      {"keys_73",
       with([](F& f) { f.lowest = Key{8}, f.highest = Key{80}, f.section_ends = {Key{28}}; }),
       letter},
      {"one_section", with([](F& f) { f.section_ends = {}; }), {}},
      {"high_datum", with([](F& f) { f.string_datum_mm = 12345; }), {}},
      {"long_names", {}, letter, long_names},
      {"unbroken_names", {}, {}, {unbroken, unbroken, unbroken, unbroken, unbroken}},
      {"no_names", {}, {}, {}},
  };
}

class Layout : public testing::TestWithParam<Case> {
 protected:
  std::vector<std::unique_ptr<Page>> pages =
      compose_line_sheet(invented_line(GetParam().line), GetParam().heading, GetParam().sheet);
};

INSTANTIATE_TEST_SUITE_P(Every, Layout, testing::ValuesIn(cases()),
                         [](const auto& each) { return each.param.name; });

TEST_P(Layout, NoTwoWordsMeet) {
  for (const auto& page : pages) {
    const auto& texts = page->texts();
    for (std::size_t i = 0; i < texts.size(); ++i) {
      for (std::size_t j = i + 1; j < texts.size(); ++j) {
        EXPECT_FALSE(texts[i].ink.meets(texts[j].ink))
            << '"' << texts[i].text << "\" over \"" << texts[j].text << '"';
      }
    }
  }
}

TEST_P(Layout, EveryWordStaysInItsCell) {
  for (const auto& page : pages) {
    for (const TextMark& mark : page->texts()) {
      // Round letters and slanted strokes reach a little past their advance.
      EXPECT_TRUE(mark.cell.holds(mark.ink, 1.0)) << mark.text;
    }
  }
}

TEST_P(Layout, NothingReachesIntoTheMargin) {
  for (const auto& page : pages) {
    const Box printable{Flow::margin, Flow::margin, page->width() - 2 * Flow::margin,
                        page->height() - 2 * Flow::margin};
    // Half a ruled line, and the whole points ink is counted in.
    EXPECT_TRUE(printable.holds(page->ink(), 2.0))
        << page->ink().left << ' ' << page->ink().top << ' ' << page->ink().right() << ' '
        << page->ink().bottom();
  }
}

TEST_P(Layout, TickBoxesAreFiveMillimetresAndFreeOfWords) {
  for (const auto& page : pages) {
    for (const Box& box : page->tick_boxes()) {
      EXPECT_NEAR(box.width / mm, 5, 1e-9);
      EXPECT_NEAR(box.height / mm, 5, 1e-9);
      for (const TextMark& mark : page->texts()) EXPECT_FALSE(box.meets(mark.ink)) << mark.text;
    }
  }
}

TEST_P(Layout, PrintIsLargeEnough) {
  for (const auto& page : pages) {
    for (const TextMark& mark : page->texts()) {
      EXPECT_GE(mark.size, 8.5) << mark.text;
      const bool says_what_to_do =
          mark.text == "raise" || mark.text == "lower" || mark.text.find('/') != std::string::npos;
      if (says_what_to_do) {
        EXPECT_GE(mark.size, 11) << mark.text;
      }
    }
  }
}

TEST_P(Layout, FourPagesAreEnough) { EXPECT_LE(pages.size(), 4U); }

TEST(Layout, OneTickBoxForEveryMoveAndForNothingElseWithoutTroubles) {
  const Line line = invented_line({.all_moves = true, .troubles = false});
  std::size_t boxes = 0;
  for (const auto& page : compose_line_sheet(line, {}, {})) boxes += page->tick_boxes().size();
  EXPECT_EQ(line.order.size(), 88U);
  EXPECT_EQ(boxes, line.order.size());
}

// Tails of a keyboard are evenly spaced, its fronts are not; workshop pages, octave 164.5 mm.
TEST(Strip, NotesStandEvenlyOverTheirOwnKeys) {
  for (const Compass compass : {Compass{}, Compass{Key{-8}, Key{88}}, Compass{Key{8}, Key{80}}}) {
    const StripLayout layout = StripLayout::make(compass, 30, 0, 500);
    const double per_mm = layout.points_per_metre / 1000;
    for (int place = 0; place < compass.count(); ++place) {
      const Key key = compass.at(place);
      const double x = layout.x(compass, key);
      const double middle =
          layout.keys.left + (key_left(compass, key) + key_width(key) / 2).in(millimetre)*per_mm;
      EXPECT_LT(std::abs(x - middle), key_width(key).in(millimetre) / 2 * per_mm) << key.number;
      if (place == 0) continue;
      EXPECT_NEAR(x - layout.x(compass, compass.at(place - 1)), 164.5 / 12 * per_mm, 1e-9);
    }
  }
}

TEST(Strip, AWrongReadingDoesNotSqueezeTheLane) {
  Line line = invented_line({.troubles = false});
  const Box lane{0, 0, 400, 100};
  const LaneScale before = strings_scale(line, lane, {});
  ASSERT_TRUE(line.notes[19].string_read);
  line.notes[19].string_read = *line.notes[19].string_read + 30 * millimetre;
  const LaneScale after = strings_scale(line, lane, {});
  EXPECT_EQ(before.low, after.low);
  EXPECT_EQ(before.high, after.high);
}

}  // namespace
}  // namespace batten::paper
