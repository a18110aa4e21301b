// When to come back, and what to look at first: the drift model over a piano's journal.
#pragma once

#include "app/desk.hpp"
#include "core/language/language.hpp"
#include "core/regulation/drift/drift.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

struct DriftRequest {
  std::optional<double> limit;  // share; nothing: the piano's, else the workshop's, else 20 %
  int months = 24;              // 1…60
};

// Today is the desk's. Errors: settings that cannot be read, months or limit out of range.
Result<Outlook> look_ahead(Desk& desk, const Piano& piano, const DriftRequest& request = {});
// The same of a journal read already; `shop_limit`: the workshop's return limit, where it is set.
Result<Outlook> look_ahead(const Piano& piano, const Standing& standing, std::int64_t now_ms,
                           std::optional<double> shop_limit, const DriftRequest& request = {});

// `after`: a code of Spell. The workshop's own list where it has one. Error also: no such spell.
Result<FirstChecks> first_checks(Desk& desk, const Piano& piano, std::string_view after);

// "20", "20 %", "7,5": share 0.01…0.9. Error: cannot be read or meant.
Result<double> parse_share(const std::string& text);
// "24": 1…60.
Result<int> parse_months(const std::string& text);

// "By 3 May 2027 …", and the span it lies in; no full stop behind it.
std::string due_sentence(const Outlook& outlook, Language language);
// How little or much is known, one sentence or more.
std::string grounds_sentence(const Outlook& outlook, Language language);
// The date of a moment, UTC, as the language writes it.
std::string date_of(std::int64_t at_ms, Language language);
// "12 %"; below one percent "under 1 %".
std::string share_text(double share, Language language);

}  // namespace batten
