// What gives way put on record, and what a player's words lead to.
#include "app/brief_job.hpp"

#include "app/complaint_job.hpp"
#include "app/entries.hpp"
#include "app/readings.hpp"
#include "core/regulation/aims/targets.hpp"
#include "core/regulation/line/line.hpp"
#include "tests/app/desk_fixture.hpp"

#include <algorithm>
#include <gmock/gmock.h>

namespace batten {
namespace {

using ::testing::HasSubstr;

class BriefJob : public DeskTest {
 protected:
  // A sheet no medium grand can meet: logic of R4 (dip < (blow − let-off) / R with R about 4.9).
  void ask_for_too_little_dip() {
    ASSERT_TRUE(choose_setting(desk_, piano_, "dip-target", "9.5"));
    ASSERT_TRUE(choose_setting(desk_, piano_, "blow-target", "47"));
  }
};

TEST_F(BriefJob, WhatIsTakenIsOnRecordWithItsReason) {
  ask_for_too_little_dip();
  const auto brief = make_brief(desk_, piano_, {"C4"});
  ASSERT_TRUE(brief) << brief.error().sentence();
  ASSERT_EQ(brief->brief.registers.size(), 1U);
  EXPECT_FALSE(brief->profile_chosen);
  ASSERT_FALSE(brief->brief.works());
  ASSERT_FALSE(brief->brief.registers.front().departures.empty());
  const std::size_t before = entries_kept();
  for (const char* which : {"99", "x", "1,1", "-1", "1.5"}) {
    EXPECT_FALSE(accept_departures(desk_, piano_, *brief, which, "")) << which;
    EXPECT_EQ(entries_kept(), before);
  }
  EXPECT_FALSE(accept_departures(desk_, piano_, *brief, "0", ""));  // the sheet as it is
  const auto kept = accept_departures(desk_, piano_, *brief, "cheapest", "agreed with the owner");
  ASSERT_TRUE(kept) << kept.error().sentence();
  const auto now = *standing(desk_, piano_);
  EXPECT_THAT(std::get<Remark>(now.remarks.back().content).text,
              HasSubstr("agreed with the owner"));
  // What was taken works when it is asked again.
  const auto again = make_brief(desk_, piano_, {"C4"});
  ASSERT_TRUE(again);
  EXPECT_TRUE(again->brief.works());
}

TEST_F(BriefJob, RegistersAreNamedOrRefused) {
  const auto none = make_brief(desk_, piano_, {"tenor clef"});
  ASSERT_FALSE(none);
  EXPECT_THAT(none.error().todo, HasSubstr("any note"));
  EXPECT_FALSE(draw_brief(desk_, piano_, {"tenor clef"}, false, folder_ / "map.svg"));
  EXPECT_FALSE(std::filesystem::exists(folder_ / "map.svg"));
}

class ComplaintJob : public DeskTest {};

TEST_F(ComplaintJob, WordsAreUnderstoodByTheirBeginning) {
  EXPECT_EQ(parse_complaint("double-strikes").value(), Complaint::double_strikes);
  EXPECT_EQ(parse_complaint("Double").value(), Complaint::double_strikes);
  EXPECT_FALSE(parse_complaint("too"));  // too heavy, too light
  const auto none = parse_complaint("gremlins");
  ASSERT_FALSE(none);
  EXPECT_THAT(none.error().todo, HasSubstr("double-strikes"));
}

TEST_F(ComplaintJob, TheJournalsReadingsOfTheNoteCountSinceItWasMoved) {
  ASSERT_TRUE(take_reading(desk_, piano_, {"drop", "C4", "0.3", "0.1", ""}));
  ASSERT_TRUE(take_reading(desk_, piano_, {"drop", "D4", "1.5", "0.1", ""}));
  auto found = find_causes(desk_, piano_, {"C4", {"does-not-repeat"}, {}});
  ASSERT_TRUE(found) << found.error().sentence();
  ASSERT_EQ(found->from_journal.size(), 1U);
  EXPECT_THAT(found->from_journal.front(), HasSubstr("0.30"));
  EXPECT_FALSE(found->profile_chosen);
  double sum = 0;
  for (const RankedCause& c : found->diagnosis.ranked) sum += c.probability;
  EXPECT_NEAR(sum, 1, 1e-9);  // chances of all causes
  ASSERT_TRUE(record_move(desk_, piano_, "drop-screw", "C4", "more drop 1/8"));
  found = find_causes(desk_, piano_, {"C4", {"does-not-repeat"}, {}});
  ASSERT_TRUE(found);
  EXPECT_TRUE(found->from_journal.empty());
}

TEST_F(ComplaintJob, WhatCannotBeIsRefused) {
  for (const auto& [request, saying] :
       {std::pair{ComplaintRequest{"H4", {"weak"}, {}}, "H4"},
        std::pair{ComplaintRequest{"C4", {"gremlins"}, {}}, "gremlins"},
        std::pair{ComplaintRequest{"C4", {"weak"}, {"gremlins 1"}}, "no look"},
        std::pair{ComplaintRequest{"C4", {"weak"}, {"key-freedom"}}, "no value"},
        std::pair{ComplaintRequest{"C4", {"weak"}, {"drop far"}}, "far"},
        std::pair{ComplaintRequest{"C4", {}, {}}, ""}}) {
    const auto found = find_causes(desk_, piano_, request);
    ASSERT_FALSE(found) << request.note;
    EXPECT_THAT(found.error().sentence(), HasSubstr(saying));
  }
}

}  // namespace
}  // namespace batten
