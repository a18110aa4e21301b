// The profiles that come with the program, held to spans from outside.
#include "core/action/layout.hpp"
#include "profiles/profile_file.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten {
namespace {

using action::Anchor;
using action::Dimensions;
using action::note_of;

std::vector<ProfileFile> all() {
  std::vector<ProfileFile> list;
  for (const StoredProfile& s : stored_profiles()) {
    auto read = parse_profile(s.text, s.name);
    EXPECT_TRUE(read) << read.error().sentence();
    if (read) list.push_back(*read);
  }
  return list;
}

TEST(StoredProfiles, ThereAreThreeAndTheyKnowTheirNames) {
  std::vector<std::string> names;
  for (const ProfileFile& f : all()) {
    names.push_back(f.profile.name);
    EXPECT_FALSE(f.description.empty());
    EXPECT_FALSE(f.profile.source.empty());
  }
  EXPECT_EQ(names, (std::vector<std::string>{"small", "medium", "concert"}));
}

TEST(StoredProfiles, TheMediumC4IsWhatTheCodeSays) {
  const Anchor c4 = note_of(all()[1].profile, *parse_key("C4"));
  for (const auto& f : action::dimension_fields())
    EXPECT_NEAR(c4.dimensions.*f.member, Dimensions{}.*f.member,
                1e-15 * std::abs(Dimensions{}.*f.member))
        << f.code;
  EXPECT_NEAR(c4.wanted.blow, action::Wanted{}.blow, 1e-15);
  EXPECT_NEAR(c4.wanted.dip, action::Wanted{}.dip, 1e-15);
  EXPECT_NEAR(c4.wanted.let_off, action::Wanted{}.let_off, 1e-15);
}

TEST(StoredProfiles, EveryNoteCanBePutTogether) {
  for (const ProfileFile& f : all())
    for (int k = 1; k <= 88; ++k) {
      const Anchor note = note_of(f.profile, Key{k});
      EXPECT_TRUE(check(note.dimensions)) << f.profile.name << " " << k;
      EXPECT_TRUE(action::lay_out(note.dimensions, {})) << f.profile.name << " " << k;
    }
}

// Spans of makers' sheets and workshop articles (trade): blow 44–48, dip 9.5–10.8 (naturals),
// let-off 1–3, check 12–16, wippen to hammer centres 109–115, hammer hanging 130–133.
TEST(StoredProfiles, FiguresLieInTheTradesSpans) {
  for (const ProfileFile& f : all())
    for (int k = 1; k <= 88; ++k) {
      const Anchor a = note_of(f.profile, Key{k});
      const auto inside = [&](const char* what, double si, double low, double high) {
        EXPECT_TRUE(si >= 1e-3 * low - 1e-12 && si <= 1e-3 * high + 1e-12)
            << f.profile.name << " " << note_name(Key{k}) << " " << what << " " << si;
      };
      inside("blow", a.wanted.blow, 44, 48);
      if (is_natural(Key{k})) inside("dip", a.wanted.dip, 9.5, 10.8);
      inside("let-off", a.wanted.let_off, 1, 3);
      inside("check", a.wanted.check_distance, 12, 16);
      inside("centres", a.dimensions.centres, 109, 115);
      inside("hanging", a.dimensions.hammer_length, 130, 133);
    }
}

// Equal temperament at A4 = 440 Hz (ISO 16): the pitch of the string described, f = sqrt(T/(m L))/2
// of an ideal string. The published bass string (A1) lies 3.5 % flat of its note; between two notes
// given, straight lines of T, m and L stray by as much.
TEST(StoredProfiles, StringsSoundTheirNote) {
  for (const ProfileFile& f : all())
    for (int k = 1; k <= 88; ++k) {
      const Dimensions d = note_of(f.profile, Key{k}).dimensions;
      const double pitch = std::sqrt(d.string_tension / (d.string_mass * d.string_length)) / 2;
      const double wanted = 440 * std::exp2((k - 49) / 12.0);
      EXPECT_NEAR(pitch / wanted, 1, 0.037) << f.profile.name << " " << note_name(Key{k});
    }
}

// Stulov 2008, eq. 11: hammer masses of a grand by key number, g. The medium's heads are 2.7 %
// heavier throughout; ± 10 % leaves the other two their lighter and heavier hammers.
TEST(StoredProfiles, HammersWeighWhatIsPublished) {
  for (const ProfileFile& f : all())
    for (int k = 1; k <= 88; ++k) {
      const double published = 11.074 - 0.074 * k + 1e-4 * k * k;
      EXPECT_NEAR(1e3 * note_of(f.profile, Key{k}).dimensions.head_mass, published, 0.1 * published)
          << f.profile.name << " " << note_name(Key{k});
    }
}

}  // namespace
}  // namespace batten
