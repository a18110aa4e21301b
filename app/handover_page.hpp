// The page for the owner and the sheet for the file: composed, printed.
#pragma once

#include "app/handover_job.hpp"
#include "core/regulation/handover/handover.hpp"

#include <cstdint>
#include <map>
#include <string>

namespace batten {

// Settings of a visit: what its technician writes on the owner's page. One of an earlier visit does
// not hold.
inline constexpr const char* owner_words_setting = "owner-words";
inline constexpr const char* next_visit_setting = "next-visit";
inline constexpr std::size_t most_own_words = 2000;  // bytes

inline bool is_visit_setting(const std::string& name) {
  return name == owner_words_setting || name == next_visit_setting;
}
// Refuses what is too long for a page.
Result<void> check_visit_setting(const std::string& name, const std::string& value);
// Those chosen in a visit, by name; none that is empty.
Result<std::map<std::string, std::string>> visit_settings(Desk& desk, const Piano& piano,
                                                          const Uuid& visit);

// Where the user is (the system's time zone).
CivilDay local_day(std::int64_t at_ms);

// All that both pages tell, the strokes of the model included. Errors: as plan_work.
Result<HandoverFacts> handover_facts(Desk& desk, const Piano& piano, const PianoPlan& plan,
                                     const PianoHandover& handover);

}  // namespace batten
