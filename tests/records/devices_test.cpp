#include "records/devices.hpp"

#include "records/store.hpp"
#include "tests/records/samples.hpp"

#include <gmock/gmock.h>
#include <sqlite3.h>

namespace batten {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::SizeIs;

class DevicesTest : public testing::Test {
 protected:
  samples::Folder folder_;
  Store store_ = Store::open(folder_ / "pianos.store");
  const Device tablet_{samples::identity(8, 1), "Tablet", {1, 2}, 1000, 1000};
  const Device phone_{samples::identity(8, 2), "Handy für Öl", {3, 4}, 2000, 2000};
};

TEST_F(DevicesTest, AreListedAsTheyWereAdded) {
  EXPECT_EQ(store_.add_device(tablet_).value(), tablet_);
  EXPECT_EQ(store_.add_device(phone_).value(), phone_);
  EXPECT_THAT(store_.devices(), ElementsAre(tablet_, phone_));
  EXPECT_THAT(Store::open(folder_ / "pianos.store").devices(), ElementsAre(tablet_, phone_));
}

TEST_F(DevicesTest, OfOneNameGetANumberUntilTheFirstIsRevoked) {
  ASSERT_TRUE(store_.add_device(tablet_));
  Device second = phone_;
  second.name = "Tablet";
  EXPECT_EQ(store_.add_device(second).value().name, "Tablet 2");
  ASSERT_TRUE(store_.revoke_device(tablet_.id, 3000));
  EXPECT_EQ(store_.add_device({samples::identity(8, 3), "Tablet", {5}, 1, 1}).value().name,
            "Tablet");
}

TEST_F(DevicesTest, WithoutANameOrWithBytesThatAreNoTextAreRefused) {
  Device device = tablet_;
  device.name = "";
  EXPECT_FALSE(store_.add_device(device));
  device.name = "\xff";
  EXPECT_FALSE(store_.add_device(device));
  EXPECT_THAT(store_.devices(), SizeIs(0));
}

TEST_F(DevicesTest, StayRevokedFromTheFirstTimeOn) {
  ASSERT_TRUE(store_.add_device(tablet_));
  EXPECT_EQ(store_.revoke_device(tablet_.id, 3000).value().revoked_ms, 3000);
  EXPECT_EQ(store_.revoke_device(tablet_.id, 4000).value().revoked_ms, 3000);
  EXPECT_THAT(store_.revoke_device(phone_.id, 1).error().happened, HasSubstr("no device"));
  sqlite::Connection plain((folder_ / "pianos.store").string(), SQLITE_OPEN_READWRITE, "");
  EXPECT_ANY_THROW(plain.run("UPDATE device SET revoked_ms = NULL"));
}

TEST_F(DevicesTest, AreSeenLaterNeverEarlier) {
  ASSERT_TRUE(store_.add_device(tablet_));
  store_.touch_device(tablet_.id, 5000);
  store_.touch_device(tablet_.id, 4000);
  EXPECT_EQ(store_.devices().front().seen_ms, 5000);
}

// sqlite.org/pragma.html#pragma_data_version: only what others commit changes it.
TEST_F(DevicesTest, AreWrittenUnderAnotherStoresEyes) {
  Store other = Store::open(folder_ / "pianos.store");
  const std::int64_t before = store_.data_version();
  ASSERT_TRUE(store_.add_device(tablet_));
  EXPECT_EQ(store_.data_version(), before);
  const std::int64_t seen = other.data_version();
  ASSERT_TRUE(store_.add_device(phone_));
  EXPECT_NE(other.data_version(), seen);
}

}  // namespace
}  // namespace batten
