#include "core/regulation/aims/aim.hpp"

#include <gtest/gtest.h>

#include <set>

namespace batten {
namespace {

TEST(Aim, ReadingsAndAimsAgree) {
  for (const Aim aim : all_aims)
    for (const Key key : {Key{40}, Key{41}}) EXPECT_EQ(aim_of(reading_of(aim, key)), aim);
  EXPECT_EQ(reading_of(Aim::dip, Key{41}), Reading::sharp_dip) << "C#4";
  EXPECT_EQ(reading_of(Aim::dip, Key{40}), Reading::dip);
  EXPECT_EQ(aim_of(Reading::hammer_height), Aim::blow);
  EXPECT_EQ(aim_of(Reading::down_weight), std::nullopt);
}

TEST(Aim, EveryAdjusterOfANoteServesOneAim) {
  std::set<Aim> served;
  for (std::size_t k = 0; k < note_adjuster_count; ++k) {
    const auto adjuster = static_cast<Adjuster>(k);
    served.insert(aim_for(adjuster));
    EXPECT_EQ(adjuster_for(aim_for(adjuster)), adjuster);
  }
  EXPECT_EQ(served.size(), note_adjuster_count);
  EXPECT_EQ(served.count(Aim::aftertouch), 0u) << "nothing sets it by itself";
  EXPECT_EQ(adjuster_for(Aim::aftertouch), Adjuster::front_punchings);
}

}  // namespace
}  // namespace batten
