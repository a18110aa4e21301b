// The lists agree with themselves and with the catalogue; the limits are the catalogue's own.
#include "core/regulation/complaint/complaint.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string_view>

namespace batten {
namespace {

TEST(Words, EveryCodeIsOnceAndIsFoundAgain) {
  std::set<std::string_view> codes;
  for (const ComplaintKind& k : complaint_kinds()) {
    EXPECT_TRUE(codes.insert(k.code).second) << k.code;
    EXPECT_EQ(complaint_by_code(k.code), k.id);
    EXPECT_EQ(&kind_of(k.id), &k);
    EXPECT_TRUE(k.sentence.ends_with('.')) << k.code;
  }
  for (const CauseKind& k : cause_kinds()) {
    EXPECT_TRUE(codes.insert(k.code).second) << k.code;
    EXPECT_EQ(cause_by_code(k.code), k.id);
    EXPECT_EQ(&kind_of(k.id), &k);
  }
  for (const LookKind& k : look_kinds()) {
    EXPECT_EQ(look_by_code(k.code), k.id);
    EXPECT_EQ(&kind_of(k.id), &k);
  }
  for (const TakingKind& k : taking_kinds()) {
    EXPECT_EQ(taking_by_code(k.code), k.id);
    EXPECT_EQ(&kind_of(k.id), &k);
  }
  EXPECT_EQ(complaint_by_code("Does Not_Repeat"), Complaint::does_not_repeat);
  EXPECT_FALSE(complaint_by_code("squeaks"));
  EXPECT_FALSE(cause_by_code("moths"));
  EXPECT_FALSE(look_by_code("humidity"));
}

TEST(Words, LooksAreTheCatalogues) {
  for (const LookKind& k : look_kinds()) {
    EXPECT_FALSE(k.how.empty()) << k.code;
    EXPECT_GT(k.usual_uncertainty, 0) << k.code;
    if (!k.reading) continue;
    const ReadingKind& reading = kind_of(*k.reading);
    EXPECT_EQ(k.code, reading.code);
    EXPECT_EQ(k.unit, reading.unit);
    EXPECT_EQ(k.usual_uncertainty, reading.usual_uncertainty);
    EXPECT_EQ(look_of(*k.reading), k.id);
  }
  EXPECT_EQ(look_of(Reading::sharp_dip), Look::dip);
  EXPECT_EQ(look_of(Reading::sharps_height), Look::key_height);
  EXPECT_FALSE(look_of(Reading::humidity));
}

TEST(Words, EveryLookBelongsToOneTaking) {
  std::multiset<Look> looks;
  for (const TakingKind& k : taking_kinds()) looks.insert(k.looks.begin(), k.looks.end());
  EXPECT_EQ(looks.size(), look_count);
  for (const LookKind& k : look_kinds()) EXPECT_EQ(looks.count(k.id), 1U) << k.code;
}

// A cause and its opposite are mended by the same adjuster the other way.
TEST(Words, RemediesPointTheOtherWayForTheOppositeFault) {
  const auto opposite = [](Cause a, Cause b) {
    EXPECT_EQ(kind_of(a).adjuster, kind_of(b).adjuster) << kind_of(a).code;
    EXPECT_EQ(kind_of(a).mend, -kind_of(b).mend) << kind_of(a).code;
    EXPECT_NE(kind_of(a).mend, 0) << kind_of(a).code;
    EXPECT_EQ(kind_of(a).mended, kind_of(b).mended) << kind_of(a).code;
  };
  for (std::size_t c = 0; c < static_cast<std::size_t>(Cause::hammer_centre_tight); c += 2)
    opposite(static_cast<Cause>(c), static_cast<Cause>(c + 1));
  for (const CauseKind& k : cause_kinds()) {
    EXPECT_GT(k.prior, 0) << k.code;
    EXPECT_EQ(k.adjuster.has_value(), k.mend != 0) << k.code;
    EXPECT_EQ(k.remedy.empty(), static_cast<std::size_t>(k.id) >= listed_cause_count) << k.code;
  }
}

}  // namespace
}  // namespace batten
