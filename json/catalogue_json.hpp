// What can be read, turned, prepared, warned of and felt, as JSON.
#pragma once

#include <string>

namespace batten {

// The tables as they come with the program; a piano's own tolerances stand in its strip.
std::string catalogue_to_json();

}  // namespace batten
