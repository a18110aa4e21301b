// What this piano has: notes out of service, dampers, strings of a unison, adjusters that are
// missing.
#pragma once

#include "core/keyboard/compass.hpp"
#include "core/outcome/outcome.hpp"
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace batten {

// Per-piano choices on record:
//   out-of-service   "A0 B0", notes; nothing is asked of them
//   undamped-from    "G6": the lowest note without a damper
//   lacks            "drop-screw C7 C8; damper-wire F6-G6; sostenuto-blade": adjusters that are not
//                    there, at notes, runs of notes, or anywhere when no note is named
//   one-string-to    "F1": the highest note with one string
//   two-strings-to   "E2": the highest with two; three above
struct Equipment {
  Compass compass;
  std::vector<Key> out_of_service;  // rising
  std::optional<Key> undamped_from, one_string_to, two_strings_to;
  // Where each is missing, rising; every note of the compass when it is missing altogether.
  std::map<Adjuster, std::vector<Key>> lacking;

  // Whether the note is on this keyboard and in service.
  bool serves(Key key) const;
  bool damped(Key key) const;
  // 1 to 3; 3 where it is not on record.
  int strings(Key key) const;
  // Whether a note's adjuster is there to be moved. False where the note does not serve, and for
  // adjusters of the piano.
  bool has(Adjuster adjuster, Key key) const;
  // The same of an adjuster of the piano.
  bool has(Adjuster adjuster) const;
  // Whether a note's reading is worth taking there: of naturals their own height and dip, of sharps
  // theirs; of dampers and unisons where there are such; nothing an adjuster that is missing would
  // set. False for readings of the piano and the room.
  bool asks(Reading reading, Key key) const;
};

// Other settings on record are passed over. Error: one that cannot be read, named; more strings
// below than above.
Result<Equipment> equipment_on_record(Compass compass,
                                      const std::map<std::string, std::string>& on_record);
// Reads one alone, to refuse it before it is written down. Error also: no such setting.
Result<void> check_equipment_setting(Compass compass, const std::string& name,
                                     const std::string& value);
bool is_equipment_setting(const std::string& name);

}  // namespace batten
