// Tables in and out of the journal.
#include "app/files.hpp"
#include "app/tables.hpp"

#include "app/entries.hpp"
#include "app/readings.hpp"
#include "tests/app/desk_fixture.hpp"

#include <algorithm>
#include <gmock/gmock.h>
#include <tuple>

namespace batten {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

class Tables : public DeskTest {
 protected:
  using Row = std::tuple<Reading, std::optional<Key>, double, double, std::string>;
  std::vector<Row> rows_of(const Piano& piano) {
    std::vector<Row> rows;
    const Standing now = *standing(desk_, piano);
    for (const Entry& e : now.readings) {
      const auto& r = std::get<ReadingTaken>(e.content);
      rows.emplace_back(r.reading, r.note, r.value, r.uncertainty, r.gauge);
    }
    return rows;
  }
};

TEST_F(Tables, AGoodTableIsKept) {
  write(folder_ / "t.csv", "note,reading,value,unit\nC4,string-height,195.2,mm\nD4,blow,1.75,in\n");
  std::vector<double> told;
  const auto out = import_table(desk_, piano_, folder_ / "t.csv", false,
                                [&](double share) { told.push_back(share); });
  ASSERT_TRUE(out);
  EXPECT_EQ(out->kept, 2U);
  EXPECT_EQ(rows_of(piano_).size(), 2U);
  EXPECT_TRUE(std::is_sorted(told.begin(), told.end()));
  EXPECT_EQ(told.back(), 1);
}

TEST_F(Tables, AnImportIsTakenBackInOneStep) {
  ASSERT_TRUE(take_reading(desk_, piano_, {"blow", "C4", "46", "", ""}));
  write(folder_ / "t.csv", "note,reading,value,unit\nC4,string-height,195.2,mm\nD4,blow,45,mm\n");
  ASSERT_TRUE(import_table(desk_, piano_, folder_ / "t.csv", false));
  ASSERT_EQ(rows_of(piano_).size(), 3U);
  const auto step = undo_step(desk_, piano_);
  ASSERT_TRUE(step);
  EXPECT_EQ(step->size(), 2U);
  EXPECT_EQ(rows_of(piano_).size(), 1U);
  ASSERT_TRUE(undo_step(desk_, piano_));  // the single reading before it is a step of its own
  EXPECT_TRUE(rows_of(piano_).empty());
}

TEST_F(Tables, ABadRowKeepsNothingUnlessTheGoodAreAskedFor) {
  write(folder_ / "t.csv",
        "note,reading,value,unit\nC4,string-height,195.2,mm\nH4,string-height,195,mm\n"
        "D4,string-height,195.3,mm\n");
  const auto refused = import_table(desk_, piano_, folder_ / "t.csv", false);
  ASSERT_TRUE(refused);
  EXPECT_EQ(refused->kept, 0U);
  EXPECT_EQ(refused->bad_rows, 1);
  ASSERT_EQ(refused->bad.size(), 1U);
  EXPECT_EQ(refused->bad[0].line, 3);
  EXPECT_EQ(entries_kept(), 1U);
  EXPECT_EQ(import_table(desk_, piano_, folder_ / "t.csv", true)->kept, 2U);
}

TEST_F(Tables, AFileThatCannotBeReadKeepsNothing) {
  EXPECT_FALSE(import_table(desk_, piano_, folder_ / "none.csv", false));
  EXPECT_FALSE(import_table(desk_, piano_, folder_.path(), false));
  write(folder_ / "empty.csv", "");
  EXPECT_FALSE(import_table(desk_, piano_, folder_ / "empty.csv", false));
  write(folder_ / "odd.csv", "a,b,c\n1,2,3\n");
  EXPECT_FALSE(import_table(desk_, piano_, folder_ / "odd.csv", true));
  EXPECT_EQ(entries_kept(), 1U);
}

// What a table reader takes must obey the same rules as the hand: no damper, no reading of it.
TEST_F(Tables, WhatThePianoDoesNotHaveIsABadRowToo) {
  ASSERT_TRUE(choose_setting(desk_, piano_, "undamped-from", "G6"));
  ASSERT_TRUE(choose_setting(desk_, piano_, "out-of-service", "C4"));
  write(folder_ / "t.csv", "note,reading,value\nG6,damper-start,0.5\nC4,blow,46\nD4,blow,46\n");
  const auto out = import_table(desk_, piano_, folder_ / "t.csv", false);
  ASSERT_TRUE(out);
  EXPECT_EQ(out->bad_rows, 2);
  EXPECT_EQ(out->kept, 0U);
  ASSERT_EQ(out->bad.size(), 2U);
  EXPECT_EQ(out->bad[0].line, 2);
  EXPECT_THAT(out->bad[0].reason.sentence(), HasSubstr("no damper"));
  EXPECT_THAT(out->bad[1].reason.sentence(), HasSubstr("out of service"));
  EXPECT_EQ(import_table(desk_, piano_, folder_ / "t.csv", true)->kept, 1U);
}

TEST_F(Tables, ExportAndImportGiveTheSameReadings) {
  ASSERT_TRUE(take_reading(desk_, piano_, {"string-height", "C4", "195.123", "0.07", "dial 2"}));
  ASSERT_TRUE(take_reading(desk_, piano_, {"string-height", "C4", "195.2", "", "=1+1"}));
  ASSERT_TRUE(take_reading(desk_, piano_, {"down-weight", "A0", "0.47 N", "", ""}));
  ASSERT_TRUE(take_reading(desk_, piano_, {"datum-transfer", "C8", "-63.4", "", "Čidlo; \"7\""}));
  ASSERT_TRUE(take_reading(desk_, piano_, {"humidity", "", "48", "", ""}));
  ASSERT_TRUE(take_reading(desk_, piano_, {"blow", "C4", "44", "", ""}));
  ASSERT_TRUE(undo(desk_, piano_));  // taken back, not exported
  int number = 0;
  for (const TableForm form : {TableForm::long_form, TableForm::wide_form})
    for (const TableStyle style :
         {TableStyle{}, TableStyle{';', true, true}, TableStyle{'\t', false, false}}) {
      const std::string name = "copy" + std::to_string(++number);
      const Piano copy = *add_piano(desk_, {name, "", {}, ""});
      const auto text = export_table(desk_, piano_, {form, style});
      ASSERT_TRUE(text);
      ASSERT_TRUE(write_file(folder_ / (name + ".csv"), *text));
      const auto out = import_table(desk_, copy, folder_ / (name + ".csv"), false);
      ASSERT_TRUE(out) << out.error().sentence();
      EXPECT_EQ(out->bad_rows, 0);
      auto ours = rows_of(piano_), theirs = rows_of(copy);
      std::sort(ours.begin(), ours.end());
      std::sort(theirs.begin(), theirs.end());
      EXPECT_EQ(ours.size(), 5U);
      EXPECT_EQ(ours, theirs) << *text;
    }
}

TEST_F(Tables, AFileIsWholeOrAsItWas) {
  const fs::path file = folder_ / "out.csv";
  ASSERT_TRUE(write_file(file, "old"));
  ASSERT_TRUE(write_file(file, "new"));
  EXPECT_EQ(samples::bytes_of(file), "new");
  EXPECT_FALSE(write_file(folder_.path() / "none" / "out.csv", "x"));
  EXPECT_FALSE(write_file(folder_.path(), "x"));
  // Nothing is left lying beside it.
  for (const auto& entry : fs::directory_iterator(folder_.path()))
    EXPECT_NE(entry.path().extension(), ".part") << entry.path();
}

}  // namespace
}  // namespace batten
