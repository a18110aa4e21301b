// The code with which a phone or tablet is let in once.
//
// Eight digits are enough only because they cannot be tried: ten wrong tries end a code, and every
// wrong one makes the next wait longer. Figures are estimates: a person mistypes two or three
// times.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <map>
#include <string>
#include <string_view>

namespace batten::server {

class Pairing {
 public:
  static constexpr int digits = 8;
  static constexpr std::int64_t life_ms = 600'000;
  static constexpr int most_wrong = 10;                    // of one code, from all addresses
  static constexpr std::int64_t longest_wait_ms = 60'000;  // 1 s, 2 s, 4 s … up to this
  static constexpr int free_wrong = 3;                     // of all before everybody waits
  static constexpr std::size_t most_addresses = 256;       // remembered

  explicit Pairing(std::function<std::int64_t()> now_ms) : now_ms_(std::move(now_ms)) {}

  struct Code {
    std::string code;
    std::int64_t expires_ms = 0;  // Unix time, UTC
  };
  // The code before, if there was one, ends.
  Code make();

  enum class Outcome {
    right,  // and used up
    wrong,
    too_soon,  // not looked at
    no_code,   // none was made, or it has expired, was used or tried too often
  };
  struct Answer {
    Outcome outcome = Outcome::no_code;
    std::int64_t wait_ms = 0;  // before the next try from this address is looked at
  };
  // Blanks and hyphens in what was typed mean nothing.
  Answer attempt(std::string_view typed, const std::string& address);

 private:
  struct Tries {
    int wrong = 0;
    std::int64_t next_ms = 0;  // not before
  };
  Tries& tries_of(const std::string& address, std::int64_t now);

  std::function<std::int64_t()> now_ms_;
  Code code_;
  Tries all_;
  std::map<std::string, Tries> by_address_;
};

}  // namespace batten::server
