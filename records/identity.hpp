// New identities.
#pragma once

#include "core/journal/uuid.hpp"

namespace batten {

// A random identity (RFC 9562 version 4), never the same twice in practice, also across devices.
Uuid make_uuid();

}  // namespace batten
