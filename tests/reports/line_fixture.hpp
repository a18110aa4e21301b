// Invented lines to print: every verdict, doubt and gap a sheet can meet, without the calculation
// that would make them.
#pragma once

#include "core/regulation/line/line.hpp"

namespace batten {

struct FixtureOptions {
  Key lowest{1};
  Key highest{88};
  // Last notes of the sections, lowest first; the top of the compass is added.
  std::vector<Key> section_ends{Key{20}, Key{42}, Key{66}};
  double string_datum_mm = 192;
  bool read = true;        // whether anything was read at all
  bool all_moves = false;  // every hammer wants a move
  bool gate_open = true;
  bool bench = false;  // hammers over another datum
  int transfer_readings = 4;
  bool troubles = true;  // doubts, held notes, unisons off level, notes out of service
};

Line invented_line(const FixtureOptions& options = {});

}  // namespace batten
