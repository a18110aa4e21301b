// Readings entered by hand.
#include "app/readings.hpp"

#include "app/entries.hpp"
#include "tests/app/desk_fixture.hpp"

#include <gmock/gmock.h>

namespace batten {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

class Readings : public DeskTest {
 protected:
  void refused(const ReadingRequest& request, const std::string& word) {
    const auto before = entries_kept();
    const auto kept = take_reading(desk_, piano_, request);
    ASSERT_FALSE(kept) << request.reading << " " << request.value;
    EXPECT_THAT(kept.error().sentence(), HasSubstr(word));
    EXPECT_EQ(entries_kept(), before);
  }
  ReadingTaken taken(const ReadingRequest& request) {
    const auto kept = take_reading(desk_, piano_, request);
    EXPECT_TRUE(kept) << (kept ? "" : kept.error().sentence());
    return kept ? std::get<ReadingTaken>(kept->content) : ReadingTaken{};
  }
};

TEST_F(Readings, AreKeptAsTypedAndInTheirUnit) {
  const ReadingTaken r = taken({"blow", "C4", "1 3/4\"", "", "block 1"});
  EXPECT_DOUBLE_EQ(r.value, 44.45);  // 1.75 × 25.4
  EXPECT_DOUBLE_EQ(r.uncertainty, kind_of(Reading::blow).usual_uncertainty);
  EXPECT_EQ(r.typed, "1 3/4\"");
  EXPECT_EQ(r.gauge, "block 1");
  EXPECT_EQ(r.note, Key{40});
  EXPECT_DOUBLE_EQ(taken({"string_height", "c4", "195,25", "0.05", ""}).value, 195.25);
  EXPECT_DOUBLE_EQ(taken({"string-height", "40", "195", "0.05 mm", ""}).uncertainty, 0.05);
  EXPECT_FALSE(taken({"humidity", "", "48", "", ""}).note);
  EXPECT_DOUBLE_EQ(taken({"jack-clearance", "C4", "-0.1", "", ""}).value, -0.1);
}

TEST_F(Readings, ThatCannotBeAreRefused) {
  refused({"string-hight", "C4", "195", "", ""}, "string-height");
  refused({"string-height", "", "195", "", ""}, "Say which");
  refused({"string-height", "H4", "195", "", ""}, "H4");
  refused({"string-height", "C9", "195", "", ""}, "C9");
  refused({"string-height", "C4", "", "", ""}, "");
  refused({"string-height", "C4", "1950", "", ""}, "slip");
  refused({"string-height", "C4", "nan", "", ""}, "");
  refused({"string-height", "C4", "195 g", "", ""}, "expected a length");
  refused({"down-weight", "C4", "48 mm", "", ""}, "expected a force");
  refused({"string-height", "C4", "195", "0", ""}, "must lie between");
  refused({"string-height", "C4", "195", "-0.1", ""}, "must lie between");
  refused({"string-height", "C4", "195", "1000000", ""}, "must lie between");
  refused({"string-height", "C4", "195", "0.000001", ""}, "must lie between");
  refused({"string-height", "C4", "195", "wide", ""}, "");
  refused({"humidity", "C4", "48", "", ""}, "Leave the note out");
}

TEST_F(Readings, OfADamperThatIsNotThereAreRefused) {
  EXPECT_TRUE(take_reading(desk_, piano_, {"damper-start", "G6", "0.5", "", ""}));
  ASSERT_TRUE(choose_setting(desk_, piano_, "undamped-from", "G6"));
  refused({"damper-start", "G6", "0.5", "", ""}, "no damper");
  refused({"damper-start", "C8", "0.5", "", ""}, "no damper");
  EXPECT_TRUE(take_reading(desk_, piano_, {"damper-start", "F#6", "0.5", "", ""}));
  EXPECT_TRUE(take_reading(desk_, piano_, {"let-off", "G6", "2", "", ""}));
}

TEST_F(Readings, OfANoteOutOfServiceAreRefused) {
  ASSERT_TRUE(choose_setting(desk_, piano_, "out-of-service", "A0 C4"));
  refused({"hammer-height", "C4", "150", "", ""}, "out of service");
  ASSERT_TRUE(choose_setting(desk_, piano_, "out-of-service", ""));
  EXPECT_TRUE(take_reading(desk_, piano_, {"hammer-height", "C4", "150", "", ""}));
}

TEST_F(Readings, ASeriesRunsEitherWay) {
  const auto plan = [&](const char* from, const char* to, SeriesOf which) {
    return plan_series(desk_, piano_, from, to, which).value_or(std::vector<Key>{});
  };
  EXPECT_THAT(plan("C4", "E4", SeriesOf::all),
              ElementsAre(Key{40}, Key{41}, Key{42}, Key{43}, Key{44}));
  EXPECT_THAT(plan("E4", "C4", SeriesOf::naturals), ElementsAre(Key{44}, Key{42}, Key{40}));
  EXPECT_THAT(plan("C4", "E4", SeriesOf::sharps), ElementsAre(Key{41}, Key{43}));
  EXPECT_EQ(plan("", "", SeriesOf::all).size(), 88U);
  EXPECT_EQ(plan("", "", SeriesOf::naturals).size(), 52U);  // a keyboard has 52 naturals
  ASSERT_TRUE(choose_setting(desk_, piano_, "samples", "C4 E4 G4"));
  EXPECT_THAT(plan("D4", "", SeriesOf::samples), ElementsAre(Key{44}, Key{47}));
  EXPECT_THAT(plan("C4", "C4", SeriesOf::all), ElementsAre(Key{40}));
}

TEST_F(Readings, ASeriesThatCannotBeIsRefused) {
  EXPECT_FALSE(plan_series(desk_, piano_, "C9", "", SeriesOf::all));
  EXPECT_FALSE(plan_series(desk_, piano_, "C4", "H4", SeriesOf::all));
  EXPECT_FALSE(plan_series(desk_, piano_, "C4", "C4", SeriesOf::sharps));
  const Piano bare = *add_piano(desk_, {"Bare", "", {}, ""});
  const auto samples = plan_series(desk_, bare, "", "", SeriesOf::samples);
  ASSERT_FALSE(samples);
  EXPECT_THAT(samples.error().sentence(), HasSubstr("sections"));
}

TEST_F(Readings, ArePrintedInTheirUnit) {
  EXPECT_EQ(print_reading(Reading::string_height, 45.2), "45.20\u202fmm");
  EXPECT_EQ(print_reading(Reading::down_weight, 48), "48.0\u202fgf");
  EXPECT_EQ(print_reading(Reading::damper_start, 0.5), "0.50");
  EXPECT_EQ(print_reading(Reading::spring_rise, 2), "grade 2");
  EXPECT_EQ(print_reading(Reading::humidity, 47.4), "47\u202f%");
  EXPECT_EQ(print_reading(Reading::temperature, 20.5), "20.5\u202f°C");
}

}  // namespace
}  // namespace batten
