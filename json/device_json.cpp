#include "json/device_json.hpp"

#include "app/line_job.hpp"
#include "json/values.hpp"

namespace batten {

std::string to_json(const std::vector<Device>& devices) {
  Json all = Json::array();
  for (const Device& device : devices)
    all.push_back({{"id", to_text(device.id)},
                   {"name", device.name},
                   {"paired", print_timestamp(device.paired_ms)},
                   {"last_seen", print_timestamp(device.seen_ms)},
                   {"revoked", device.revoked_ms.has_value()}});
  return dumped({{"devices", all}});
}

}  // namespace batten
