// The outlook over a store: whose limit holds, and what is said in both languages.
#include "app/drift_job.hpp"

#include "app/entries.hpp"
#include "app/shop_settings.hpp"
#include "tests/app/desk_fixture.hpp"

#include <gmock/gmock.h>

namespace batten {
namespace {

using testing::HasSubstr;

class Drift : public DeskTest {
 protected:
  void write(EntryContent content) {
    const auto kept = keep(desk_, piano_, {std::move(content)});
    ASSERT_TRUE(kept) << kept.error().sentence();
  }
  Outlook outlook(const DriftRequest& request = {}) {
    auto o = look_ahead(desk_, piano_, request);
    EXPECT_TRUE(o);
    return o ? *o : Outlook{};
  }
};

TEST_F(Drift, OneVisitSaysSoInBothLanguages) {
  EXPECT_EQ(outlook().due.state, DueState::unknown);
  EXPECT_THAT(grounds_sentence(outlook(), Language::english), HasSubstr("Nothing has been read"));
  for (int k = 1; k <= 88; ++k) write(ReadingTaken{Reading::let_off, Key{k}, 1.7, 0.1, "", ""});
  const Outlook o = outlook();
  EXPECT_EQ(o.known, 88);
  EXPECT_EQ(o.known_from.visits, 1);
  EXPECT_THAT(grounds_sentence(o, Language::english), HasSubstr("at one visit only"));
  EXPECT_THAT(grounds_sentence(o, Language::german), HasSubstr("erst bei einem Besuch"));
  EXPECT_THAT(grounds_sentence(o, Language::german), HasSubstr("10 Stunden in der Woche"));
  EXPECT_FALSE(due_sentence(o, Language::german).empty());
}

TEST_F(Drift, TheLimitAskedForThenThePianosThenTheWorkshops) {
  EXPECT_DOUBLE_EQ(outlook().limit, 0.2);
  ASSERT_TRUE(choose_for_shop(desk_, "return-limit", "15 %"));
  EXPECT_DOUBLE_EQ(outlook().limit, 0.15);
  write(SettingChosen{"return-limit", "30 %"});
  EXPECT_DOUBLE_EQ(outlook().limit, 0.3);
  EXPECT_DOUBLE_EQ(outlook({.limit = 0.1, .months = 24}).limit, 0.1);
}

TEST_F(Drift, ListsAreTheWorkshopsWhereItHasOne) {
  auto ours = first_checks(desk_, piano_, "transport");
  ASSERT_TRUE(ours);
  EXPECT_TRUE(ours->listed_is_ours);
  for (const Language language : {Language::english, Language::german})
    for (const std::string& key : ours->listed) EXPECT_TRUE(has_words(language, key)) << key;
  ASSERT_TRUE(choose_for_shop(desk_, "check-list-transport", "wheels; pedals"));
  auto own = first_checks(desk_, piano_, "transport");
  ASSERT_TRUE(own);
  EXPECT_EQ(own->listed, (std::vector<std::string>{"wheels", "pedals"}));
  const auto none = first_checks(desk_, piano_, "flood");
  ASSERT_FALSE(none);
  EXPECT_THAT(none.error().todo, HasSubstr("heavy-use"));
}

TEST_F(Drift, WordsAreReadAsTyped) {
  EXPECT_DOUBLE_EQ(*parse_share("20 %"), 0.2);
  EXPECT_DOUBLE_EQ(*parse_share("7,5"), 0.075);
  EXPECT_FALSE(parse_share("0"));
  EXPECT_FALSE(parse_share("lots"));
  EXPECT_EQ(*parse_months("36"), 36);
  EXPECT_FALSE(parse_months("2.5"));
  EXPECT_FALSE(parse_months("61"));
  EXPECT_EQ(date_of(0, Language::german), "1. Januar 1970");
  EXPECT_EQ(share_text(0.004, Language::english), "< 1 %");
  EXPECT_EQ(share_text(0.115, Language::english), "12 %");
}

}  // namespace
}  // namespace batten
