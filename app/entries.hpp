// Everything that is written into a piano's journal but readings: moves, preparation, settings,
// remarks, undos; and the journal itself.
#pragma once

#include "app/desk.hpp"
#include "core/journal/entry.hpp"
#include "core/journal/fold.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

// Writes entries of one request in one durable step, in the current visit. All or none. `first`:
// the identity of the first, where whoever asks has made it.
Result<std::vector<Entry>> keep(Desk& desk, const Piano& piano, std::vector<EntryContent> contents,
                                std::optional<Uuid> first = {});

// `amount` as typed with its direction: "raise 3/64", "lower 1/8 turn", "+1/16", "-0.5 mm". Words
// are the adjuster's own (catalogue). Error: no direction, a wrong unit, no such note.
Result<Entry> record_move(Desk& desk, const Piano& piano, std::string_view adjuster,
                          std::string_view note, std::string_view amount, std::string remark = {});

// The same, checked and not written down; `note` as of the piano's keys.
Result<MoveMade> parse_move(const Piano& piano, Adjuster adjuster, std::string_view note,
                            std::string_view amount, std::string remark = {});
// Whether a text begins with a direction of this adjuster: one of its words, + or −.
bool names_direction(std::string_view text, Adjuster adjuster);

// A move knowingly left. `note` empty or "-": an adjuster of the piano, or a note's at every note.
// Error: no such adjuster or note, a note for one of the piano's, no reason.
Result<Entry> skip_move(Desk& desk, const Piano& piano, std::string_view adjuster,
                        std::string_view note, std::string reason);

// `note` empty: the whole piano. A waived item needs a reason.
Result<Entry> note_preparation(Desk& desk, const Piano& piano, std::string_view item,
                               std::string_view state, std::string_view note, std::string reason);

// Settings of the line job, action-profile (action_job.hpp), targets, the catalogue's own, what the
// piano has and lacks, needs and wants of the brief, threads and play-weight. Refused when it
// cannot be read, or would make the ones on record unreadable together.
Result<Entry> choose_setting(Desk& desk, const Piano& piano, const std::string& name,
                             const std::string& value);

Result<Entry> remark(Desk& desk, const Piano& piano, std::string_view note, std::string text);

// Takes back the newest entry in force, or the one whose identity begins so (at least 4
// characters). Returns what was taken back. Error: none such, several, or taken back already.
Result<Entry> undo(Desk& desk, const Piano& piano, std::string_view identity = {});

// Takes back all entries that were kept in one step with the newest in force, in one durable step:
// a whole import, for instance. Returns what was taken back, oldest first. Error: nothing to take
// back.
Result<std::vector<Entry>> undo_step(Desk& desk, const Piano& piano);

struct HistoryLine {
  Entry entry;
  bool in_force = true;
  std::string visit_title;
  std::int64_t arrival = 0;  // its place by arrival; the last is the revision
};
// The whole journal, in reading order.
Result<std::vector<HistoryLine>> history(Desk& desk, const Piano& piano);

Result<Standing> standing(Desk& desk, const Piano& piano);

}  // namespace batten
