// The tables' form: complete, in order, codes fit to type and file, sentences fit to be read at the
// piano.
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/cautions.hpp"
#include "core/regulation/catalogue/preparation.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <gmock/gmock.h>
#include <set>
#include <string>
#include <string_view>

namespace batten {
namespace {

// Long enough for a hint, short enough for one glance; our own limits.
constexpr std::size_t longest_sentence = 180;
constexpr std::size_t longest_name = 40;

bool is_well_formed_code(std::string_view code) {
  const auto is_fit = [](char c) { return (c >= 'a' && c <= 'z') || c == '-'; };
  return !code.empty() && code.front() != '-' && code.back() != '-' &&
         code.find("--") == std::string_view::npos && std::all_of(code.begin(), code.end(), is_fit);
}

// A capital, a full stop, no sentence too long, no doubled blank.
void expect_sentences(std::string_view text, std::string_view where) {
  ASSERT_FALSE(text.empty()) << where;
  EXPECT_TRUE(std::isupper(static_cast<unsigned char>(text.front()))) << where << ": " << text;
  EXPECT_EQ(text.back(), '.') << where << ": " << text;
  EXPECT_EQ(text.find("  "), std::string_view::npos) << where << ": " << text;
  while (!text.empty()) {
    const std::size_t stop = text.find(". ");
    const std::string_view sentence = text.substr(0, stop);
    EXPECT_LE(sentence.size(), longest_sentence) << where << ": " << sentence;
    text.remove_prefix(stop == std::string_view::npos ? text.size() : stop + 2);
  }
}

void expect_name(std::string_view name, std::string_view where) {
  EXPECT_FALSE(name.empty()) << where;
  EXPECT_LE(name.size(), longest_name) << where;
}

// One row for each value of the enumeration, in its order, each code its own.
template <class Rows>
void expect_rows_in_order(const Rows& rows, std::size_t count) {
  ASSERT_EQ(rows.size(), count);
  std::set<std::string_view> codes;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    EXPECT_EQ(static_cast<std::size_t>(rows[i].id), i) << rows[i].code;
    EXPECT_TRUE(is_well_formed_code(rows[i].code)) << rows[i].code;
    EXPECT_TRUE(codes.insert(rows[i].code).second) << rows[i].code << " stands twice";
  }
}

TEST(Readings, HaveOneRowEach) {
  expect_rows_in_order(reading_kinds(), static_cast<std::size_t>(Reading::right_string_gap) + 1);
  for (const ReadingKind& kind : reading_kinds()) {
    EXPECT_EQ(&kind_of(kind.id), &kind);
    EXPECT_EQ(reading_by_code(kind.code), kind.id);
    expect_name(kind.name, kind.code);
    expect_sentences(kind.how, kind.code);
  }
}

TEST(Readings, AreFoundHoweverTheCodeIsTyped) {
  for (const char* typed : {"string-height", "String Height", "STRING_HEIGHT", " string  height\t",
                            "string - height"}) {
    EXPECT_EQ(reading_by_code(typed), Reading::string_height) << typed;
  }
  for (const char* typed : {"", " ", "string", "stringheight", "string-heights", "-string-height",
                            "string-height-", "dip dip"}) {
    EXPECT_EQ(reading_by_code(typed), std::nullopt) << typed;
  }
}

TEST(Readings, HaveFiguresThatFitEachOther) {
  for (const ReadingKind& kind : reading_kinds()) {
    EXPECT_LT(kind.possible_low, kind.possible_high) << kind.code;
    EXPECT_GT(kind.usual_uncertainty, 0) << kind.code;
    EXPECT_GT(kind.minutes, 0) << kind.code;
    EXPECT_LE(kind.minutes, 5) << kind.code;
    EXPECT_LT(kind.usual_uncertainty, (kind.possible_high - kind.possible_low) / 4) << kind.code;
    const double low = kind.usual_low.value_or(kind.possible_low);
    const double high = kind.usual_high.value_or(kind.possible_high);
    EXPECT_LE(low, high) << kind.code;
    EXPECT_GE(low, kind.possible_low) << kind.code;
    EXPECT_LE(high, kind.possible_high) << kind.code;
    if (kind.tolerance_absolute) {
      EXPECT_GT(*kind.tolerance_absolute, 0) << kind.code;
      EXPECT_GT(kind.tolerance_neighbours.value_or(1), 0) << kind.code;
      // A finger tells neighbours apart before it tells a figure: never the coarser of the two.
      EXPECT_LE(kind.tolerance_neighbours.value_or(0), *kind.tolerance_absolute) << kind.code;
    } else {
      EXPECT_FALSE(kind.tolerance_neighbours) << kind.code;
    }
    // A usual figure that is possible only by refusing ordinary scatter would question good
    // readings.
    if (kind.unit == ReadingUnit::millimetre && kind.tolerance_absolute && kind.usual_low) {
      EXPECT_LE(kind.possible_low, std::max(0.0, low - 2 * *kind.tolerance_absolute)) << kind.code;
      EXPECT_GE(kind.possible_high, high + 2 * *kind.tolerance_absolute) << kind.code;
    }
  }
}

TEST(Readings, AreTakenWhereTheyBelong) {
  for (const ReadingKind& kind : reading_kinds()) {
    const bool room = kind.id == Reading::humidity || kind.id == Reading::temperature;
    const bool pedal = kind.id >= Reading::pedal_free_play && kind.id <= Reading::shift_distance;
    EXPECT_EQ(kind.scope, room    ? Scope::per_visit
                          : pedal ? Scope::per_piano
                                  : Scope::per_note)
        << kind.code;
  }
}

TEST(Readings, HaveUnitSymbols) {
  EXPECT_EQ(unit_symbol(ReadingUnit::millimetre), "mm");
  EXPECT_EQ(unit_symbol(ReadingUnit::gram_force), "gf");
  EXPECT_EQ(unit_symbol(ReadingUnit::fraction), "");
  EXPECT_EQ(unit_symbol(ReadingUnit::grade), "grade");
  EXPECT_EQ(unit_symbol(ReadingUnit::percent), "%");
  EXPECT_EQ(unit_symbol(ReadingUnit::celsius), "°C");
}

TEST(Adjusters, HaveOneRowEach) {
  expect_rows_in_order(adjuster_kinds(), static_cast<std::size_t>(Adjuster::shift_stop) + 1);
  for (const AdjusterKind& kind : adjuster_kinds()) {
    EXPECT_EQ(&kind_of(kind.id), &kind);
    EXPECT_EQ(adjuster_by_code(kind.code), kind.id);
    expect_name(kind.name, kind.code);
    expect_name(kind.positive, kind.code);
    expect_name(kind.negative, kind.code);
    EXPECT_NE(kind.positive, kind.negative) << kind.code;
    EXPECT_GT(kind.hand_step, 0) << kind.code;
    expect_sentences(kind.effect, kind.code);
    EXPECT_FALSE(kind.tools.empty()) << kind.code;
  }
  EXPECT_EQ(adjuster_by_code("Let-off button"), Adjuster::let_off_button);
  EXPECT_EQ(adjuster_by_code("button"), std::nullopt);
}

// The first ten are a note's, in the order others count on; the pedals stand last.
TEST(Adjusters, AreANotesOrThePianos) {
  for (const AdjusterKind& kind : adjuster_kinds()) {
    EXPECT_EQ(kind.scope,
              kind.id >= Adjuster::damper_pedal_rod ? Scope::per_piano : Scope::per_note)
        << kind.code;
    EXPECT_EQ(kind.id < Adjuster::string_level, static_cast<std::size_t>(kind.id) < 10);
  }
  EXPECT_EQ(static_cast<std::size_t>(Adjuster::capstan), 0U);
  EXPECT_EQ(static_cast<std::size_t>(Adjuster::damper_wire), 9U);
}

// What is turned for a reading is worth turning: it has a tolerance to come into.
TEST(Adjusters, SetAReadingOfTheirOwnThatHasATolerance) {
  std::set<Reading> set;
  for (const AdjusterKind& kind : adjuster_kinds()) {
    EXPECT_TRUE(set.insert(kind.sets).second) << kind.code;
    EXPECT_TRUE(kind_of(kind.sets).tolerance_absolute) << kind.code;
    EXPECT_TRUE(shows(kind.sets, kind.id)) << kind.code;
    for (const AdjusterKind& other : adjuster_kinds())
      EXPECT_EQ(shows(kind.sets, other.id), other.id == kind.id) << kind.code << other.code;
  }
  // Trade texts: the hammer's height is the blow, a sharp's dip a dip, and a deeper key has more
  // aftertouch one for one.
  EXPECT_TRUE(shows(Reading::hammer_height, Adjuster::capstan));
  EXPECT_TRUE(shows(Reading::sharps_height, Adjuster::balance_punchings));
  EXPECT_TRUE(shows(Reading::sharp_dip, Adjuster::front_punchings));
  EXPECT_TRUE(shows(Reading::aftertouch, Adjuster::front_punchings));
  EXPECT_TRUE(shows(Reading::jack_wink, Adjuster::lever_height_button));
  EXPECT_TRUE(shows(Reading::middle_string_gap, Adjuster::string_level));
  EXPECT_FALSE(shows(Reading::down_weight, Adjuster::capstan));
  EXPECT_FALSE(shows(Reading::hammer_height, Adjuster::let_off_button));
}

// Trade texts: a hammer jams for let-off too close, a drop screw too high, a jack too far toward
// the hammer; a longer blow or a shallower dip takes escapement away.
TEST(Adjusters, CarryTheCautionsOfTheirHarm) {
  const auto warns = [](Adjuster adjuster, Caution caution) {
    return std::ranges::count(kind_of(adjuster).cautions, caution) == 1;
  };
  for (const Adjuster a :
       {Adjuster::let_off_button, Adjuster::drop_screw, Adjuster::jack_button, Adjuster::capstan})
    EXPECT_TRUE(warns(a, Caution::blocked_hammer)) << kind_of(a).code;
  for (const Adjuster a : {Adjuster::capstan, Adjuster::front_punchings})
    EXPECT_TRUE(warns(a, Caution::lost_escapement)) << kind_of(a).code;
  EXPECT_TRUE(warns(Adjuster::string_level, Caution::string_tension));
  EXPECT_FALSE(warns(Adjuster::back_check, Caution::blocked_hammer));
  for (const AdjusterKind& kind : adjuster_kinds()) {
    EXPECT_EQ(warns(kind.id, Caution::makers_instructions), kind.scope == Scope::per_piano)
        << kind.code;
  }
}

TEST(Adjusters, HaveUnitNames) {
  EXPECT_EQ(unit_name(MoveUnit::turns), "turns");
  EXPECT_EQ(unit_name(MoveUnit::millimetres), "mm");
  EXPECT_EQ(unit_name(MoveUnit::bend_steps), "steps");
}

TEST(Preparation, HasOneRowForEachItem) {
  expect_rows_in_order(preparation_kinds(),
                       static_cast<std::size_t>(PreparationItem::rest_cushions_even) + 1);
  for (const PreparationKind& kind : preparation_kinds()) {
    EXPECT_EQ(&kind_of(kind.id), &kind);
    EXPECT_EQ(preparation_by_code(kind.code), kind.id);
    expect_name(kind.name, kind.code);
    expect_sentences(kind.how, kind.code);
    expect_sentences(kind.why, kind.code);
  }
  EXPECT_EQ(preparation_by_code("piano tidy"), std::nullopt);
}

// Common practice, no source: where a technician would name a number, and that a frame is bedded
// once for all notes.
TEST(Preparation, IsJudgedByAReadingWhereThereIsOne) {
  for (const PreparationKind& kind : preparation_kinds()) {
    EXPECT_EQ(kind.scope,
              kind.id == PreparationItem::key_frame_bedded ? Scope::per_piano : Scope::per_note)
        << kind.code;
    if (!kind.reading) continue;
    const ReadingKind& reading = kind_of(*kind.reading);
    EXPECT_EQ(reading.scope, Scope::per_note) << kind.code;
    EXPECT_TRUE(reading.tolerance_absolute || reading.usual_high) << kind.code;
  }
  EXPECT_EQ(kind_of(PreparationItem::strings_level).reading, Reading::unison_level);
  EXPECT_EQ(kind_of(PreparationItem::hammers_travelling).reading, Reading::hammer_travel);
  EXPECT_EQ(kind_of(PreparationItem::centres_free_and_firm).reading,
            Reading::hammer_centre_friction);
  EXPECT_EQ(kind_of(PreparationItem::screws_tight).reading, std::nullopt);
}

TEST(Preparation, StatesHaveCodes) {
  for (const PreparationState state : {PreparationState::wanting, PreparationState::found,
                                       PreparationState::done, PreparationState::waived}) {
    EXPECT_EQ(preparation_state_by_code(state_code(state)), state);
  }
  EXPECT_EQ(state_code(PreparationState::wanting), "wanting");
  EXPECT_EQ(state_code(PreparationState::found), "found");
  EXPECT_EQ(state_code(PreparationState::done), "done");
  EXPECT_EQ(state_code(PreparationState::waived), "waived");
  EXPECT_EQ(preparation_state_by_code("perhaps"), std::nullopt);
}

TEST(Cautions, HaveOneRowEach) {
  expect_rows_in_order(caution_texts(), static_cast<std::size_t>(Caution::makers_instructions) + 1);
  for (const CautionText& caution : caution_texts()) {
    EXPECT_EQ(&text_of(caution.id), &caution);
    expect_name(caution.heading, caution.code);
    expect_sentences(caution.text, caution.code);
  }
}

}  // namespace
}  // namespace batten
