// The side view: what it says is what the posture is, and nothing lies outside the sheet.
#include "drawings/side_view.hpp"

#include "profiles/profile_file.hpp"
#include "tests/drawings/svg_reading.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <gmock/gmock.h>

namespace batten {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::Not;

action::Note note(std::string_view profile, const char* name) {
  for (const StoredProfile& s : stored_profiles()) {
    if (s.name != profile) continue;
    action::Note n;
    n.dimensions = note_of(parse_profile(s.text, s.name)->profile, *parse_key(name)).dimensions;
    n.adjustments.let_off_button = 0.0022;
    n.adjustments.drop_screw = 0.0024;
    return n;
  }
  return {};
}

std::string drawn(std::string_view profile, const char* name, double depth, bool inches = false) {
  const auto posture = action::posture_at(note(profile, name), depth);
  EXPECT_TRUE(posture);
  return draw_side_view(*posture, {"title", is_sharp(*parse_key(name)), inches});
}

TEST(SideView, IsWellFormedAndInsideItsSheetOnEveryKindOfNote) {
  for (const char* profile : {"small", "medium", "concert"})
    for (const char* name : {"A0", "C4", "C#4", "C8"})
      for (const double depth : {0.0, 0.006, 0.020}) {
        const std::string svg = drawn(profile, name, depth);
        std::string root;
        EXPECT_EQ(testing::broken(svg, root), "");
        // The clipped inset may draw over its edge; the note itself, which comes before it, not.
        const std::string whole = svg.substr(0, svg.find("<clipPath"));
        for (const std::string& points : testing::values(whole, "points")) {
          const char* at = points.c_str();
          for (char* end = nullptr; *at != '\0'; at = *end == '\0' ? end : end + 1) {
            const double x = std::strtod(at, &end);
            ASSERT_EQ(*end, ',');
            const double y = std::strtod(end + 1, &end);
            EXPECT_TRUE(x >= 0 && x <= 800 && y >= 30 && y <= 400) << name << " " << points;
          }
        }
      }
}

TEST(SideView, NamesThePartsAndTheFigures) {
  const std::string svg = drawn("medium", "C4", 0.006);
  const auto words = testing::texts(svg);
  for (const char* part :
       {"key", "balance rail", "capstan", "wippen", "back check", "hammer", "string", "damper",
        "jack", "jack toe", "knuckle", "repetition lever", "let-off button", "drop screw"})
    EXPECT_THAT(words, Contains(part));
  EXPECT_THAT(words, Contains("6.0\u202fmm down"));
  EXPECT_THAT(svg, HasSubstr("<desc id=\"desc\">Side view of one note: the key 6.0\u202fmm below"));
  EXPECT_THAT(drawn("medium", "C4", 0.00508, true), HasSubstr("0.20\u202fin down"));
}

TEST(SideView, NoDamperIsDrawnWhereThereIsNone) {
  EXPECT_THAT(drawn("medium", "C4", 0), HasSubstr("<title>damper</title>"));
  EXPECT_THAT(drawn("medium", "C8", 0), Not(HasSubstr("<title>damper</title>")));
}

TEST(SideView, TheSameEveryTime) {
  EXPECT_EQ(drawn("medium", "C4", 0.006), drawn("medium", "C4", 0.006));
}

}  // namespace
}  // namespace batten
