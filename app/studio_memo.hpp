// What the studio list keeps of a piano's outlook. Internal to app.
#pragma once

#include "core/regulation/catalogue/readings.hpp"
#include "core/regulation/drift/outlook.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace batten {

struct StudioMemo {
  std::int64_t from_ms = 0;
  std::optional<std::int64_t> last_done_ms;
  DueState due = DueState::unknown;
  std::optional<std::int64_t> due_ms, low_ms, high_ms;
  int known = 0;
  std::optional<Reading> worst;
  double minutes_now = 0, minutes_at_return = 0, worth = 0;
  std::vector<std::pair<std::int64_t, double>> shares;  // expected outside, rising times

  bool operator==(const StudioMemo&) const = default;

  // Straight between; held at the ends. Nothing without shares.
  std::optional<double> share_at(std::int64_t at_ms) const;
};

// Which reckoning stands behind what is kept, the workshop's limit included: what another one made
// is not read.
std::string memo_model(const std::optional<double>& shop_limit);

// One line of words with blanks between. The same memo from the text again; nothing for a text of
// another hand.
std::string print_memo(const StudioMemo& memo);
std::optional<StudioMemo> parse_memo(std::string_view text);

}  // namespace batten
