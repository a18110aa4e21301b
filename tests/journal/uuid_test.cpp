#include "core/journal/uuid.hpp"

#include <gmock/gmock.h>

namespace batten {
namespace {

TEST(Uuid, WritesTheExampleOfTheStandard) {
  // RFC 9562, section 4, figure 4: the text, and the same as one number.
  const Uuid id{{0xf8, 0x1d, 0x4f, 0xae, 0x7d, 0xec, 0x11, 0xd0, 0xa7, 0x65, 0x00, 0xa0, 0xc9, 0x1e,
                 0x6b, 0xf6}};
  EXPECT_EQ(to_text(id), "f81d4fae-7dec-11d0-a765-00a0c91e6bf6");
  EXPECT_EQ(parse_uuid("f81d4fae-7dec-11d0-a765-00a0c91e6bf6").value(), id);
}

TEST(Uuid, ReadsUpperCaseAndWritesLower) {
  // RFC 9562, section 4: the hexadecimal digits are case-insensitive on input.
  EXPECT_EQ(to_text(parse_uuid("F81D4FAE-7DEC-11D0-A765-00A0C91E6BF6").value()),
            "f81d4fae-7dec-11d0-a765-00a0c91e6bf6");
}

TEST(Uuid, NilAndMaxAsTheStandardHasThem) {
  // RFC 9562, sections 5.9 and 5.10.
  EXPECT_TRUE(parse_uuid("00000000-0000-0000-0000-000000000000").value().is_nil());
  const Uuid max = parse_uuid("ffffffff-ffff-ffff-ffff-ffffffffffff").value();
  EXPECT_FALSE(max.is_nil());
  EXPECT_THAT(max.bytes, testing::Each(0xff));
}

TEST(Uuid, RefusesWhatIsNotOne) {
  for (const char* text :
       {"", "f81d4fae", "f81d4fae-7dec-11d0-a765-00a0c91e6bf",
        "f81d4fae-7dec-11d0-a765-00a0c91e6bf66", "f81d4fae07dec-11d0-a765-00a0c91e6bf6",
        "g81d4fae-7dec-11d0-a765-00a0c91e6bf6", "f81d4fae-7dec-11d0-a765-00a0c91e6b-6",
        "{81d4fae-7dec-11d0-a765-00a0c91e6bf6"}) {
    const auto refused = parse_uuid(text);
    ASSERT_FALSE(refused) << text;
    EXPECT_THAT(refused.error().happened, testing::HasSubstr(text));
  }
}

}  // namespace
}  // namespace batten
