// Ranking against Bayes' rule by hand and a published channel capacity; errors, cautions, words.
#include "core/regulation/complaint/weighing.hpp"
#include "tests/complaint/fixture.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <gmock/gmock.h>
#include <numbers>

namespace batten::trial {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::Not;

double chance_of(const Diagnosis& d, Cause cause) {
  for (const RankedCause& r : d.ranked)
    if (r.cause == cause) return r.probability;
  return -1;
}

// Two causes, alike but for one look and two complaints; the two others next to impossible.
ComplaintTable two_causes(double first, double second) {
  ComplaintTable table;
  table.key = Key{40};
  for (const Cause cause :
       {Cause::capstan_low, Cause::capstan_high, Cause::something_else, Cause::no_fault}) {
    ComplaintTable::Entry e;
    e.cause = cause;
    e.weight = 1e-9;
    e.spread.fill(1e-3);
    e.mention.fill(0.1);
    table.entries.push_back(e);
  }
  table.entries[0].weight = table.entries[1].weight = 0.5;
  table.entries[0].expected[at(Look::blow)] = first;
  table.entries[1].expected[at(Look::blow)] = second;
  table.sound[at(Look::blow)] = 45;
  table.entries[2].expected[at(Look::blow)] = table.entries[3].expected[at(Look::blow)] = 45;
  table.entries[2].spread[at(Look::blow)] = 3;
  complaint::fill_outcomes(table);
  return table;
}

// P(A | felt) = .6 * .9 / (.6 * .9 + .2 * .7) by Bayes' rule, weights alike.
TEST(Diagnose, WeighsComplaintsByBayes) {
  ComplaintTable table = two_causes(47, 43);
  table.entries[0].mention[at(Complaint::weak)] = 0.6;
  table.entries[1].mention[at(Complaint::weak)] = 0.2;
  table.entries[1].mention[at(Complaint::jams)] = 0.3;
  const Complaint felt[] = {Complaint::weak};
  const auto d = diagnose(table, felt, {});
  ASSERT_TRUE(d);
  EXPECT_NEAR(chance_of(*d, Cause::capstan_low), 0.54 / (0.54 + 0.14), 1e-6);
}

// P(A | x) = 1 / (1 + exp(-2 x m / s^2)) for means ±m, spread s (two normal laws, any textbook on
// classification); 0.4 % left for misreadings.
TEST(Diagnose, WeighsAReadingByBayes) {
  const ComplaintTable table = two_causes(46, 44);
  const Sighting seen[] = {{Look::blow, 45.3, 1.0, std::nullopt}};
  const auto d = diagnose(table, {}, seen);
  ASSERT_TRUE(d);
  EXPECT_NEAR(chance_of(*d, Cause::capstan_low), 1 / (1 + std::exp(-2 * 0.3)), 0.004);
}

// What one reading tells of two causes at ±1 standard deviation is the capacity of the binary-input
// Gaussian channel at 0 dB: 0.486 bit (textbooks on coding, figure from memory; checked here by
// Simpson's rule).
TEST(Diagnose, ForetellsEntropyAsAChannelsCapacity) {
  double information = 0;
  constexpr int n = 4000;
  for (int i = 0; i <= n; ++i) {
    const double x = -9 + 20.0 * i / n, w = i == 0 || i == n ? 1 : i % 2 == 1 ? 4 : 2;
    const double p = std::exp(-0.5 * (x - 1) * (x - 1)) / std::sqrt(2 * std::numbers::pi);
    information += w * p * (1 - std::log2(1 + std::exp(-2 * x)));
  }
  information *= 20.0 / n / 3;
  EXPECT_NEAR(information, 0.486, 0.001);
  const double s = kind_of(Look::blow).usual_uncertainty;
  const ComplaintTable table = two_causes(45 + s, 45 - s);
  const double chances[] = {0.5, 0.5, 0, 0};
  const Look blow[] = {Look::blow};
  EXPECT_NEAR(complaint::calc_entropy(table, chances), 1, 1e-12);
  // Misreadings (1 %) and bins take a little of it.
  EXPECT_NEAR(1 - complaint::calc_entropy_after(table, blow, chances), information, 0.015);
}

// By the chain rule no look can be expected to tell less than nothing, nor two less than one.
TEST(Diagnose, ExpectsMoreOfMoreLooks) {
  const Complaint felt[] = {Complaint::does_not_repeat};
  const auto d = diagnose(c4(), felt, {});
  ASSERT_TRUE(d);
  std::vector<double> chances;
  for (const auto& e : c4().entries)
    chances.push_back(e.weight * std::exp(complaint::calc_log_mention(e, [] {
                        std::array<bool, complaint_count> f{};
                        f[at(Complaint::does_not_repeat)] = true;
                        return f;
                      }())));
  double sum = 0;
  for (const double c : chances) sum += c;
  for (double& c : chances) c /= sum;
  EXPECT_NEAR(complaint::calc_entropy(c4(), chances), d->entropy, 1e-9);
  for (const TakingKind& k : taking_kinds()) {
    double before = d->entropy;
    for (std::size_t n = 1; n <= k.looks.size(); ++n) {
      const double after = complaint::calc_entropy_after(c4(), k.looks.first(n), chances);
      // Of three figures bins are taken two by two, by which 0.07 bits are lost.
      EXPECT_LT(after, before + (n == 3 ? 0.12 : 0.005)) << k.code << n;
      before = after;
    }
  }
  for (std::size_t i = 1; i < d->next.size(); ++i)
    EXPECT_GE(d->next[i].entropy_after, d->next[i - 1].entropy_after);
}

TEST(Diagnose, OrderDoesNotMatterAndNeighboursShift) {
  const Complaint ab[] = {Complaint::weak, Complaint::dead_start};
  const Complaint ba[] = {Complaint::dead_start, Complaint::weak};
  const double blow = c4().sound[at(Look::blow)];
  const Sighting one[] = {{Look::blow, blow - 2, 0.2, blow}, {Look::drop, 1.4, {}, {}}};
  const Sighting other[] = {{Look::drop, 1.4, {}, {}}, {Look::blow, blow, 0.2, blow + 2}};
  const auto x = diagnose(c4(), ab, one), y = diagnose(c4(), ba, other);
  ASSERT_TRUE(x && y);
  for (std::size_t c = 0; c < cause_count; ++c)
    EXPECT_NEAR(chance_of(*x, static_cast<Cause>(c)), chance_of(*y, static_cast<Cause>(c)), 1e-12);
}

TEST(Diagnose, RefusesWhatCannotBe) {
  const auto refused = [](const Sighting& s) {
    const auto d = diagnose(c4(), {}, {&s, 1});
    return d ? std::string() : d.error().sentence();
  };
  EXPECT_FALSE(diagnose(c4(), {}, {}));
  EXPECT_THAT(refused({Look::blow, 4.0, {}, {}}), HasSubstr("cannot be 4 mm"));
  EXPECT_THAT(refused({Look::blow, 45.0, {}, 900.0}), HasSubstr("cannot be 900 mm"));
  EXPECT_THAT(refused({Look::blow, 45.0, 0.0, {}}), HasSubstr("not a positive number"));
  EXPECT_THAT(refused({Look::blow, std::nullopt, {}, {}}), HasSubstr("can always be read"));
  EXPECT_THAT(refused({Look::key_height, 65.0, {}, {}}), HasSubstr("keys beside it"));
  EXPECT_THAT(refused({Look::blow, std::nan(""), {}, {}}), HasSubstr("cannot be"));
  EXPECT_EQ(refused({Look::key_height, 65.0, {}, 65.2}), "");
  EXPECT_EQ(refused({Look::drop, std::nullopt, {}, {}}), "");
}

// Every listed cause, told of by what it makes felt and read at all looks, leads and is known; its
// advice is the catalogue's direction, and no advice that could block a hammer or take away its
// escapement comes without the caution (the cautions themselves: trade).
TEST(Diagnose, FindsEveryCauseFromItsOwnFiguresAndCautions) {
  for (std::size_t c = 0; c < listed_cause_count; ++c) {
    const auto cause = static_cast<Cause>(c);
    const auto& e = largest(c4(), cause);
    std::vector<Complaint> felt;
    std::vector<Sighting> seen;
    for (std::size_t k = 0; k < complaint_count; ++k)
      if (e.mention[k] > 0.5) felt.push_back(static_cast<Complaint>(k));
    for (const LookKind& k : look_kinds()) {
      Sighting s{k.id, std::nullopt, {}, {}};
      double value = e.expected[at(k.id)];
      if (k.unit == ReadingUnit::grade) value = std::min(std::round(value), k.possible_high);
      if (!std::isnan(value)) s.value = value;
      if (k.id == Look::key_height) {
        s.value = 65 + value;
        s.beside = 65;
      }
      seen.push_back(s);
    }
    const auto d = diagnose(c4(), felt, seen);
    ASSERT_TRUE(d) << d.error().sentence();
    EXPECT_EQ(d->ranked[0].cause, cause) << kind_of(cause).code;
    ASSERT_TRUE(d->known) << kind_of(cause).code;
    EXPECT_TRUE(d->next.empty());
    ASSERT_TRUE(d->mend);
    EXPECT_EQ(d->mend->direction, kind_of(cause).mend);
    EXPECT_THAT(d->summary, HasSubstr(std::string(kind_of(cause).name)));
    const bool nearer =
        cause == Cause::let_off_early || cause == Cause::drop_large || e.blocks > 0.5;
    const bool uses_up = cause == Cause::capstan_high || cause == Cause::front_punchings_short ||
                         cause == Cause::balance_punchings_over;
    if (nearer) {
      EXPECT_THAT(d->cautions, Contains(Caution::blocked_hammer)) << kind_of(cause).code;
    }
    if (uses_up) {
      EXPECT_THAT(d->cautions, Contains(Caution::lost_escapement));
    }
    if (cause == Cause::damper_late) {
      EXPECT_TRUE(d->cautions.empty());
    }
  }
}

TEST(Diagnose, CautionsWhereAHammerJamsAndSaysWhatItDoesNotKnow) {
  const Complaint felt[] = {Complaint::jams};
  const auto d = diagnose(c4(), felt, {});
  ASSERT_TRUE(d);
  EXPECT_THAT(d->cautions, Contains(Caution::blocked_hammer));
  const Complaint vague[] = {Complaint::uneven};
  const auto v = diagnose(c4(), vague, {});
  ASSERT_TRUE(v);
  EXPECT_FALSE(v->known);
  EXPECT_FALSE(v->mend);
  EXPECT_THAT(v->summary, HasSubstr("Not known yet"));
  ASSERT_FALSE(v->next.empty());
  EXPECT_THAT(v->summary, HasSubstr(std::string(kind_of(v->next[0].taking).name)));
}

// All looks as a note in order has them: no cause of the list is blamed.
TEST(Diagnose, BlamesNothingWhereAllIsInOrder) {
  std::vector<Sighting> seen;
  for (const LookKind& k : look_kinds()) {
    const double sound = c4().sound[at(k.id)] + (k.id == Look::key_height ? 65 : 0);
    seen.push_back({k.id, k.unit == ReadingUnit::grade ? std::round(sound) : sound, {}, {}});
    if (k.id == Look::key_height) seen.back().beside = 65;
  }
  const Complaint felt[] = {Complaint::weak};
  const auto d = diagnose(c4(), felt, seen);
  ASSERT_TRUE(d);
  EXPECT_FALSE(d->known);
  EXPECT_THAT(d->ranked[0].cause, ::testing::AnyOf(Cause::no_fault, Cause::something_else));
  EXPECT_THAT(d->summary, Not(HasSubstr("Very likely")));
}

}  // namespace
}  // namespace batten::trial
