// From the journal to advice and paper.
#include "app/line_job.hpp"

#include "app/entries.hpp"
#include "app/readings.hpp"
#include "tests/app/desk_fixture.hpp"

#include <cstdlib>
#include <ctime>
#include <gmock/gmock.h>

namespace batten {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

class LineJob : public DeskTest {};

TEST_F(LineJob, IsDrawnFromWhatIsOnRecord) {
  for (const PreparationKind& k : preparation_kinds())
    ASSERT_TRUE(note_preparation(desk_, piano_, k.code, "found", "", ""));
  ASSERT_TRUE(choose_setting(desk_, piano_, "blow-target", "46"));
  ASSERT_TRUE(take_reading(desk_, piano_, {"blow", "C4", "47", "0.05", ""}));
  const auto line = draw_line(desk_, piano_);
  ASSERT_TRUE(line);
  ASSERT_EQ(line->order.size(), 1U);
  EXPECT_EQ(line->at(Key{40}).verdict, Verdict::move);
  ASSERT_TRUE(record_move(desk_, piano_, "capstan", "C4", "raise 7/64"));
  EXPECT_EQ(draw_line(desk_, piano_)->at(Key{40}).verdict, Verdict::moved_read_again);
}

TEST_F(LineJob, WithoutSectionsSaysWhatIsMissing) {
  const Piano bare = *add_piano(desk_, {"Bare", "", {}, ""});
  const auto line = draw_line(desk_, bare);
  ASSERT_FALSE(line);
  EXPECT_THAT(line.error().happened, HasSubstr("sections"));
  EXPECT_FALSE(write_sheet(desk_, bare, folder_ / "s.pdf", {}));
  EXPECT_FALSE(std::filesystem::exists(folder_ / "s.pdf"));
}

TEST_F(LineJob, TheSheetIsAPdfOrAPicture) {
  ASSERT_TRUE(take_reading(desk_, piano_, {"blow", "C4", "47", "0.05", ""}));
  const auto pages = write_sheet(desk_, piano_, folder_ / "s.pdf", {});
  ASSERT_TRUE(pages) << pages.error().sentence();
  EXPECT_GE(*pages, 1);
  EXPECT_THAT(samples::bytes_of(folder_ / "s.pdf"), StartsWith("%PDF-"));  // ISO 32000-1, 7.5.2
  SheetRequest picture;
  picture.picture = true;
  picture.dpi = 50;
  ASSERT_TRUE(write_sheet(desk_, piano_, folder_ / "s.png", picture));
  EXPECT_THAT(samples::bytes_of(folder_ / "s.png"), StartsWith("\x89PNG"));  // PNG (W3C), 5.2
  picture.page = 99;                                                         // the last there is
  EXPECT_EQ(write_sheet(desk_, piano_, folder_ / "t.png", picture).value_or(0), *pages);
}

TEST_F(LineJob, ASheetThatCannotBeWrittenSaysSo) {
  const auto pages = write_sheet(desk_, piano_, folder_.path() / "none" / "s.pdf", {});
  ASSERT_FALSE(pages);
  EXPECT_FALSE(pages.error().todo.empty());
}

// Unix time 0 is 1970-01-01T00:00:00Z (POSIX); 1 796 774 400 is 2026-12-09 00:00 UTC (date -u).
TEST(Times, ArePrintedForPeopleWhereTheyAreAndForProgramsInUtc) {
  const char* old = std::getenv("TZ");
  const std::string before = old == nullptr ? "" : old;
  setenv("TZ", "XYZ-2", 1);  // two hours ahead of UTC (POSIX notation)
  tzset();
  const std::int64_t late = 1'796'774'400'000 - 3'600'000;  // 23:00 UTC the day before
  EXPECT_EQ(print_timestamp(late), "2026-12-08T23:00:00Z");
  EXPECT_EQ(print_timestamp(0), "1970-01-01T00:00:00Z");
  EXPECT_EQ(print_timestamp(-1), "1969-12-31T23:59:59Z");
  EXPECT_EQ(print_clock(late), "2026-12-09 01:00");
  EXPECT_EQ(print_date(late), "9 December 2026");
  if (old == nullptr)
    unsetenv("TZ");
  else
    setenv("TZ", before.c_str(), 1);
  tzset();
}

}  // namespace
}  // namespace batten
