// Can this piano do what its sheet says, and what is to give way: asked, drawn, put on record.
#pragma once

#include "app/desk.hpp"
#include "core/regulation/brief/brief.hpp"

#include <filesystem>
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

// About a second a register. Errors: as plan_work and calc_brief; no such register or note.
Result<PianoBrief> make_brief(Desk& desk, const Piano& piano, const BriefRequest& request);

// Writes the map over blow and dip (SVG). Errors: as above, a file that cannot be written.
Result<void> draw_brief(Desk& desk, const Piano& piano, const BriefRequest& request, bool inches,
                        const std::filesystem::path& file);

// Puts departures on record as targets, all in one durable step, with a remark that tells why.
// `which`: "cheapest"; one number for every register that has ways out, from 1 as `brief` lists
// them, 0: the sheet; or a number for each of those registers, with commas. Error: none such,
// nothing to accept.
Result<std::vector<Entry>> accept_departures(Desk& desk, const Piano& piano,
                                             const PianoBrief& brief, const std::string& which,
                                             const std::string& because);

}  // namespace batten
