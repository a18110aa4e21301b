// All pianos: when each is due, what it needs, and which fit into a day.
#pragma once

#include "app/desk.hpp"
#include "core/language/language.hpp"
#include "core/regulation/catalogue/readings.hpp"
#include "core/regulation/drift/outlook.hpp"
#include "core/regulation/studio/day.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace batten {

// Times are Unix time, milliseconds, UTC; shares 0…1.
struct StudioPiano {
  Piano piano;
  int visits = 0;
  std::optional<std::int64_t> last_done_ms;  // last reading or move
  DueState due = DueState::unknown;
  std::optional<std::int64_t> due_ms, low_ms, high_ms;  // as OutlookDue
  // Nothing where no reading is known.
  std::optional<double> share_now;        // expected outside today
  std::optional<double> share_at_return;  // the same on the day it is due; overdue: today
  std::optional<Reading> worst;           // the largest share outside
  std::optional<double> minutes;          // the next visit needs, setting up included, going not
  double worth = 0;                       // notes' readings a visit today would set right
};

struct StudioList {
  std::int64_t now_ms = 0;
  double limit = 0.2;  // the workshop's; a piano may have its own
  // Overdue, then by the day they are due, then those not due within two years, then the unknown;
  // among equals what is farthest out, then by name.
  std::vector<StudioPiano> pianos;
  std::size_t reckoned = 0;  // outlooks made anew for this; the others were kept
};

// An outlook is made where none is kept of the journal as it stands, of the limit in force and of
// the last 31 days; and kept. A piano whose settings cannot be read counts as unknown. First time
// of many pianos: some ten milliseconds each; then a millisecond or two for all.
Result<StudioList> studio_list(Desk& desk);

// What is kept of each piano and still true, by identity, without making any: quick.
Result<StudioList> studio_list_kept(Desk& desk);

struct DayRequest {
  double hours = 6;
  std::vector<Uuid> fixed;  // promised; on the list
};

struct StudioStop {
  std::size_t piano = 0;            // index into the list
  double minutes = 0, between = 0;  // of work; going there and setting up
  enum class Why : std::uint8_t { fixed, overdue, due } why = Why::due;
};
// "fixed", "overdue", "due"
std::string_view code_of(StudioStop::Why why);

struct StudioLeftOut {
  std::size_t piano = 0;
  enum class Why : std::uint8_t {
    unread,      // nothing is known of it
    not_due,     // not within 30 days
    too_long,    // longer than there is
    less_worth,  // the others set more right in the time
  } why = Why::not_due;
};
// "unread", "not-due", "too-long", "less-worth"
std::string_view code_of(StudioLeftOut::Why why);

struct StudioDay {
  double hours = 0, minutes = 0;  // there are; used
  std::vector<StudioStop> stops;
  std::vector<StudioLeftOut> left_out;  // order of the list
};

// Of the overdue and those due within 30 days, and of the fixed. A fixed piano of which nothing is
// known takes an hour and a half (estimate). Errors: a fixed piano that is not on the list, hours
// that are none, fixed ones that do not fit.
Result<StudioDay> studio_day(const StudioList& list, const DayRequest& request);
// "6", "6.5", "6,5", "6 h", "6 h 30": hours, above 0 and up to 24.
Result<double> parse_hours(const std::string& text);

// Every piano that is due or overdue as a whole day (RFC 5545): on the day it is due, an overdue
// one today. `of`: this piano only. Error: this one is not due within what is looked at.
Result<std::string> due_calendar(const StudioList& list, Language language,
                                 const std::optional<Uuid>& of = {});

}  // namespace batten
