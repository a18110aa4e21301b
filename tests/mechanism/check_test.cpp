// What a description may not be, and that the refusal names it.
#include "core/mechanism/mechanism.hpp"
#include "tests/mechanism/samples.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <gmock/gmock.h>
#include <limits>
#include <string>

namespace batten::tests {
namespace {

using namespace mechanism;
using testing::HasSubstr;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

struct Wrong {
  std::string name;
  std::string said;
  std::function<void(Description&)> spoil;
};
void PrintTo(const Wrong& wrong, std::ostream* out) { *out << wrong.name; }

class Refuses : public testing::TestWithParam<Wrong> {};

TEST_P(Refuses, with_a_sentence) {
  Description d = train();
  ASSERT_TRUE(check(d));
  GetParam().spoil(d);
  const auto result = check(d);
  ASSERT_FALSE(result);
  EXPECT_THAT(result.error().happened, HasSubstr(GetParam().said));
  EXPECT_THAT(result.error().todo, testing::Not(testing::IsEmpty()));
}

INSTANTIATE_TEST_SUITE_P(
    Descriptions, Refuses,
    testing::Values(
        Wrong{"no_bodies", "no bodies", [](auto& d) { d = {}; }},
        Wrong{"too_many_bodies", "13 bodies; at most 12",
              [](auto& d) { d.bodies.resize(13, d.bodies[0]); }},
        Wrong{"parent_after_child", "\"beam\" hangs on a body that does not come before it",
              [](auto& d) { d.bodies[0].parent = 1; }},
        Wrong{"own_parent", "does not come before it", [](auto& d) { d.bodies[3].parent = 3; }},
        Wrong{"no_such_parent", "does not come before it",
              [](auto& d) { d.bodies[3].parent = -2; }},
        Wrong{"slide_on_a_pin", "\"weight\" is carried by a body that turns",
              [](auto& d) { d.bodies[7].parent = 0; }},
        Wrong{"direction_not_unit", "\"weight\" has a direction",
              [](auto& d) {
                d.bodies[7].direction = {0, 1.1};
              }},
        Wrong{"direction_nan", "has a direction",
              [](auto& d) {
                d.bodies[7].direction = {nan, 1};
              }},
        Wrong{"mass_negative", "\"prop\" has a mass", [](auto& d) { d.bodies[3].mass = -1; }},
        Wrong{"mass_nan", "has a mass", [](auto& d) { d.bodies[3].mass = nan; }},
        Wrong{"inertia_infinite", "has a mass or inertia",
              [](auto& d) { d.bodies[3].inertia = infinity; }},
        Wrong{"place_nan", "\"arm\" has a place", [](auto& d) { d.bodies[5].at.x = nan; }},
        Wrong{"centre_nan", "has a place", [](auto& d) { d.bodies[5].centre.y = infinity; }},
        Wrong{"nothing_turns", "\"prop\" turns without any inertia",
              [](auto& d) {
                d.bodies[3].inertia = 0;
                d.bodies[3].centre = {};
              }},
        Wrong{"nothing_slides", "\"plate\" moves without any mass",
              [](auto& d) { d.bodies[8].mass = 0; }},
        Wrong{"chain_too_long", "hangs on more than 5 others",
              [](auto& d) {
                d.contacts.clear();
                for (int i = 1; i < 7; ++i) {
                  d.bodies[static_cast<std::size_t>(i)] = d.bodies[0];
                  d.bodies[static_cast<std::size_t>(i)].parent = i - 1;
                }
              }},
        Wrong{"gravity_nan", "gravity", [](auto& d) { d.gravity.y = nan; }},
        Wrong{"too_many_contacts", "65 contacts; at most 64",
              [](auto& d) { d.contacts.resize(65, d.contacts[0]); }},
        Wrong{"contact_nowhere", "\"toe on button\" names a body",
              [](auto& d) { d.contacts[3].solid_body = 9; }},
        Wrong{"contact_with_itself", "between a body and itself",
              [](auto& d) { d.contacts[3].solid_body = d.contacts[3].round_body; }},
        Wrong{"law_soft_as_nothing", "impossible law",
              [](auto& d) { d.contacts[3].law.stiffness = 0; }},
        Wrong{"law_power", "impossible law", [](auto& d) { d.contacts[3].law.half_powers = 1; }},
        Wrong{"law_damping", "impossible law", [](auto& d) { d.contacts[3].law.damping = -.1; }},
        Wrong{"law_friction", "impossible law", [](auto& d) { d.contacts[3].law.friction = nan; }},
        Wrong{"law_slip", "impossible law", [](auto& d) { d.contacts[3].law.slip_speed = 0; }},
        Wrong{"disc_radius", "impossible disc", [](auto& d) { d.contacts[3].arc.radius = -1e-3; }},
        Wrong{"arc_empty", "impossible arc",
              [](auto& d) { d.contacts[5].arc.to = d.contacts[5].arc.from; }},
        Wrong{"arc_full", "impossible arc", [](auto& d) { d.contacts[5].arc.to += 7; }},
        Wrong{"arc_on_a_disc", "between an arc and something other than a line",
              [](auto& d) { d.contacts[5].solid = SolidKind::disc; }},
        Wrong{"arc_on_the_ground", "arc on the ground",
              [](auto& d) { d.contacts[5].round_body = ground; }},
        Wrong{"normal", "a line whose normal",
              [](auto& d) {
                d.contacts[3].line.normal = {0, 2};
              }},
        Wrong{"second_disc", "impossible second disc",
              [](auto& d) { d.contacts[9].disc.radius = infinity; }},
        Wrong{"box", "impossible box",
              [](auto& d) { d.contacts[1].box.corner = d.contacts[1].box.half_width; }},
        Wrong{"coupling_unlike", "\"prop's spring\" is not between two coordinates of a kind",
              [](auto& d) { d.couplings[3].b = 7; }},
        Wrong{"coupling_itself", "of a kind", [](auto& d) { d.couplings[3].b = 3; }},
        Wrong{"coupling_number", "\"prop's spring\" has an impossible number",
              [](auto& d) { d.couplings[3].slip = 0; }},
        Wrong{"stop_nowhere", "\"prop's place\" is not between",
              [](auto& d) { d.stops[1].a = ground; }},
        Wrong{"stop_side", "\"prop's place\" has an impossible number",
              [](auto& d) { d.stops[1].side = .5; }},
        Wrong{"stop_law", "\"prop's place\" has an impossible law",
              [](auto& d) { d.stops[1].law.stiffness = -1; }},
        Wrong{"tie_nowhere", "\"t\" names a body",
              [](auto& d) {
                d.ties = {{"t", 0, 9, {}, {}, 1, 1}};
              }},
        Wrong{"tie_itself", "\"t\" is between a body and itself",
              [](auto& d) {
                d.ties = {{"t", 2, 2, {}, {}, 1, 1}};
              }},
        Wrong{"tie_number", "\"t\" has an impossible number",
              [](auto& d) {
                d.ties = {{"t", 0, 1, {}, {}, -1, 1}};
              }},
        Wrong{"probe", "\"crown\" is on a body that is not there",
              [](auto& d) { d.probes[1].body = 9; }}),
    [](const auto& one) { return one.param.name; });

TEST(Check, takes_what_is_whole) {
  for (unsigned seed = 0; seed < 100; ++seed) EXPECT_TRUE(check(tangle(seed))) << seed;
  Description d = train();
  d.contacts.resize(64, d.contacts[0]);
  EXPECT_TRUE(check(d));
}

TEST(Check, finds_by_name) {
  const Description d = train();
  EXPECT_EQ(body_named(d, "prop"), 3);
  EXPECT_EQ(contact_named(d, "tail on check"), 5);
  EXPECT_EQ(stop_named(d, "prop's place"), 1);
  EXPECT_EQ(probe_named(d, "crown"), 1);
  EXPECT_EQ(probe_named(d, "croan"), -1);
}

}  // namespace
}  // namespace batten::tests
