#include "tests/line/journal_page.hpp"

#include <gtest/gtest.h>

#include <utility>

namespace batten::line_test {

Uuid Page::next_id() {
  Uuid id;
  ++ids_;
  for (std::size_t i = 0; i < 4; ++i)
    id.bytes[i] = static_cast<std::uint8_t>(ids_ >> (8 * (3 - i)) & 255U);
  return id;
}

Page& Page::new_visit() {
  visit_ = next_id();
  return *this;
}

Page& Page::write(EntryContent content) {
  entries_.push_back(
      {next_id(), visit_, static_cast<std::int64_t>(ids_) * 1000, "", std::move(content)});
  return *this;
}

Page& Page::read(Reading reading, std::string_view note, double value, double sd) {
  return write(ReadingTaken{reading, key(note), value, sd, "", ""});
}
Page& Page::string(std::string_view note, double height, double sd) {
  return read(Reading::string_height, note, height, sd);
}
Page& Page::hammer(std::string_view note, double height, double sd) {
  return read(Reading::hammer_height, note, height, sd);
}
Page& Page::blow(std::string_view note, double length, double sd) {
  return read(Reading::blow, note, length, sd);
}
Page& Page::aftertouch(std::string_view note, double travel) {
  return read(Reading::aftertouch, note, travel, 0.1);
}
Page& Page::transfer(std::string_view note, double offset, double sd) {
  return read(Reading::datum_transfer, note, offset, sd);
}
Page& Page::turned(std::string_view note, double turns, Adjuster adjuster) {
  return write(MoveMade{adjuster, key(note), turns, ""});
}
Page& Page::set(const std::string& name, const std::string& value) {
  return write(SettingChosen{name, value});
}
Page& Page::prepare(PreparationItem item, PreparationState state, std::string_view note,
                    const std::string& reason) {
  PreparationNoted p{item, std::nullopt, state, reason};
  if (!note.empty()) p.note = key(note);
  return write(p);
}
Page& Page::pass_gate() {
  for (const PreparationKind& k : preparation_kinds()) prepare(k.id, PreparationState::found);
  return *this;
}
Page& Page::undo_last() { return write(Undo{entries_.back().id}); }

Line Page::line(Compass compass) const {
  auto line = calc_line(compass, standing());
  if (!line) {
    ADD_FAILURE() << line.error().sentence();
    return {};
  }
  return std::move(*line);
}

Page ready_page() {
  Page page;
  page.set("sections", "E2 bridge, A#4 strut, D6 strut").set("blow-target", "46").pass_gate();
  return page;
}

Page level_page() {
  Page page = ready_page();
  for (int k = 1; k <= 88; k += 3) page.string(note_name(Key{k}), 200);
  for (const char* end : {"E2", "F2", "A#4", "B4", "D6", "D#6"}) page.string(end, 200);
  return page;
}

Key key(std::string_view note) {
  auto parsed = parse_key(note);
  EXPECT_TRUE(parsed) << note;
  return parsed.value_or(Key{});
}

const NoteLine& at(const Line& line, std::string_view note) { return line.at(key(note)); }

double mm(Length l) { return l.in(millimetre); }

}  // namespace batten::line_test
