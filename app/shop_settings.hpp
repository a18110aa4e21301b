// What holds for whoever works here, whichever piano: letterhead, paper, when to come back, lists
// of what to check, backups. Kept in the store beside the journals.
#pragma once

#include "app/desk.hpp"
#include "app/setting_guide.hpp"
#include "records/backup.hpp"

#include <filesystem>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

// In the order worth asking in; groups "letterhead", "paper", "due", "checks", "backup".
std::span<const SettingGuide> shop_guide();

// Checks what was typed and keeps it; empty: the usual holds again. A list's lines may be typed
// with ';' between instead of line breaks, which is how they are kept. Error: no such setting, or a
// value it cannot have.
Result<void> choose_for_shop(Desk& desk, const std::string& name, const std::string& value);

// On record, by name.
Result<std::map<std::string, std::string>> shop_settings(Desk& desk);

// The lines of a list's value, blanks around them taken away, empty ones left out.
std::vector<std::string> lines_of(std::string_view value);
// return-limit: a share, 0.01…0.9; nothing: not set.
std::optional<double> return_limit_of(const std::map<std::string, std::string>& shop);
// backup-keep, "7 days, 4 weeks, 12 months"; a word left out keeps none of that kind.
Result<BackupKeep> parse_backup_keep(std::string_view text);

// PNG or JPEG by what is in it, up to 1 MiB. Error: another kind of file, too large, or 6,000
// pixels and more across.
Result<Logo> check_logo(std::string_view bytes);
// Nothing: no logo from now on.
Result<void> choose_logo(Desk& desk, const std::optional<Logo>& logo);

}  // namespace batten
