// A series of readings from standard input, as a digital gauge types it: a number and Enter.
#pragma once

#include "app/desk.hpp"
#include "cli/commands.hpp"

namespace batten::cli {

// Goes from note to note. A line is a value; "C4 45.2" goes to that note first; "-" or an empty
// line skips the note; "again" reads the note before once more, the first reading standing; "back"
// takes the last reading back, and the one before it when said again; "stop" ends. Each value is on
// disk before its acknowledgement is printed. From a terminal a value that cannot be read is asked
// for again; from a pipe the series stops there, because what follows would land on wrong notes.
// With --json each kept reading is one line of JSON.
int read_series(Desk& desk, const Piano& piano, const Common& common, const ReadWords& words);

}  // namespace batten::cli
