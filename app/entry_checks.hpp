// What is to be written into a journal, checked as it was typed and not written down.
#pragma once

#include "core/journal/entry.hpp"
#include "core/outcome/outcome.hpp"

#include <map>
#include <string>
#include <string_view>

namespace batten {

// A move as typed with its direction, see record_move. Error: no such adjuster or note, no
// direction, a wrong unit, nothing moved, more than two turns.
Result<MoveMade> check_move(const Piano& piano, std::string_view adjuster, std::string_view note,
                            std::string_view amount, std::string remark = {});
// The same by its number: adjuster's unit, + as the catalogue's `positive` says.
Result<MoveMade> check_move(const Piano& piano, std::string_view adjuster, std::string_view note,
                            double amount, std::string remark = {});

// As skip_move, note_preparation and remark.
Result<MoveSkipped> check_skip(const Piano& piano, std::string_view adjuster, std::string_view note,
                               std::string reason);
Result<PreparationNoted> check_preparation(const Piano& piano, std::string_view item,
                                           std::string_view state, std::string_view note,
                                           std::string reason);
Result<Remark> check_remark(const Piano& piano, std::string_view note, std::string text);

// As choose_setting, beside the settings on record.
Result<SettingChosen> check_choice(const Piano& piano,
                                   const std::map<std::string, std::string>& on_record,
                                   const std::string& name, const std::string& value);

}  // namespace batten
