#include "records/identity.hpp"

#include <cerrno>
#include <sys/random.h>
#include <system_error>

namespace batten {

Uuid make_uuid() {
  Uuid id;
  // At most 256 bytes come whole once the kernel's pool is ready (getrandom(2)).
  if (getrandom(id.bytes.data(), id.bytes.size(), 0) != static_cast<ssize_t>(id.bytes.size()))
    throw std::system_error(errno, std::generic_category(), "getrandom");
  // RFC 9562 section 5.4: version 4 in the high half of byte 6, variant 10 in the top of byte 8.
  id.bytes[6] = static_cast<std::uint8_t>((id.bytes[6] & 0x0F) | 0x40);
  id.bytes[8] = static_cast<std::uint8_t>((id.bytes[8] & 0x3F) | 0x80);
  return id;
}

}  // namespace batten
