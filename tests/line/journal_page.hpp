// A journal written by hand for a test: entry after entry, then what stands and what the line says.
#pragma once

#include "core/journal/fold.hpp"
#include "core/regulation/line/line.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace batten::line_test {

class Page {
 public:
  Page() { new_visit(); }

  Page& new_visit();
  Page& write(EntryContent content);

  // Values in millimetres, notes by name.
  Page& read(Reading reading, std::string_view note, double value, double sd);
  Page& string(std::string_view note, double height, double sd = 0.1);
  Page& hammer(std::string_view note, double height, double sd = 0.1);
  Page& blow(std::string_view note, double length, double sd = 0.01);
  Page& aftertouch(std::string_view note, double travel);
  Page& transfer(std::string_view note, double offset, double sd = 0.1);
  Page& turned(std::string_view note, double turns, Adjuster adjuster = Adjuster::capstan);
  Page& set(const std::string& name, const std::string& value);
  Page& prepare(PreparationItem item, PreparationState state, std::string_view note = "",
                const std::string& reason = "");
  // Every item found in order.
  Page& pass_gate();
  Page& undo_last();

  const std::vector<Entry>& entries() const { return entries_; }
  Standing standing() const { return fold(entries_); }
  Line line(Compass compass = {}) const;

 private:
  Uuid next_id();

  std::uint32_t ids_ = 0;
  Uuid visit_;
  std::vector<Entry> entries_;
};

// Gate passed, one section a register, blow 46 mm everywhere.
Page ready_page();
// The same with level strings at 200 mm, read at every third key and all section ends.
Page level_page();

Key key(std::string_view note);
const NoteLine& at(const Line& line, std::string_view note);
double mm(Length l);

}  // namespace batten::line_test
