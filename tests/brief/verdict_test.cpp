// What the solver says of a sheet.
#include "core/regulation/brief/identity.hpp"
#include "core/regulation/brief/words.hpp"
#include "tasks.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace batten {
namespace {

using checks::only;
using checks::stored;
using checks::task_of;

bool has(const BriefFigures& f, action::Fault fault) {
  return std::ranges::find(f.faults, fault) != f.faults.end();
}

// The three profiles' own figures lie in the handbook spans (R7: three makers' sheets and workshop
// articles), and an action that is built like one works at them.
TEST(Verdict, HandbookFiguresWork) {
#ifdef BATTEN_SLOW_BUILD
  GTEST_SKIP()
      << "a note costs ten times as much under the sanitizers; the same code runs elsewhere";
#endif
  for (const char* name : {"small", "medium", "concert"}) {
    const auto brief = calc_brief(task_of(stored(name), {}, {"A1", "C4", "F#4", "C7"}));
    ASSERT_TRUE(brief.has_value()) << brief.error().sentence();
    EXPECT_TRUE(brief->works()) << name;
    for (const RegisterBrief& r : brief->registers) {
      EXPECT_TRUE(r.departures.empty());
      EXPECT_TRUE(r.unmet.empty());
      EXPECT_GE(r.sheet.aftertouch, 0.8);
      EXPECT_LE(r.sheet.aftertouch, 1.6);
      EXPECT_EQ(r.sheet.escape_margin, r.sheet.aftertouch);
      EXPECT_NE(verdict_words(r)[0].find("works at the sheet's figures"), std::string::npos);
    }
  }
}

// R1 (trade list archives 2002, 2004): the identity by the sheet's own figures gives the ratio the
// solver integrates from its contacts, within 2 %.
TEST(Verdict, IdentityHolds) {
  const auto r = only(task_of(stored("medium"), {}, {"C4"}));
  const BriefFigures& f = r.sheet;
  const auto readings = calc_readings(f.note);
  ASSERT_TRUE(readings.has_value());
  EXPECT_NEAR(
      calc_ratio(f.point.blow, f.point.let_off, f.point.dip, f.aftertouch) / readings->ratio_mean,
      1, 0.02);
  EXPECT_NEAR(f.ratio, readings->ratio_identity, 0.01);
}

// R4 (logic of the identity): the solver's own ratio tells to 0.1 mm how shallow a dip lets nothing
// go, and the verdict says by how much.
TEST(Verdict, NoEscapementBelowTheIdentitysDip) {
  const auto& profile = stored("medium");
  const auto works = only(task_of(profile, {}, {"C4"})).sheet;
  const double needs = calc_escape_depth(works.point.blow, works.point.let_off, works.ratio);
  const auto at = [&](double dip) {
    return only(task_of(profile, {{"dip-target", std::to_string(dip)}}, {"C4"}));
  };
  const auto below = at(needs - 0.3), above = at(needs + 0.3);
  EXPECT_TRUE(has(below.sheet, action::Fault::no_escapement));
  EXPECT_NEAR(below.sheet.escape_margin, -0.3, 0.02);
  EXPECT_TRUE(std::isnan(below.sheet.aftertouch));
  EXPECT_NE(verdict_words(below)[0].find("before the hammer lets go"), std::string::npos);
  EXPECT_FALSE(has(above.sheet, action::Fault::no_escapement));
  EXPECT_NEAR(above.sheet.escape_margin, 0.3, 0.02);
  EXPECT_FALSE(above.sheet.works());  // thin
}

// C1 (Askenfelt & Jansson 1990): key bottom after the string when soft, before it when loud, and
// falling with effort; C2: at most 13 ms after, 4.4 ms before.
TEST(Verdict, KeyBottomAgainstString) {
#ifdef BATTEN_SLOW_BUILD
  GTEST_SKIP()
      << "a note costs ten times as much under the sanitizers; the same code runs elsewhere";
#endif
  for (const char* key : {"A1", "C4", "C7"}) {
    const auto f = only(task_of(stored("medium"), {}, {key})).sheet;
    EXPECT_GT(f.strokes[0].bottom_less_string, 1);
    EXPECT_LT(f.strokes[0].bottom_less_string, 13);
    EXPECT_LT(f.strokes[1].bottom_less_string, f.strokes[0].bottom_less_string);
    EXPECT_LT(f.strokes[2].bottom_less_string, f.strokes[1].bottom_less_string);
    EXPECT_LT(f.strokes[2].bottom_less_string, -0.4);
    EXPECT_GT(f.strokes[2].bottom_less_string, -4.4);
  }
}

// The platform. A lever set right carries the hammer at rest (common practice, no source), and its
// rest repeats. R5 (trade articles): a weak spring leaves a platform that cannot be set at all.
TEST(Verdict, Platform) {
  const auto f = only(task_of(stored("medium"), {}, {"C4"})).sheet;
  EXPECT_GT(f.lever_share, 0.9);
  EXPECT_LT(std::abs(f.rest_scatter), 0.25);
  EXPECT_GE(f.spring_grade, 1);
  EXPECT_LE(f.spring_grade, 3);
  action::Wanted weak;
  weak.spring = -0.3;
  const auto profile = checks::all_of(action::Dimensions{}, weak);
  const auto r = only(task_of(profile, {}, {"C4"}));
  EXPECT_FALSE(r.sheet.works());
  EXPECT_TRUE(r.departures.empty());
  ASSERT_FALSE(r.unmet.empty());
  EXPECT_EQ(r.unmet[0].need, Need::jack_clearance);
  // The solver itself says how near it came: "0.13 mm off" 0.15.
  EXPECT_NE(r.sheet.hindrance.find("0.13 mm off"), std::string::npos);
  EXPECT_NEAR(r.unmet[0].nearest, 0.02, 0.02);
  EXPECT_NEAR(r.unmet[0].by, 0.15 - r.unmet[0].nearest, 1e-9);
  EXPECT_NE(unmet_words(r.unmet[0], r).find("jack clearance"), std::string::npos);
  EXPECT_NE(verdict_words(r)[0].find("Strengthen the repetition spring"), std::string::npos);
}

// R6 (common practice, no source): a lever too high leaves the jack lost motion and a rest that
// does not repeat; then no line can be set on it, and that is what is named.
TEST(Verdict, LeverTooHigh) {
#ifdef BATTEN_SLOW_BUILD
  GTEST_SKIP()
      << "a note costs ten times as much under the sanitizers; the same code runs elsewhere";
#endif
  const auto at = [](const char* clearance) {
    return only(task_of(stored("medium"),
                        {{"jack-clearance-target", clearance}, {"need-jack-clearance", "0 to 2"}},
                        {"C4"}));
  };
  const auto r = at("0.6");
  EXPECT_FALSE(r.sheet.works());
  EXPECT_GT(r.sheet.lost_motion, 0.14 + 0.5);
  EXPECT_TRUE(std::ranges::any_of(r.sheet.misses, [](const Miss& m) {
    return m.need == Need::rest_scatter && m.by > 0.1;
  })) << r.sheet.rest_scatter;
  const auto words = verdict_words(r);
  EXPECT_NE(words.back().find("too loose"), std::string::npos);
  EXPECT_NE(words.back().find("lever stands too high"), std::string::npos);
  EXPECT_EQ(verdict_words(at("0.2")).back().find("too high"), std::string::npos);
}

// What is typed is what is asked of the solver: the sheet's figures are regulated to 10 um.
TEST(Verdict, ReachesTheSheet) {
  const auto f = only(task_of(stored("concert"),
                              {{"blow-target", "45 to 44.2"},
                               {"let-off-target", "1.8"},
                               {"drop-target", "1.3"},
                               {"dip-target", "10.1"}},
                              {"A1"}))
                     .sheet;
  const auto r = calc_readings(f.note);
  ASSERT_TRUE(r.has_value());
  EXPECT_NEAR(r->blow * 1e3, 45 - 0.8 * 12 / 87, 0.01);
  EXPECT_NEAR(r->let_off * 1e3, 1.8, 0.01);
  EXPECT_NEAR(r->drop * 1e3, 1.3, 0.01);
  EXPECT_NEAR(r->dip * 1e3, 10.1, 0.01);
}

TEST(Verdict, TodayIsReadToo) {
  auto task = task_of(stored("medium"), {}, {"C4"});
  task.today = {BriefPoint{47, 9.5, 1.6, 1.5}};
  const auto r = only(task);
  ASSERT_TRUE(r.today.has_value());
  EXPECT_NEAR(r.today->escape_margin, r.sheet.escape_margin - 0.5 - 1.5 / 5 + 0.0, 0.15);
}

TEST(Verdict, WhatCannotBeAsked) {
  BriefTask task;
  EXPECT_FALSE(calc_brief(task).has_value());
  action::Profile broken = stored("medium");
  broken.anchors[0].dimensions.key_front = 5;
  task = task_of(broken, {}, {"A0"});
  EXPECT_FALSE(calc_brief(task).has_value());
}

// A sharp is among the usual registers, and every section has one.
TEST(Verdict, UsualRegisters) {
  const Compass compass;
  const auto sections = *parse_sections("E2 bridge, A#4 strut, D6 strut", compass);
  const auto four = usual_registers(compass, sections);
  ASSERT_EQ(four.size(), 5U);
  for (const Section& s : sections)
    EXPECT_TRUE(std::ranges::any_of(
        four, [&](const Register& r) { return s.contains(r.key) && is_natural(r.key); }));
  EXPECT_EQ(std::ranges::count_if(four, [](const Register& r) { return is_sharp(r.key); }), 1);
  const auto plain = usual_registers(compass, {{compass.lowest, compass.highest}});
  ASSERT_EQ(plain.size(), 4U);
  EXPECT_EQ(note_name(plain[0].key), "A1");
  EXPECT_EQ(note_name(plain[1].key), "C4");
  EXPECT_EQ(note_name(plain[3].key), "C7");
}

}  // namespace
}  // namespace batten
