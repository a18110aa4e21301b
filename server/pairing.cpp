#include "server/pairing.hpp"

#include "server/secrets.hpp"

#include <algorithm>

namespace batten::server {

namespace {

// 1 s after the first, twice as long after each further one.
std::int64_t wait_after(int wrong) {
  if (wrong <= 0) return 0;
  return std::min<std::int64_t>(Pairing::longest_wait_ms,
                                std::int64_t{1000} << std::min(wrong - 1, 16));
}

}  // namespace

Pairing::Code Pairing::make() {
  code_ = {random_digits(digits), now_ms_() + life_ms};
  all_ = {};
  return code_;
}

Pairing::Tries& Pairing::tries_of(const std::string& address, std::int64_t now) {
  // Who has not tried for as long as a code lives begins anew.
  std::erase_if(by_address_, [&](const auto& one) { return one.second.next_ms + life_ms < now; });
  if (by_address_.size() >= most_addresses && !by_address_.contains(address)) {
    const auto oldest = std::min_element(
        by_address_.begin(), by_address_.end(),
        [](const auto& a, const auto& b) { return a.second.next_ms < b.second.next_ms; });
    by_address_.erase(oldest);
  }
  return by_address_[address];
}

Pairing::Answer Pairing::attempt(std::string_view typed, const std::string& address) {
  const std::int64_t now = now_ms_();
  if (!code_.code.empty() && now >= code_.expires_ms) code_ = {};
  Tries& here = tries_of(address, now);
  if (const std::int64_t next = std::max(here.next_ms, all_.next_ms); now < next)
    return {Outcome::too_soon, next - now};
  if (code_.code.empty()) {
    here.next_ms = now;
    return {Outcome::no_code, 0};
  }
  std::string given;
  for (const char c : typed.substr(0, 64))
    if (c != ' ' && c != '-') given += c;
  if (same_secret(given, code_.code)) {
    code_ = {};
    by_address_.erase(address);
    return {Outcome::right, 0};
  }
  here.next_ms = now + wait_after(++here.wrong);
  all_.next_ms = now + wait_after(++all_.wrong - free_wrong);
  if (all_.wrong >= most_wrong) code_ = {};
  return {Outcome::wrong, std::max(here.next_ms, all_.next_ms) - now};
}

}  // namespace batten::server
