// What is sent to be written down, read from its JSON: no store is needed. What is wrong is told by
// the name of its member; nothing is guessed.
#pragma once

#include "app/entry_writing.hpp"
#include "app/pianos.hpp"
#include "server/http.hpp"

#include <string>
#include <vector>

namespace batten::server {

// {"entries":[{"id","at_ms"?,"kind",…}]}, see docs/api. Errors: as body_object; a member that is
// missing, not known at this kind or of the wrong type; a text longer than 4,000 bytes; no entry.
Result<std::vector<WantedEntry>> entries_in(const Request& request);

// {"id"?,"name","place"?,"lowest"?,"highest"?,"sections"?}; A0 to C8 unless said. Errors as above;
// a note that cannot be read, an impossible compass.
Result<NewPiano> piano_in(const Request& request);

struct NewVisit {
  Uuid id;  // nil: to be made
  std::string title;
};
// {"id"?,"title"}
Result<NewVisit> visit_in(const Request& request);

}  // namespace batten::server
