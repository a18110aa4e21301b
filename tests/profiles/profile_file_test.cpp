// Profiles as JSON: what is read, what is refused and how it is told.
#include "profiles/profile_file.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>
#include <string>

namespace batten {
namespace {

using ::testing::HasSubstr;

std::string profile(const std::string& c4, const std::string& more = "") {
  return R"({"batten-profile": 1, "name": "mine",)" + more + R"("notes": [
    {"note": "C4", )" +
         c4 + R"(},
    {"note": "C5"}
  ]})";
}

action::Dimensions c4_of(const std::string& text) {
  auto read = parse_profile(text, "mine.json");
  EXPECT_TRUE(read) << (read ? "" : read.error().sentence());
  return read ? read->profile.anchors[0].dimensions : action::Dimensions{};
}

std::string refusal(const std::string& text) {
  auto read = parse_profile(text, "mine.json");
  EXPECT_FALSE(read);
  if (read) return "";
  EXPECT_THAT(read.error().happened, HasSubstr("mine.json")) << "names the file";
  return read.error().sentence();
}

TEST(ProfileFile, ANumberMayBeTextWithItsUnitOrBare) {
  for (const char* value : {"\"257.5 mm\"", "257.5", "\"257.5\"", "\"0.2575 m\"", "\"25.75 cm\"",
                            "\"257,5 mm\"", "\" 257.5mm \"", "2.575e2", "\"2.575e2 mm\""})
    EXPECT_NEAR(
        c4_of(profile(std::string(R"("dimensions": {"key-front": )") + value + "}")).key_front,
        0.2575, 1e-15)
        << value;
  // Inch: 25.4 mm exactly (International Yard and Pound Agreement 1959).
  EXPECT_NEAR(c4_of(profile(R"("dimensions": {"key-front": "10 in"})")).key_front, 0.254, 1e-15);
  EXPECT_NEAR(c4_of(profile(R"("dimensions": {"lever-spring": "0.04 Nm"})")).lever_spring, 0.04,
              1e-15);
  // pi / 18 rad is 10 degrees.
  EXPECT_NEAR(c4_of(profile(R"("dimensions": {"heel-tilt": "10 deg"})")).heel_tilt,
              0.17453292519943295, 1e-15);
}

TEST(ProfileFile, WhatIsNotGivenIsAsInTheMediumC4) {
  auto read = parse_profile(profile(R"("wanted": {"blow": "46 mm"})"), "mine.json");
  ASSERT_TRUE(read);
  const action::Anchor& a = read->profile.anchors[0];
  for (const auto& f : action::dimension_fields())
    EXPECT_EQ(a.dimensions.*f.member, action::Dimensions{}.*f.member) << f.code;
  EXPECT_NEAR(a.wanted.blow, 0.046, 1e-15);
  EXPECT_EQ(a.wanted.let_off, action::Wanted{}.let_off);
}

TEST(ProfileFile, EverywhereHoldsUnlessANoteSaysOtherwise) {
  const std::string text = profile(R"("dimensions": {"head-mass": "9 g"})",
                                   R"("everywhere": {"head-mass": "7 g", "key-mass": "120 g"},)");
  auto read = parse_profile(text, "mine.json");
  ASSERT_TRUE(read);
  EXPECT_NEAR(read->profile.anchors[0].dimensions.head_mass, 0.009, 1e-15);
  EXPECT_NEAR(read->profile.anchors[1].dimensions.head_mass, 0.007, 1e-15);
  EXPECT_NEAR(read->profile.anchors[0].dimensions.key_mass, 0.120, 1e-15);
}

TEST(ProfileFile, AMisspeltFieldIsNamedWithTheNearest) {
  const std::string said = refusal(profile(R"("dimensions": {"key-frnot": "257 mm"})"));
  EXPECT_THAT(said, HasSubstr("C4"));
  EXPECT_THAT(said, HasSubstr("there is no field \"key-frnot\""));
  EXPECT_THAT(said, HasSubstr("\"key-front\""));
  EXPECT_THAT(refusal(profile(R"("wanted": {"letoff": "2 mm"})")), HasSubstr("\"let-off\""));
  EXPECT_THAT(refusal(profile(R"("dimension": {})")), HasSubstr("\"dimensions\""));
  EXPECT_THAT(refusal(profile("\"wanted\": {}", R"("sharp": {},)")), HasSubstr("\"sharps\""));
  EXPECT_THAT(refusal(profile(R"("wanted": {"colour": 1})")),
              HasSubstr("There are: blow, let-off"));
}

TEST(ProfileFile, OutOfRangeIsNamedWithTheRangeInItsUnit) {
  const std::string said = refusal(profile(R"("dimensions": {"key-front": "900 mm"})"));
  EXPECT_THAT(said, HasSubstr("key-front is 900 mm"));
  EXPECT_THAT(said, HasSubstr("It must lie from 154.2 mm to 411.2 mm."));
  EXPECT_THAT(refusal(profile(R"("wanted": {"dip": "1 mm"})")), HasSubstr("dip is 1 mm"));
  EXPECT_THAT(refusal(profile(R"("dimensions": {"key-front": 1e999})")), HasSubstr("too large"));
}

