// A page as values: composed once in the user's language, printed and shown alike.
#pragma once

#include "core/keyboard/compass.hpp"
#include "core/language/language.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace batten {

enum class BlockKind : std::uint8_t {
  heading,     // text
  subheading,  // text
  text,        // lead, text
  quiet,       // text: what the others rest on
  caution,     // lead, text: in a ruled box
  list,        // items
  figures,     // columns, rows: what a row means stands below it
  strip,       // text above, before and after by note
  table,       // columns, rows: may be set in several columns beside each other
  sign,        // text under a line to sign on
};

struct PageItem {
  std::string lead;  // bold, before the text; may be empty
  std::string text;
  bool operator==(const PageItem&) const = default;
};

struct PageRow {
  std::vector<std::string> cells;  // as many as the block's columns
  std::string means;               // what the figures mean, in a sentence; may be empty
  bool marked = false;             // outside its tolerance
  bool operator==(const PageRow&) const = default;
};

// How far a note lies from the wanted figure, in tolerances, + above it.
struct StripMark {
  Key key;
  double before = 0, after = 0;
  bool operator==(const StripMark&) const = default;
};

struct PageBlock {
  BlockKind kind = BlockKind::text;
  std::string lead = {}, text = {};
  std::vector<PageItem> items = {};
  std::vector<std::string> columns = {};
  std::vector<PageRow> rows = {};
  std::vector<StripMark> marks = {};
  // How soon it may be left out where a page has no room: 0 never, the highest first. Of a list and
  // of figures the last items go one by one down to `least`.
  int rank = 0;
  std::size_t least = 0;
  bool whole = false;  // a list goes as one
};

struct ComposedPage {
  std::string title;           // the piano
  std::vector<PageItem> head;  // where, which visit, who, the room
  std::vector<PageBlock> blocks;
  Compass compass;            // of the strips
  std::string before, after;  // the two rows of a strip
  std::string name;           // which page this is: "Page for the owner"
  Language language = Language::english;
};

}  // namespace batten
