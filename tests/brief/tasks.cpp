#include "tasks.hpp"

#include "profiles/profile_file.hpp"

#include <gtest/gtest.h>

#include <cstdlib>

namespace batten::checks {

const action::Profile& stored(std::string_view name) {
  static const std::map<std::string, action::Profile, std::less<>> all = [] {
    std::map<std::string, action::Profile, std::less<>> list;
    for (const StoredProfile& s : stored_profiles())
      if (auto file = parse_profile(s.text, s.name)) list.emplace(s.name, file->profile);
    return list;
  }();
  return all.find(name)->second;
}

BriefTask task_of(const action::Profile& profile, const Settings& settings,
                  const std::vector<std::string>& keys) {
  BriefTask task;
  task.profile = &profile;
  const auto targets =
      targets_on_record(task.compass, {{task.compass.lowest, task.compass.highest}}, settings);
  const auto wishes = brief_wishes(settings);
  EXPECT_TRUE(targets.has_value()) << targets.error().sentence();
  EXPECT_TRUE(wishes.has_value()) << wishes.error().sentence();
  task.targets = *targets;
  task.wishes = *wishes;
  for (const std::string& key : keys) task.registers.push_back({*parse_key(key), key});
  return task;
}

RegisterBrief only(const BriefTask& task) {
  const auto brief = calc_brief(task);
  if (!brief) {
    ADD_FAILURE() << brief.error().sentence();
    return {};
  }
  return brief->registers.front();
}

action::Profile all_of(const action::Dimensions& dimensions, const action::Wanted& wanted) {
  action::Profile profile;
  profile.name = "one note";
  action::Anchor low;
  low.key = Key{1};
  low.dimensions = dimensions;
  low.wanted = wanted;
  action::Anchor high = low;
  high.key = Key{88};
  profile.anchors = {low, high};
  return profile;
}

const Departure* departure_by(const RegisterBrief& brief, Way way) {
  for (const Departure& d : brief.departures)
    if (d.way == way) return &d;
  return nullptr;
}

}  // namespace batten::checks
