// A piano's visits, and any two of them compared.
#pragma once

#include "app/desk.hpp"
#include "app/plan_job.hpp"
#include "core/regulation/visits/visits.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

struct VisitOnRecord {
  Visit visit;
  std::optional<std::int64_t> last_ms;  // its last entry in force that is a reading or a move
  std::vector<std::string> who;         // wrote those, in order; no empty ones
  int readings = 0, moves = 0;
  std::optional<double> humidity, temperature;  // first read in it: %, °C
};

// Of what stands in the journal; oldest first.
Result<std::vector<VisitOnRecord>> visits_on_record(Desk& desk, const Piano& piano,
                                                    const Standing& standing);

struct ComparedVisits {
  VisitOnRecord from, to;
  int between = 0;  // visits that lie between
  VisitsCompared compared;
};

// `from` and `to`: an identity or its beginning (four characters or more), a number (1: the
// oldest), or empty: the last two with readings of notes. Given the wrong way round they are
// turned. `plan` is of what stands now. Errors: none such, several, twice the same, fewer than two
// visits.
Result<ComparedVisits> compare_two_visits(Desk& desk, const Piano& piano, const PianoPlan& plan,
                                          std::string_view from, std::string_view to);

}  // namespace batten
