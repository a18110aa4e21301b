// The workshop's settings, backups and bundles taken in, as JSON.
#pragma once

#include "app/backups.hpp"
#include "app/bundle_job.hpp"
#include "app/shop_settings.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <string>

namespace batten {

std::string shop_to_json(const std::map<std::string, std::string>& on_record,
                         const std::optional<Logo>& logo, const Backups& backups);
std::string to_json(const Backups& backups);
std::string to_json(const BackupFile& backup);
std::string to_json(const Restored& restored);
std::string to_json(const TakenBundle& taken);
std::string bundle_file_to_json(const std::string& file, std::int64_t revision);

}  // namespace batten
