// Sentences both pages say. Internal to core/regulation/handover.
#pragma once

#include "core/regulation/handover/handover.hpp"

#include <string>
#include <vector>

namespace batten::handover {

// Where, which visit, who, the room.
std::vector<PageItem> head_of(const HandoverFacts& facts, const Said& said);
// "46.1 mm, later 45.3 mm"
std::string first_and_last(const Said& said, const OtherAccount& other);
std::string note_or_all(const Said& said, const std::optional<Key>& key);
// Why a note still lies outside.
std::string why_outside(const Said& said, const StillOutside& one);
std::string state_of(const Said& said, const PreparationGate::Item& item);
std::string joined(const std::vector<std::string>& parts, std::string_view between = ", ");

PageBlock heading(std::string text);
PageBlock subheading(std::string text);
PageBlock text(std::string text, std::string lead = {});

}  // namespace batten::handover
