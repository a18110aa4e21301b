#include "app/plan_memory.hpp"

#include "app/action_job.hpp"
#include "app/entries.hpp"
#include "app/pianos.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <system_error>

namespace batten {

namespace {

// All that a model hangs on. A profile of the user's own is a file that may have changed.
std::string key_of_model(const Standing& standing, const Piano& piano) {
  std::string key = fmt::format("{}-{}", piano.lowest_key, piano.highest_key);
  for (const auto& [name, value] : standing.settings)
    if (name == action_profile_setting || name == "sections" || is_target_setting(name))
      key += fmt::format("\n{}={}", name, value);
  if (const auto set = standing.settings.find(action_profile_setting);
      set != standing.settings.end()) {
    std::error_code none;
    const auto written = std::filesystem::last_write_time(set->second, none);
    if (!none) key += fmt::format("\nof {}", written.time_since_epoch().count());
  }
  return key;
}

}  // namespace

Result<std::shared_ptr<const ActionModel>> PlanMemory::model(const Standing& standing,
                                                             const Piano& piano) {
  return guarded([&]() -> Result<std::shared_ptr<const ActionModel>> {
    const std::string key = key_of_model(standing, piano);
    if (auto known = models_.find(key)) return known;
    auto made = model_on_record(standing, piano);
    if (!made) return tl::unexpected(made.error());
    return models_.keep(key, std::move(made->action));
  });
}

Result<std::shared_ptr<const PianoPlan>> PlanMemory::plan(Desk& desk, const Piano& piano,
                                                          const PlanRequest& request) {
  return guarded([&]() -> Result<std::shared_ptr<const PianoPlan>> {
    // The revision first: what is entered in between makes the plan newer than its key, and the
    // next question makes it again.
    auto revision = revision_of(desk, piano);
    if (!revision) return tl::unexpected(revision.error());
    const std::string key =
        fmt::format("{} {} {}", to_text(piano.id), *revision,
                    request.minutes ? fmt::format("{}", *request.minutes) : std::string());
    if (auto known = plans_.find(key)) return known;
    auto now = standing(desk, piano);
    if (!now) return tl::unexpected(now.error());
    auto action = model(*now, piano);
    if (!action) return tl::unexpected(action.error());
    auto made = plan_standing(desk, piano, std::move(*now), **action, request);
    if (!made) return tl::unexpected(made.error());
    return plans_.keep(key, std::move(*made));
  });
}

Result<std::int64_t> revision_of(Desk& desk, const Piano& piano) {
  return guarded([&] { return desk.store.revision(piano.id); });
}

}  // namespace batten
