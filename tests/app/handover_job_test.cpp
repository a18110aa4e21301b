// A visit told from a small journal that is worked by hand beside each check.
#include "app/handover_job.hpp"

#include "app/entries.hpp"
#include "core/regulation/catalogue/preparation.hpp"
#include "tests/app/desk_fixture.hpp"

#include <algorithm>
#include <gmock/gmock.h>

namespace batten {
namespace {

constexpr Key c4{40};

class Handover : public DeskTest {
 protected:
  Handover() {
    for (const PreparationKind& k : preparation_kinds())
      write(PreparationNoted{k.id, std::nullopt, PreparationState::found, ""});
    std::string others;
    for (int k = 1; k <= 88; ++k)
      if (k != c4.number) others += note_name(Key{k}) + " ";
    write(SettingChosen{"out-of-service", others});
    write(SettingChosen{"action-profile", "medium"});
    write(SettingChosen{"blow-target", "45 mm"});
  }
  void write(EntryContent content) {
    const auto kept = keep(desk_, piano_, {std::move(content)});
    ASSERT_TRUE(kept) << kept.error().sentence();
  }
  void read(Reading r, double value, double sd = 0.05) {
    write(ReadingTaken{r, c4, value, sd, "", ""});
  }
  PianoHandover told() {
    auto plan = plan_work(desk_, piano_);
    EXPECT_TRUE(plan) << plan.error().sentence();
    if (!plan) return {};
    auto handover = hand_over(desk_, piano_, *plan);
    EXPECT_TRUE(handover) << handover.error().sentence();
    return handover ? *handover : PianoHandover{};
  }
  static NoteAccount of(const PianoHandover& h, Reading reading) {
    const auto found = std::ranges::find(h.account.notes, reading, &NoteAccount::reading);
    return found == h.account.notes.end() ? NoteAccount{} : *found;
  }
  static ReadingAccount sum(const PianoHandover& h, Reading reading) {
    const auto found = std::ranges::find(h.account.readings, reading, &ReadingAccount::reading);
    return found == h.account.readings.end() ? ReadingAccount{} : *found;
  }
};

TEST_F(Handover, ClaimsNothingWhereNothingWasRead) {
  const PianoHandover h = told();
  ASSERT_FALSE(h.account.readings.empty());
  for (const NoteAccount& n : h.account.notes) {
    EXPECT_EQ(n.basis, Basis::unread);
    EXPECT_FALSE(n.first);
    EXPECT_FALSE(n.outside_now());
  }
  const ReadingAccount blow = sum(h, Reading::blow);
  EXPECT_EQ(blow.asked, 1);
  EXPECT_EQ(blow.read + blow.now_read + blow.now_reckoned, 0);
  EXPECT_EQ(blow.compared_now.notes, 0);
  EXPECT_TRUE(h.account.moves.empty());
  EXPECT_FALSE(h.last_ms);
}

TEST_F(Handover, SetsTheFirstReadingBesideTheLast) {
  read(Reading::blow, 47);  // 2 mm off the 45 wanted: outside 0.5
  write(MoveMade{Adjuster::capstan, c4, 0.125, ""});
  // Moved and not read again: what is said of it now is the model's.
  PianoHandover h = told();
  EXPECT_EQ(of(h, Reading::blow).basis, Basis::reckoned);
  EXPECT_LT(of(h, Reading::blow).now, 46.5);
  read(Reading::blow, 45.2);
  h = told();
  const NoteAccount blow = of(h, Reading::blow);
  EXPECT_TRUE(blow.as_found);
  EXPECT_EQ(blow.basis, Basis::read);
  EXPECT_DOUBLE_EQ(blow.first.value_or(0), 47);
  EXPECT_DOUBLE_EQ(blow.now, 45.2);  // as read, not drawn toward what was expected
  EXPECT_TRUE(blow.shifted);
  EXPECT_TRUE(blow.outside_at_first());
  EXPECT_FALSE(blow.outside_now());
  const ReadingAccount s = sum(h, Reading::blow);
  EXPECT_EQ(s.as_found, 1);
  EXPECT_EQ(s.compared_found.outside, 1);
  EXPECT_EQ(s.compared_now.outside, 0);
  EXPECT_NEAR(s.compared_found.rms, 2, 1e-9);
  EXPECT_NEAR(s.compared_found.rms_tolerances, 4, 1e-9);
  EXPECT_EQ(h.who, std::vector<std::string>{"Mira"});
}

TEST_F(Handover, DoesNotTakeAReadingAfterTheFactForWhatWasFound) {
  write(MoveMade{Adjuster::drop_screw, c4, 0.25, ""});
  read(Reading::drop, 1.5);
  // A capstan's eighth of a turn shortens the blow by a millimetre, and about a fifth of that (the
  // action's ratio) comes out at the key's end: more than a quarter of 0.15 mm.
  read(Reading::dip, 10);
  write(MoveMade{Adjuster::capstan, c4, 0.125, ""});
  read(Reading::aftertouch, 1.2);
  const PianoHandover h = told();
  EXPECT_FALSE(of(h, Reading::drop).as_found);
  EXPECT_FALSE(of(h, Reading::aftertouch).as_found);
  EXPECT_EQ(of(h, Reading::drop).basis, Basis::read);
  EXPECT_FALSE(of(h, Reading::drop).shifted);  // not since it was first read
  // A capstan does nothing to the key's own travel.
  EXPECT_TRUE(of(h, Reading::dip).as_found);
  EXPECT_EQ(of(h, Reading::dip).basis, Basis::read);
  EXPECT_EQ(sum(h, Reading::drop).compared_found.notes, 0);
}

TEST_F(Handover, CountsMovesNotesAndWaysApart) {
  write(MoveMade{Adjuster::capstan, c4, 0.125, ""});
  write(MoveMade{Adjuster::capstan, c4, -0.03125, ""});
  write(MoveMade{Adjuster::damper_pedal_rod, std::nullopt, 1, ""});
  const PianoHandover h = told();
  ASSERT_EQ(h.account.moves.size(), 2U);
  const AdjusterAccount capstan = h.account.moves[0];
  EXPECT_EQ(capstan.moves, 2);
  EXPECT_EQ(capstan.notes, 1);
  EXPECT_DOUBLE_EQ(capstan.positive, 0.125);
  EXPECT_DOUBLE_EQ(capstan.negative, 0.03125);
  ASSERT_EQ(h.account.moves_of_note.size(), 2U);
  EXPECT_DOUBLE_EQ(h.account.moves_of_note[0].amount, 0.09375);
  EXPECT_FALSE(h.account.moves_of_note[1].key);
}

TEST_F(Handover, SaysWhatIsLeftOutsideAndWhy) {
  read(Reading::blow, 47);
  PianoHandover h = told();
  ASSERT_EQ(h.account.outside.size(), 1U);
  EXPECT_EQ(h.account.outside[0].note.reading, Reading::blow);
  EXPECT_NE(h.account.outside[0].why, StillOutside::Why::skipped);
  write(MoveSkipped{Adjuster::capstan, c4, "screw turns in the wood"});
  h = told();
  ASSERT_EQ(h.account.outside.size(), 1U);
  EXPECT_EQ(h.account.outside[0].why, StillOutside::Why::skipped);
  ASSERT_TRUE(h.account.outside[0].skip);
  EXPECT_EQ(std::get<MoveSkipped>(h.account.outside[0].skip->content).reason,
            "screw turns in the wood");
}

TEST_F(Handover, TellsTheRoomAndTheWeightsAsReadFirstAndLast) {
  write(ReadingTaken{Reading::humidity, std::nullopt, 47, 2, "", ""});
  write(ReadingTaken{Reading::humidity, std::nullopt, 44, 2, "", ""});
  read(Reading::down_weight, 52, 1);
  const PianoHandover h = told();
  ASSERT_EQ(h.account.others.size(), 2U);
  EXPECT_EQ(h.account.others[0].times, 2);
  EXPECT_EQ(h.account.others[0].first, 47);
  EXPECT_EQ(h.account.others[0].last, 44);
  EXPECT_GT(h.account.others[0].last_ms, h.account.others[0].first_ms);
  EXPECT_EQ(h.account.others[1].key, c4);
}

TEST_F(Handover, KeepsAnEarlierVisitsReadingsApart) {
  read(Reading::blow, 47);
  write(MoveMade{Adjuster::capstan, c4, 0.0625, ""});
  ASSERT_TRUE(begin_visit(desk_, piano_, "after the summer"));
  read(Reading::let_off, 1.7);
  const PianoHandover h = told();
  ASSERT_TRUE(h.visit);
  EXPECT_EQ(h.visit->title, "after the summer");
  EXPECT_EQ(of(h, Reading::blow).basis, Basis::earlier);
  EXPECT_FALSE(of(h, Reading::blow).first);
  EXPECT_EQ(sum(h, Reading::blow).only_earlier, 1);
  EXPECT_TRUE(h.account.moves.empty());
  EXPECT_TRUE(of(h, Reading::let_off).as_found);
}

}  // namespace
}  // namespace batten
