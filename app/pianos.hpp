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
};

// Adds the piano, its first visit and, where given, its sections. Errors: name taken or empty,
// sections that cannot be read; nothing is then added.
Result<Piano> add_piano(Desk& desk, const NewPiano& wanted);

// All pianos by name.
Result<std::vector<PianoSummary>> list_pianos(Desk& desk);

// By name, beginning of a name or identity. Empty text: the piano whose latest visit began last.
// Error: none, or several fit; the names are listed.
Result<Piano> choose_piano(Desk& desk, std::string_view text);

// Begins a new visit; entries from now on belong to it.
Result<Visit> begin_visit(Desk& desk, const Piano& piano, std::string title);

// The visit that entries go to: the latest, or a first one made for the purpose.
Result<Visit> current_visit(Desk& desk, const Piano& piano);

Compass compass_of(const Piano& piano);

}  // namespace batten
