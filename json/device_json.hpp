// Paired devices as JSON: without the digest of their tokens.
#pragma once

#include "records/devices.hpp"

#include <string>
#include <vector>

namespace batten {

// {"devices": [{"id", "name", "paired", "last_seen", "revoked"}]}; times ISO 8601.
std::string to_json(const std::vector<Device>& devices);

}  // namespace batten
