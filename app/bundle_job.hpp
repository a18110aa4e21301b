// A piano with its whole journal, to another store and from one.
#pragma once

#include "app/desk.hpp"
#include "records/store.hpp"

#include <cstdint>
#include <string>
#include <string_view>

namespace batten {

// The file's text: docs/formats/bundle.md.
Result<std::string> bundle_of(Desk& desk, const Piano& piano);

// "Demo grand 2026-11-26.batten.json": letters and figures of the name, the day it is made.
std::string bundle_name(const Piano& piano, std::int64_t now_ms);

struct TakenBundle {
  MergeOutcome merged;
  std::string called;         // the piano's name in the file
  std::int64_t revision = 0;  // of the journal now
};

// Joins what the file holds to what is here; all of it or nothing. `as`: what a piano not here yet
// is to be called. Error: as read_bundle and Store::merge.
// `from_afar`: by somebody who shall not try out the names of files here; refused then is a bundle
// that sets an action profile which does not come with the program and is not known here.
Result<TakenBundle> take_bundle(Desk& desk, std::string_view text, std::string_view as = {},
                                bool from_afar = false);

}  // namespace batten
