// What the other bodies say, read from their JSON: no store is needed. Each is defined beside its
// answer. Errors tell what is wrong by name.
#pragma once

#include "app/complaint_job.hpp"
#include "app/note_job.hpp"
#include "server/http.hpp"

#include <cstdint>
#include <optional>
#include <string>

namespace batten::server {

// Departures of the brief accepted.
struct Acceptance {
  Uuid id;
  std::optional<std::int64_t> revision;
  std::string which, because;
};
Result<Acceptance> acceptance_in(const Request& request);

Result<ComplaintRequest> complaint_in(const Request& request);

Result<WhatIfRequest> what_if_in(const Request& request);

struct StrokesAsked {
  WhatIfRequest what_if;
  StrokeRequest strokes;
};
Result<StrokesAsked> strokes_in(const Request& request);

struct PairingAsked {
  std::string code, name;
};
// Nothing where it is not {"code": "…", "name": "…"}.
std::optional<PairingAsked> pairing_in(const std::string& body);

}  // namespace batten::server
