// Pianos and visits.
#pragma once

#include "app/desk.hpp"
#include "core/keyboard/compass.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

struct NewPiano {
  std::string name;
  std::string place;
  Compass compass;
  std::string sections;  // as in the setting "sections"; empty: to be set later
  // Made by who asks, so that asking twice adds one; nil: made here.
  Uuid id = {};
};

// Adds the piano, its first visit and, where given, its sections. Errors: name taken or empty,
// sections that cannot be read; nothing is then added. The same identity again with the same name,
// place and compass is the piano there is, and what its first asking left undone is done; with
// others an error.
Result<Piano> add_piano(Desk& desk, const NewPiano& wanted);

// All pianos by name.
Result<std::vector<PianoSummary>> list_pianos(Desk& desk);

// By name, beginning of a name or identity. Empty text: the piano whose latest visit began last.
// Error: none, or several fit; the names are listed.
Result<Piano> choose_piano(Desk& desk, std::string_view text);

// Begins a new visit; entries from now on belong to it. `id` as a piano's: the same again with the
// same title is the visit there is.
Result<Visit> begin_visit(Desk& desk, const Piano& piano, std::string title, const Uuid& id = {});

// The visit that entries go to: the latest, or a first one made for the purpose.
Result<Visit> current_visit(Desk& desk, const Piano& piano);

Compass compass_of(const Piano& piano);

}  // namespace batten
