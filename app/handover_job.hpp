// A visit handed over: what was found, what was done, what is left.
#pragma once

#include "app/desk.hpp"
#include "app/plan_job.hpp"
#include "core/regulation/account/account.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace batten {

struct PianoHandover {
  Account account;
  std::optional<Visit> visit;    // of the account; nothing: nothing is on record
  std::vector<std::string> who;  // wrote readings, moves and skips of it, in order; no empty ones
  std::optional<std::int64_t> last_ms;  // its last reading or move, Unix time, milliseconds
  std::vector<Entry> remarks;           // of the visit
  std::string profile;                  // whose figures the model has
  bool profile_chosen = false;          // set for this piano; else "medium" stands in
  PreparationGate gate;
  int readings_left = 0, moves_left = 0;  // of the plan
  double minutes_left = 0;
};

// The plan as it stood at the end of a visit, 1 the first: what was written down later is left out.
// Errors: as plan_work; no such visit, nothing on record in it.
Result<PianoPlan> plan_after_visit(Desk& desk, const Piano& piano, int visit);

// Of a plan made already. Error: the piano is gone from the store.
Result<PianoHandover> hand_over(Desk& desk, const Piano& piano, const PianoPlan& plan);

}  // namespace batten
