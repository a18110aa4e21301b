// Sentences, from figures that were made up: what is said is what the figures are.
#include "core/regulation/brief/words.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace batten {
namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();
constexpr const char* gap = "\u202f";  // between figure and unit

std::string with_gaps(std::string text) {
  for (auto at = text.find('_'); at != std::string::npos; at = text.find('_', at))
    text.replace(at, 1, gap);
  return text;
}

RegisterBrief register_brief() {
  RegisterBrief r;
  r.where = {Key{40}, "middle"};
  r.bands = brief_wishes({})->needs;
  BriefFigures& f = r.sheet;
  f.point = {45.5, 10, 1.6, 1.5};
  f.reached = f.read = true;
  f.aftertouch = f.escape_margin = 1.1;
  f.jack_clearance = 0.15;
  f.lever_share = 1;
  f.rest_scatter = 0;
  f.spring_grade = 2;
  f.strokes = {BriefStroke{1, 97, 3.42}, {2.2, 53, 0.01}, {4.6, 30, -2.7}};
  return r;
}

TEST(Words, WhatWorks) {
  const auto words = verdict_words(register_brief());
  ASSERT_EQ(words.size(), 3U);
  EXPECT_EQ(words[0],
            with_gaps("Middle (C4) works at the sheet's figures: blow 45.5_mm, dip 10.00_mm, "
                      "let-off 1.60_mm leave 1.10_mm aftertouch."));
  EXPECT_EQ(words[1],
            with_gaps("Key bottom comes 3.4_ms after the string played softly, together with the "
                      "string at a middling stroke and 2.7_ms before the string loud."));
  EXPECT_NE(words[2].find("carries 100 % of the hammer"), std::string::npos);
  EXPECT_TRUE(words[2].ends_with("to the same place: firm."));
}

TEST(Words, WhatDoesNot) {
  RegisterBrief r = register_brief();
  r.sheet.aftertouch = none;
  r.sheet.escape_margin = -0.3;
  r.sheet.faults = {action::Fault::no_escapement};
  r.sheet.misses = {{Need::aftertouch, -0.3, 1.1}, {Need::drop, 2.3, 0.3}};
  r.sheet.strokes[0].bottom_less_string = none;
  const auto words = verdict_words(r);
  EXPECT_EQ(words[0],
            with_gaps("Middle (C4) does not work at the sheet's figures: the key bottoms 0.30_mm "
                      "before the hammer lets go, so the jack cannot trip and drop 2.30_mm, "
                      "0.30_mm over the most 2.00_mm."));
  for (const std::string& w : words) EXPECT_EQ(w.find("nan"), std::string::npos) << w;
  EXPECT_EQ(words[1].find("softly"), std::string::npos);
}

TEST(Words, WhatGivesWayAndItsPrice) {
  Departure d;
  d.by = {-0.4, 0.45, 0, 0};
  d.figures.point = {45.1, 10.45, 1.6, 1.5};
  d.figures.aftertouch = 0.85;
  d.price = {-2.4, -0.2, 0.9, none, 0.5};
  EXPECT_EQ(departure_words(d),
            with_gaps("Blow 0.40_mm shorter (45.10_mm) and dip 0.45_mm deeper (10.45_mm): "
                      "aftertouch 0.85_mm; 2 % less power, 0.2_ms quicker from key to string and "
                      "key bottom 0.9_ms later against the string."));
  d.price = {0.2, 0, 0, 0, 0};
  EXPECT_TRUE(departure_words(d).ends_with("it costs nothing a finger would notice."));
}

TEST(Words, WhatCannotBeMet) {
  RegisterBrief r = register_brief();
  const BriefPoint corner{44, 9.6, 1.8, 1.5};
  EXPECT_EQ(
      unmet_words({Need::aftertouch, 0.54, 0.26, corner}, r),
      with_gaps("The need that cannot be met is aftertouch: with blow 44.0_mm, dip 9.60_mm and "
                "let-off 1.80_mm it is 0.54_mm, still 0.26_mm short of the least 0.80_mm."));
  EXPECT_NE(unmet_words({Need::aftertouch, -0.2, 1, corner}, r).find("before the hammer lets go"),
            std::string::npos);
  r.sheet.hindrance = "The drop wanted cannot be had: the nearest is 0.5 mm off.";
  EXPECT_NE(unmet_words({Need::drop, none, none, corner}, r)
                .find("drop within 0.80\u202fmm to 2.00\u202fmm: the drop wanted cannot be had"),
            std::string::npos);
}

TEST(Words, OfTheWhole) {
  Brief brief;
  brief.registers = {register_brief(), register_brief(), register_brief()};
  EXPECT_NE(brief_words(brief).find("can be what the sheet says"), std::string::npos);
  brief.registers[1].where.name = "bass";
  brief.registers[1].sheet.misses = {{Need::aftertouch, 0.5, 0.3}};
  brief.registers[1].departures.resize(1);
  brief.registers[2].where.name = "treble";
  brief.registers[2].sheet.misses = {{Need::aftertouch, 0.5, 0.3}};
  EXPECT_EQ(brief_words(brief),
            "As the sheet has it: middle (C4). Something must give way at bass (C4): choose one of "
            "the ways below. Within the bands nothing works at treble (C4): widen the need that is "
            "named, or look at the action itself.");
}

}  // namespace
}  // namespace batten
