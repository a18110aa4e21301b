#include "records/identity.hpp"

#include <uuid/uuid.h>

namespace batten {

Uuid make_uuid() {
  Uuid id;
  uuid_generate_random(id.bytes.data());
  return id;
}

}  // namespace batten
