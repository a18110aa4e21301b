#include "app/studio_memo.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cstddef>

namespace batten {

namespace {

constexpr std::array states{DueState::unknown, DueState::overdue, DueState::due_at,
                            DueState::beyond};
constexpr std::size_t most_shares = 200;
// Another number where the outlook or what is kept of it changes.
constexpr const char* reckoning = "outlook 1";

std::string or_dash(const std::optional<std::int64_t>& value) {
  return value ? std::to_string(*value) : "-";
}

// Words one after the other; once one does not fit, all that follow do not.
class Words {
 public:
  explicit Words(std::string_view text) : rest_(text) {}

  std::string_view word() {
    const std::size_t end = std::min(rest_.find(' '), rest_.size());
    const std::string_view word = rest_.substr(0, end);
    rest_.remove_prefix(std::min(end + 1, rest_.size()));
    if (word.empty()) good_ = false;
    return word;
  }
  template <class Number>
  void read(Number& value) {
    read_word(word(), value);
  }
  void read(std::optional<std::int64_t>& value) {
    const std::string_view w = word();
    if (w == "-") return;
    value = 0;
    read_word(w, *value);
  }
  void expect(bool fits) { good_ = good_ && fits; }
  bool good() const { return good_; }
  bool at_end() const { return rest_.empty(); }

 private:
  template <class Number>
  void read_word(std::string_view w, Number& value) {
    const auto got = std::from_chars(w.data(), w.data() + w.size(), value);
    if (got.ec != std::errc() || got.ptr != w.data() + w.size()) good_ = false;
  }

  std::string_view rest_;
  bool good_ = true;
};

}  // namespace

std::optional<double> StudioMemo::share_at(std::int64_t at_ms) const {
  if (shares.empty()) return std::nullopt;
  const auto after =
      std::ranges::upper_bound(shares, at_ms, {}, &decltype(shares)::value_type::first);
  if (after == shares.begin()) return shares.front().second;
  if (after == shares.end()) return shares.back().second;
  const auto& [t0, s0] = *(after - 1);
  const auto& [t1, s1] = *after;
  return s0 + (s1 - s0) * static_cast<double>(at_ms - t0) / static_cast<double>(t1 - t0);
}

std::string memo_model(const std::optional<double>& shop_limit) {
  return shop_limit ? fmt::format("{}, limit {}", reckoning, *shop_limit) : reckoning;
}

std::string print_memo(const StudioMemo& m) {
  std::string text =
      fmt::format("{} {} {} {} {} {} {} {} {} {} {} {}", m.from_ms, or_dash(m.last_done_ms),
                  code_of(m.due), or_dash(m.due_ms), or_dash(m.low_ms), or_dash(m.high_ms), m.known,
                  m.worst ? kind_of(*m.worst).code : std::string_view("-"), m.minutes_now,
                  m.minutes_at_return, m.worth, m.shares.size());
  for (const auto& [at_ms, share] : m.shares) text += fmt::format(" {} {:.5g}", at_ms, share);
  return text;
}

std::optional<StudioMemo> parse_memo(std::string_view text) {
  StudioMemo m;
  Words words(text);
  words.read(m.from_ms);
  words.read(m.last_done_ms);
  const std::string_view state = words.word();
  const auto known = std::ranges::find_if(states, [&](DueState s) { return code_of(s) == state; });
  words.expect(known != states.end());
  if (known != states.end()) m.due = *known;
  words.read(m.due_ms);
  words.read(m.low_ms);
  words.read(m.high_ms);
  words.read(m.known);
  if (const std::string_view worst = words.word(); worst != "-") {
    m.worst = reading_by_code(worst);
    words.expect(m.worst.has_value());
  }
  words.read(m.minutes_now);
  words.read(m.minutes_at_return);
  words.read(m.worth);
  std::size_t shares = 0;
  words.read(shares);
  words.expect(shares <= most_shares);
  while (words.good() && m.shares.size() < shares) {
    std::pair<std::int64_t, double> share;
    words.read(share.first);
    words.read(share.second);
    words.expect(m.shares.empty() || share.first > m.shares.back().first);
    m.shares.push_back(share);
  }
  if (!words.good() || !words.at_end()) return std::nullopt;
  return m;
}

}  // namespace batten
