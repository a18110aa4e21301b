#include "json/shop_json.hpp"

#include "app/line_job.hpp"
#include "json/journal_values.hpp"
#include "json/values.hpp"

namespace batten {

namespace {

Json backup_json(const BackupFile& one) {
  return {{"file", one.file.filename().string()},
          {"made_at", print_timestamp(one.made_ms)},
          {"bytes", one.bytes}};
}

}  // namespace

std::string shop_to_json(const std::map<std::string, std::string>& on_record,
                         const std::optional<Logo>& logo, const Backups& backups) {
  Json j;
  j["settings"] = Json::array();
  for (const SettingGuide& g : shop_guide()) {
    const auto set = on_record.find(g.name);
    j["settings"].push_back({{"name", g.name},
                             {"group", g.group},
                             {"value", set == on_record.end() ? Json(nullptr) : Json(set->second)},
                             {"usual", g.usual},
                             {"unit", g.unit},
                             {"example", g.example},
                             {"choices", g.choices},
                             {"what", g.what}});
  }
  j["logo"] = nullptr;
  if (logo) j["logo"] = {{"media_type", logo->media_type}, {"bytes", logo->bytes.size()}};
  j["backup"] = nullptr;
  if (backups.folder)
    j["backup"] = {
        {"folder", backups.folder->string()},
        {"last_at", backups.files.empty() ? Json(nullptr)
                                          : Json(print_timestamp(backups.files.front().made_ms))},
        {"kept", backups.files.size()}};
  return dumped_short(j);
}

std::string to_json(const Backups& backups) {
  Json j{{"folder", backups.folder ? Json(backups.folder->string()) : Json(nullptr)}};
  j["backups"] = Json::array();
  for (const BackupFile& one : backups.files) j["backups"].push_back(backup_json(one));
  return dumped(j);
}

std::string to_json(const BackupFile& backup) {
  Json j = backup_json(backup);
  j["path"] = backup.file.string();
  return dumped(j);
}

std::string to_json(const Restored& restored) {
  return dumped({{"kept", restored.kept ? Json(restored.kept->string()) : Json(nullptr)},
                 {"devices_still_revoked", restored.revoked}});
}

std::string to_json(const TakenBundle& taken) {
  const MergeOutcome& m = taken.merged;
  return dumped({{"piano", piano_json(m.piano)},
                 {"piano_added", m.piano_added},
                 {"called", taken.called},
                 {"visits_added", m.visits_added},
                 {"visits_already_there", m.visits_already_there},
                 {"entries_added", m.entries_added},
                 {"entries_already_there", m.entries_already_there},
                 {"revision", taken.revision}});
}

std::string bundle_file_to_json(const std::string& file, std::int64_t revision) {
  return dumped({{"file", file}, {"revision", revision}});
}

}  // namespace batten
