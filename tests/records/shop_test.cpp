// What a store keeps beside journals.
#include "records/store.hpp"
#include "tests/records/samples.hpp"

#include <gmock/gmock.h>

namespace batten {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::Pair;

class ShopTest : public testing::Test {
 protected:
  Store open() { return Store::open(folder_ / "pianos.store"); }
  samples::Folder folder_;
};

TEST_F(ShopTest, KeepsWhatIsSetUntilItIsSetOtherwise) {
  {
    Store store = open();
    EXPECT_THAT(store.shop(), IsEmpty());
    ASSERT_TRUE(store.set_shop("paper", "a4"));
    ASSERT_TRUE(store.set_shop("letterhead-name", "Zoë\nÄ"));
    ASSERT_TRUE(store.set_shop("paper", "letter"));
  }
  Store store = open();
  EXPECT_THAT(store.shop(),
              ElementsAre(Pair("letterhead-name", "Zoë\nÄ"), Pair("paper", "letter")));
  ASSERT_TRUE(store.set_shop("paper", std::nullopt));
  ASSERT_TRUE(store.set_shop("never set", std::nullopt));
  EXPECT_THAT(store.shop(), ElementsAre(Pair("letterhead-name", "Zoë\nÄ")));
  EXPECT_FALSE(store.set_shop("", "x"));
  EXPECT_FALSE(store.set_shop("name", "\xff"));
}

TEST_F(ShopTest, KeepsOneLogoToTheByte) {
  Store store = open();
  EXPECT_FALSE(store.logo());
  Logo logo{"image/png", {0, 255, 1, 0}};
  ASSERT_TRUE(store.set_logo(logo));
  EXPECT_EQ(open().logo(), logo);
  logo = {"image/jpeg", std::vector<std::uint8_t>(most_logo_bytes, 7)};
  ASSERT_TRUE(store.set_logo(logo));
  EXPECT_EQ(open().logo(), logo);
  EXPECT_FALSE(store.set_logo(Logo{"image/jpeg", std::vector<std::uint8_t>(most_logo_bytes + 1)}));
  EXPECT_FALSE(store.set_logo(Logo{"image/svg+xml", {1}}));
  EXPECT_FALSE(store.set_logo(Logo{"image/png", {}}));
  EXPECT_EQ(open().logo(), logo);
  ASSERT_TRUE(store.set_logo(std::nullopt));
  EXPECT_FALSE(open().logo());
}

TEST_F(ShopTest, KeepsTheLastOutlookOfEachPiano) {
  Store store = open();
  ASSERT_TRUE(store.add_piano(samples::piano(1)));
  ASSERT_TRUE(store.add_piano(samples::piano(2)));
  const KeptOutlook first{samples::piano(1).id, 5, "drift 1", "{}"};
  const KeptOutlook second{samples::piano(2).id, 6, "drift 1", "ä"};
  const KeptOutlook stranger{samples::piano(3).id, 7, "drift 1", "x"};
  store.keep_outlooks(std::vector{first, second, stranger});
  EXPECT_THAT(store.kept_outlooks(), ElementsAre(first, second));
  const KeptOutlook later{samples::piano(1).id, 8, "drift 2", "{1}"};
  store.keep_outlooks(std::vector{later});
  EXPECT_THAT(open().kept_outlooks(), ElementsAre(later, second));
}

}  // namespace
}  // namespace batten
