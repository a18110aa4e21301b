// Cautions that go with the work, shown where the hand is about to do the risky thing.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

namespace batten {

enum class Caution : std::uint8_t {
  blocked_hammer,
  lost_escapement,
  sliding_the_action,
  string_tension,
  lid_case_and_mains,
  strained_hands,
  makers_instructions,
};

struct CautionText {
  Caution id;
  std::string_view code;
  std::string_view heading;  // three or four words
  std::string_view text;     // one to three sentences
};

std::span<const CautionText> caution_texts();
const CautionText& text_of(Caution caution);

}  // namespace batten
