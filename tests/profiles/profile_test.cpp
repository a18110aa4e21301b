// core/action/profile: closed forms of straight lines.
#include "core/action/profile.hpp"

#include <gtest/gtest.h>

namespace batten::action {
namespace {

Anchor anchor(const char* note, double head_mass, double blow) {
  Anchor a;
  a.key = *parse_key(note);
  a.dimensions.head_mass = head_mass;
  a.wanted.blow = blow;
  a.balance_weight = 0.30 + head_mass * 10;
  return a;
}

Profile two_octaves() {
  Profile p;
  p.name = "two octaves";
  p.anchors = {anchor("C4", 0.008, 0.046), anchor("C5", 0.006, 0.044)};
  return p;
}

TEST(Profile, AnchorsComeBackAsTheyAre) {
  const Profile p = two_octaves();
  for (const Anchor& a : p.anchors) {
    const Anchor got = note_of(p, a.key);
    for (const DimensionField& f : dimension_fields())
      EXPECT_EQ(got.dimensions.*f.member, a.dimensions.*f.member) << f.code;
    EXPECT_EQ(got.wanted.blow, a.wanted.blow);
    EXPECT_EQ(got.balance_weight, a.balance_weight);
  }
}

TEST(Profile, BetweenAnchorsEverythingIsStraight) {
  const Profile p = two_octaves();
  // A4 is nine of twelve keys on: 0.008 + 9/12 of −0.002.
  const Anchor a = note_of(p, *parse_key("A4"));
  EXPECT_NEAR(a.dimensions.head_mass, 0.0065, 1e-17);
  EXPECT_NEAR(a.wanted.blow, 0.0445, 1e-16);
  EXPECT_NEAR(a.balance_weight, 0.365, 1e-15);
  EXPECT_EQ(a.key, *parse_key("A4"));
  for (const DimensionField& f : dimension_fields()) {
    if (f.member != &Dimensions::head_mass) {
      EXPECT_EQ(a.dimensions.*f.member, Dimensions{}.*f.member) << f.code;
    }
  }
}

TEST(Profile, OutsideTheNearestAnchorHolds) {
  const Profile p = two_octaves();
  EXPECT_EQ(note_of(p, *parse_key("A0")).dimensions.head_mass, 0.008);
  EXPECT_EQ(note_of(p, *parse_key("C8")).dimensions.head_mass, 0.006);
}

TEST(Profile, StringsAreWhole) {
  Profile p = two_octaves();
  p.anchors[0].dimensions.string_count = 1;
  p.anchors[1].dimensions.string_count = 2;
  EXPECT_EQ(note_of(p, *parse_key("F4")).dimensions.string_count, 1);
  EXPECT_EQ(note_of(p, *parse_key("G4")).dimensions.string_count, 2);
}

TEST(Profile, SharpsAreShorterAndTheirPinLiesBack) {
  const Profile p = two_octaves();
  const Anchor sharp = note_of(p, *parse_key("F#4"));
  const Dimensions d;
  EXPECT_NEAR(sharp.dimensions.key_front, d.key_front - 0.035, 1e-15);
  EXPECT_NEAR(sharp.dimensions.front_rail, d.front_rail - 0.035, 1e-15);
  // What is fixed to the frame or to the key's rear end keeps its distances to each other.
  EXPECT_NEAR(sharp.dimensions.wippen_x - sharp.dimensions.capstan_x, d.wippen_x - d.capstan_x,
              1e-15);
  EXPECT_NEAR(sharp.dimensions.capstan_x, d.capstan_x - 0.015, 1e-15);
  EXPECT_NEAR(sharp.dimensions.damper_x, d.damper_x - 0.015, 1e-15);
  EXPECT_NEAR(sharp.dimensions.back_rail, d.back_rail - 0.015, 1e-15);
  EXPECT_NEAR(sharp.wanted.dip, 0.0097, 1e-15);
  EXPECT_NEAR(sharp.dimensions.design_dip, 0.0097, 1e-15);
  EXPECT_EQ(sharp.dimensions.hammer_length, d.hammer_length);
}

TEST(Profile, NoDampersFromTheNoteNamed) {
  Profile p = two_octaves();
  p.first_undamped = *parse_key("G4");
  EXPECT_LE(note_of(p, *parse_key("F#4")).dimensions.damper_start, 1);
  EXPECT_GT(note_of(p, *parse_key("G4")).dimensions.damper_start, 1);
}

TEST(Profile, WhatCannotBeIsNamed) {
  Profile p = two_octaves();
  EXPECT_TRUE(check(p));
  std::swap(p.anchors[0], p.anchors[1]);
  EXPECT_NE(check(p).error().happened.find("C4 stands behind C5"), std::string::npos);
  p = two_octaves();
  p.anchors.pop_back();
  EXPECT_NE(check(p).error().happened.find("fewer than two"), std::string::npos);
  p = two_octaves();
  p.anchors[1].dimensions.key_front = 0.9;
  EXPECT_NE(check(p).error().happened.find("At C5: key-front is 900"), std::string::npos);
  p = two_octaves();
  p.sharp_shorter = 0.2;
  EXPECT_NE(check(p).error().happened.find("sharps"), std::string::npos);
}

}  // namespace
}  // namespace batten::action