TEST(ProfileFile, AnotherUnitIsNamed) {
  EXPECT_THAT(refusal(profile(R"("dimensions": {"key-front": "257 g"})")),
              HasSubstr("key-front: “257 g” is a mass"));
  EXPECT_THAT(refusal(profile(R"("dimensions": {"key-inertia": "3 kg"})")), HasSubstr("gmm2"));
  EXPECT_THAT(refusal(profile(R"("dimensions": {"check-friction": "0.6 N"})")),
              HasSubstr("without a unit"));
  EXPECT_THAT(refusal(profile(R"("dimensions": {"key-front": null})")),
              HasSubstr("neither a number nor a text"));
}

TEST(ProfileFile, ABadFileSaysWhere) {
  EXPECT_THAT(refusal("{\n  \"batten-profile\": 1,\n  \"name\": }"),
              HasSubstr("not JSON at line 3, column 11"));
  EXPECT_THAT(refusal(""), HasSubstr("line 1, column 1"));
  EXPECT_THAT(refusal("[]"), HasSubstr("expected {"));
  EXPECT_THAT(refusal("{}"), HasSubstr("format 1"));
  EXPECT_THAT(refusal(R"({"batten-profile": 2, "name": "x", "notes": []})"), HasSubstr("format 1"));
  EXPECT_THAT(refusal(R"({"batten-profile": 1, "notes": []})"), HasSubstr("\"name\" is missing"));
  EXPECT_THAT(refusal(R"({"batten-profile": 1, "name": "x"})"), HasSubstr("\"notes\" is missing"));
  EXPECT_THAT(refusal(R"({"batten-profile": 1, "name": "x", "notes": [{"note": "C4"}]})"),
              HasSubstr("fewer than two"));
  EXPECT_THAT(refusal(R"({"batten-profile": 1, "name": "x", "notes": [{"note": "H4"}, {}]})"),
              HasSubstr("H4"));
  EXPECT_THAT(refusal(profile(R"("note": "C4")")), HasSubstr("\"note\" is given twice"));
  EXPECT_THAT(refusal(profile("\"wanted\": 5")), HasSubstr("expected {"));
}

// Written and read again: every number, every text, to the last bit or one beside it
// (epsilon 2.2e-16).
TEST(ProfileFile, WhatIsWrittenIsReadBack) {
  ProfileFile file;
  action::Profile& p = file.profile;
  p.name = "Grüner \"Saal\"";
  p.source = "read on the bench";
  file.description = "Two lines\nof text.";
  p.first_undamped = *parse_key("G6");
  p.sharp_shorter = 0.0341;
  unsigned seed = 7;
  const auto share = [&] {
    seed = seed * 1664525U + 1013904223U;
    return static_cast<double>(seed >> 8) / (1U << 24);
  };
  for (const char* note : {"A0", "F#3", "C8"}) {
    action::Anchor a;
    a.key = *parse_key(note);
    for (const auto& f : action::dimension_fields())
      if (share() < 0.7) a.dimensions.*f.member = f.low + share() * (f.high - f.low);
    for (const auto& f : wanted_fields())
      if (share() < 0.7) a.wanted.*f.member = f.low + share() * (f.high - f.low);
    a.balance_weight = 0.3 + 0.1 * share();
    p.anchors.push_back(a);
  }
  auto read = parse_profile(print_profile(file), "again");
  ASSERT_TRUE(read) << read.error().sentence();
  EXPECT_EQ(read->description, file.description);
  EXPECT_EQ(read->profile.name, p.name);
  EXPECT_EQ(read->profile.source, p.source);
  EXPECT_EQ(read->profile.first_undamped, p.first_undamped);
  EXPECT_NEAR(read->profile.sharp_shorter, p.sharp_shorter, 1e-17);
  ASSERT_EQ(read->profile.anchors.size(), p.anchors.size());
  for (std::size_t i = 0; i < p.anchors.size(); ++i) {
    const action::Anchor &a = p.anchors[i], &b = read->profile.anchors[i];
    EXPECT_EQ(a.key, b.key);
    EXPECT_NEAR(a.balance_weight, b.balance_weight, 1e-15);
    for (const auto& f : action::dimension_fields())
      EXPECT_NEAR(b.dimensions.*f.member, a.dimensions.*f.member,
                  3e-16 * std::abs(a.dimensions.*f.member))
          << f.code;
    for (const auto& f : wanted_fields())
      EXPECT_NEAR(b.wanted.*f.member, a.wanted.*f.member, 3e-16 * std::abs(a.wanted.*f.member))
          << f.code;
  }
}

}  // namespace
}  // namespace batten
