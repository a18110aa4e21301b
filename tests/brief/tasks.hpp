// Tasks for the brief from the profiles that come with the program.
#pragma once

#include "core/regulation/brief/brief.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace batten::checks {

using Settings = std::map<std::string, std::string>;

const action::Profile& stored(std::string_view name);

// One section over 88 keys. The profile must outlive the task.
BriefTask task_of(const action::Profile& profile, const Settings& settings,
                  const std::vector<std::string>& keys);

// The one register of a task.
RegisterBrief only(const BriefTask& task);

// The default note at both ends: a piano of nothing but C4s.
action::Profile all_of(const action::Dimensions& dimensions, const action::Wanted& wanted);

const Departure* departure_by(const RegisterBrief& brief, Way way);

}  // namespace batten::checks
