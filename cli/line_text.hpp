// The line in words, for a terminal.
#pragma once

#include "core/journal/entry.hpp"
#include "core/regulation/line/line.hpp"

#include <string>

namespace batten::cli {

struct LineTextOptions {
  bool all = false;     // every note in the table, not only those with something to say
  bool inches = false;  // lengths in decimal inches
};

// Lines of at most 100 columns.
std::string line_text(const Piano& piano, const Line& line, const LineTextOptions& options);

// What is doubtful and what to read next: the end of a series of readings.
std::string look_first_text(const Line& line, bool inches);

}  // namespace batten::cli
