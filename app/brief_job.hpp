// Can this piano do what its sheet says, and what is to give way: asked, drawn, put on record.
#pragma once

#include "app/brief_memory.hpp"
#include "app/desk.hpp"
#include "core/regulation/brief/brief.hpp"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace batten {

struct BriefRequest {
  std::string where;  // a register's name, its note, or any note; empty: the usual registers
};

struct PianoBrief {
  Brief brief;
  std::string profile;          // whose dimensions were asked
  bool profile_chosen = false;  // set for this piano; else "medium" stands in
};

// About a second a register that is not in the memory. Errors: as plan_work and calc_brief; no such
// register or note.
Result<PianoBrief> make_brief(Desk& desk, const Piano& piano, const BriefRequest& request,
                              BriefMemory* memory = nullptr);

// What departures were put on record, and when.
struct Acceptance {
  std::int64_t at_ms = 0;  // Unix time, milliseconds, UTC
  std::string who;
  std::vector<SettingChosen> settings;
  std::string because;  // the user's own reason, may be empty
};

// What is asked of the piano, without asking the mechanism: some milliseconds.
struct BriefOutline {
  Compass compass;
  Targets targets;
  BriefWishes wishes;
  std::vector<Register> registers;  // those a brief of everything asks
  std::string profile;
  bool profile_chosen = false;
  std::vector<Acceptance> accepted;  // in force, newest first
};
// Errors: as plan_work; wishes that cannot be read.
Result<BriefOutline> outline_brief(Desk& desk, const Piano& piano, BriefMemory& memory);

// One register's map over blow and dip. Errors: as make_brief; `where` empty.
struct PianoMap {
  BriefMap map;
  std::string profile;
  bool profile_chosen = false;
};
Result<PianoMap> map_brief(Desk& desk, const Piano& piano, const BriefRequest& request,
                           BriefMemory& memory);

// Writes the map over blow and dip (SVG). Errors: as above, a file that cannot be written.
Result<void> draw_brief(Desk& desk, const Piano& piano, const BriefRequest& request, bool inches,
                        const std::filesystem::path& file);

// Puts departures on record as targets, all in one durable step, with a remark that tells why.
// `which`: "cheapest"; one number for every register that has ways out, from 1 as `brief` lists
// them, 0: the sheet; or a number for each of those registers, with commas. `id`: of the first
// entry, so that the same may be asked twice; what was kept the first time is then returned. Error:
// none such, nothing to accept.
Result<std::vector<Entry>> accept_departures(Desk& desk, const Piano& piano,
                                             const PianoBrief& brief, const std::string& which,
                                             const std::string& because,
                                             std::optional<Uuid> id = {});
// What was kept with the entry of this identity in one step; empty: there is none.
Result<std::vector<Entry>> step_of(Desk& desk, const Piano& piano, const Uuid& id);

}  // namespace batten
