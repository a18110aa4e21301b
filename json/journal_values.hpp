// Parts of the journal's JSON that several answers have. Internal to json.
#pragma once

#include "core/journal/entry.hpp"
#include "json/values.hpp"
#include "records/store.hpp"

namespace batten {

Json entry_json(const Entry& entry);
Json piano_json(const Piano& piano);
Json visit_json(const Visit& visit);
Json summary_json(const PianoSummary& piano);

}  // namespace batten
