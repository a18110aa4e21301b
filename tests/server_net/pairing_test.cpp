#include "server/pairing.hpp"

#include "server/qr.hpp"
#include "server/secrets.hpp"

#include <array>
#include <gmock/gmock.h>
#include <set>

namespace batten::server {
namespace {

using Outcome = Pairing::Outcome;

class PairingTest : public testing::Test {
 protected:
  Outcome attempt(const std::string& code, const std::string& from = "192.0.2.1") {
    return pairing_.attempt(code, from).outcome;
  }
  // Certainly another than the right one.
  std::string wrong() const {
    std::string code = code_.code;
    code[0] = code[0] == '0' ? '1' : '0';
    return code;
  }

  std::int64_t now_ms_ = 1'000'000;
  Pairing pairing_{[this] { return now_ms_; }};
  Pairing::Code code_ = pairing_.make();
};

TEST_F(PairingTest, TheCodeIsGoodOnce) {
  EXPECT_EQ(code_.code.size(), 8U);
  EXPECT_EQ(code_.expires_ms, now_ms_ + 600'000);
  EXPECT_EQ(attempt(code_.code.substr(0, 4) + " " + code_.code.substr(4)), Outcome::right);
  EXPECT_EQ(attempt(code_.code), Outcome::no_code);
}

TEST_F(PairingTest, ForTenMinutes) {
  now_ms_ += 599'999;
  EXPECT_EQ(attempt(wrong()), Outcome::wrong);
  now_ms_ += 1;
  EXPECT_EQ(attempt(code_.code, "192.0.2.2"), Outcome::no_code);
}

TEST_F(PairingTest, ANewOneEndsTheOneBefore) {
  const auto second = pairing_.make();
  if (second.code != code_.code) {
    EXPECT_EQ(attempt(code_.code), Outcome::wrong);
  }
  now_ms_ += 60'000;
  EXPECT_EQ(attempt(second.code), Outcome::right);
}

TEST_F(PairingTest, EachWrongTryMakesTheNextWaitLonger) {
  for (const std::int64_t wait : {1000, 2000, 4000, 8000}) {
    const auto answer = pairing_.attempt(wrong(), "192.0.2.1");
    EXPECT_EQ(answer.outcome, Outcome::wrong);
    EXPECT_EQ(answer.wait_ms, wait);
    now_ms_ += wait - 1;
    // Not looked at, so that even the right one is not known for it.
    EXPECT_EQ(attempt(code_.code), Outcome::too_soon);
    now_ms_ += 1;
  }
  EXPECT_EQ(attempt(code_.code), Outcome::right);
}

TEST_F(PairingTest, ManyAddressesTogetherWaitToo) {
  for (int i = 0; i < 4; ++i) EXPECT_EQ(attempt(wrong(), "a" + std::to_string(i)), Outcome::wrong);
  EXPECT_EQ(attempt(code_.code, "another"), Outcome::too_soon);
}

TEST_F(PairingTest, TenWrongTriesEndTheCode) {
  for (int i = 0; i < 10; ++i) {
    EXPECT_EQ(attempt(wrong(), "a" + std::to_string(i)), Outcome::wrong);
    now_ms_ += 33'000;  // longer than any wait before the tenth
  }
  now_ms_ += Pairing::longest_wait_ms;
  EXPECT_EQ(attempt(code_.code, "another"), Outcome::no_code);
}

// As fast as they come and as slowly as they are let: at most ten of ten thousand are looked at, a
// chance of one in ten million to hit.
TEST_F(PairingTest, OfTenThousandTriesTenAreLookedAt) {
  for (const std::int64_t step : {std::int64_t{0}, std::int64_t{50}, std::int64_t{1000}}) {
    code_ = pairing_.make();
    int looked_at = 0;
    for (int i = 0; i < 10'000; ++i) {
      const Outcome outcome = attempt(wrong(), "192.0.2." + std::to_string(i % 1000));
      ASSERT_NE(outcome, Outcome::right);
      looked_at += outcome == Outcome::wrong;
      now_ms_ += step;
    }
    EXPECT_LE(looked_at, 10);
    EXPECT_GE(looked_at, 1);
    now_ms_ += 3'600'000;
  }
}

TEST_F(PairingTest, WithoutACodeNothingIsRight) {
  Pairing none{[] { return std::int64_t{5}; }};
  EXPECT_EQ(none.attempt("", "a").outcome, Outcome::no_code);
  EXPECT_EQ(none.attempt("00000000", "a").outcome, Outcome::no_code);
}

// FIPS 180-4's own example, "abc".
TEST(Secrets, DigestsAreSha256) {
  EXPECT_EQ(to_hex(sha256("abc")),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

TEST(Secrets, DifferEachTime) {
  std::set<std::string> tokens;
  for (int i = 0; i < 100; ++i) tokens.insert(random_token());
  EXPECT_EQ(tokens.size(), 100U);
  EXPECT_EQ(tokens.begin()->size(), 64U);
  std::array<int, 10> seen{};
  for (const char c : random_digits(10'000)) ++seen.at(static_cast<std::size_t>(c - '0'));
  // Each 1000 ± 30 (one standard deviation of a binomial); ten of them.
  for (const int count : seen) EXPECT_NEAR(count, 1000, 300);
}

TEST(Secrets, AreComparedWhole) {
  EXPECT_TRUE(same_secret("abc", "abc"));
  EXPECT_FALSE(same_secret("abc", "abd"));
  EXPECT_FALSE(same_secret("abc", "ab"));
  EXPECT_FALSE(same_secret("", "a"));
}

// ISO/IEC 18004: version 2 has 25 modules a side; here with four of margin on both.
TEST(QrCode, HasItsSizeAndMargin) {
  EXPECT_THAT(qr_svg("https://192.168.1.20/"), testing::HasSubstr("viewBox=\"0 0 33 33\""));
  EXPECT_EQ(qr_svg(std::string(5000, 'x')), "");
  EXPECT_THAT(qr_terminal("https://192.168.1.20/"), testing::HasSubstr("█"));
}

}  // namespace
}  // namespace batten::server
