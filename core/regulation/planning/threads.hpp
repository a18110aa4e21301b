// Which way the hand turns a screw: a matter of its thread and of the side the hand works from, so
// that it is a setting of the piano, confirmed at the first move.
#pragma once

#include "core/outcome/outcome.hpp"
#include "core/regulation/aims/aim.hpp"

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>

namespace batten {

enum class Rotation : std::uint8_t { clockwise, counter_clockwise };

// Of a positive move, seen from where the hand works; nothing: not confirmed yet, or nothing that
// is turned (papers, bends).
struct Threads {
  std::array<std::optional<Rotation>, note_adjuster_count> positive{};
  std::optional<Rotation> of(Adjuster adjuster, double amount) const;
};

// Settings "<adjuster>-thread" ("capstan-thread"), for the adjusters of a note that are turned: one
// of the adjuster's two words and the way the hand goes, as in "raise clockwise", "later let-off
// counter-clockwise"; "raise" and "lower" are understood for every screw as its + and −. Other
// settings are passed over. Error: one that cannot be read, named.
Result<Threads> threads_on_record(const std::map<std::string, std::string>& on_record);
Result<void> check_thread_setting(const std::string& name, const std::string& value);
bool is_thread_setting(const std::string& name);
// "capstan-thread"
std::string thread_setting(Adjuster adjuster);

}  // namespace batten
