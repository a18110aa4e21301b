// The strings against their own modes (modal_reference.hpp): a second implementation that shares
// nothing with the first.
#include "tests/strings/free_head.hpp"
#include "tests/strings/modal_reference.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace batten::tests {
namespace {

struct Case {
  std::size_t note;
  int modes;
  double step;      // s, of the reference
  double duration;  // s
};

// Modes to 20 kHz and more. What is left out of the strings' compliance falls with the inverse of
// their number, so that two runs give the limit.
constexpr Case cases[]{{0, 800, 1e-6, 6e-3}, {1, 400, 0.5e-6, 3e-3}, {2, 120, 0.25e-6, 1.5e-3}};
constexpr double sample = 50e-6;  // s

struct Followed {
  double impulse = 0;
  double contact_time = 0;
  double peak_force = 0;
  double rebound = 0;
  double worst_impulse = 0;  // N s, off the reference
  double worst_place = 0;    // m, likewise, while touching
  double farthest = 0;       // m
};

Followed follow(const StruckNote& note, double mass, double speed, const ModalBlow& expected) {
  Followed result;
  StruckUnison strings(note.unison, note.felt, 1e-6);
  Head head{mass, 0, speed};
  for (std::size_t i = 0; i < expected.impulse.size(); ++i) {
    const Impulse got = step_head(strings, head, sample);
    result.impulse += got.impulse;
    result.contact_time += got.contact_time;
    result.peak_force = std::max(result.peak_force, got.peak_force);
    result.worst_impulse =
        std::max(result.worst_impulse, std::abs(result.impulse - expected.impulse[i]));
    if (!got.touching) continue;
    result.worst_place =
        std::max(result.worst_place, std::abs(got.displacement - expected.displacement[i]));
    result.farthest = std::max(result.farthest, std::abs(expected.displacement[i]));
  }
  result.rebound = -head.speed;
  return result;
}

class Modal : public testing::TestWithParam<Case> {};

TEST_P(Modal, a_blow_goes_the_same_way) {
  const Case& c = GetParam();
  StruckNote note = known_notes[c.note];
  note.unison.reflection = 1;
  const double mass = known_mass(c.note);
  for (const double speed : {1.0, 4.0}) {
    SCOPED_TRACE(testing::Message() << "note " << c.note << " at " << speed << " m/s");
    const auto reference = [&](int modes) {
      return strike_modes(note.unison, note.felt, mass, speed, modes, c.step, c.duration, sample);
    };
    const ModalBlow coarse = reference(c.modes);
    const ModalBlow fine = reference(2 * c.modes);
    const auto limit = [&](double ModalBlow::*what) { return 2 * fine.*what - coarse.*what; };
    const Followed got = follow(note, mass, speed, fine);
    EXPECT_LT(got.worst_impulse, 0.01 * got.impulse);
    EXPECT_LT(got.worst_place, 0.02 * got.farthest);
    EXPECT_NEAR(got.contact_time, fine.contact_time, 0.01 * fine.contact_time);
    EXPECT_NEAR(got.peak_force / limit(&ModalBlow::peak_force), 1, 1e-3);
    EXPECT_NEAR(got.rebound / limit(&ModalBlow::rebound), 1, 1e-3);
  }
}

INSTANTIATE_TEST_SUITE_P(Notes, Modal, testing::ValuesIn(cases));

}  // namespace
}  // namespace batten::tests
