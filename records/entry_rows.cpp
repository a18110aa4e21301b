#include "records/entry_rows.hpp"

#include "records/sqlite/errors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace batten {
namespace {

using sqlite::Statement;
using sqlite::Value;

// Columns from the first one on, as entry_columns names them.
enum Column { id, at_ms, who, kind, subject, note, value, uncertainty, state, gauge, text, target };

struct KindWord {
  std::string_view operator()(const ReadingTaken&) const { return "reading"; }
  std::string_view operator()(const MoveMade&) const { return "move"; }
  std::string_view operator()(const MoveSkipped&) const { return "skip"; }
  std::string_view operator()(const PreparationNoted&) const { return "preparation"; }
  std::string_view operator()(const SettingChosen&) const { return "setting"; }
  std::string_view operator()(const Remark&) const { return "remark"; }
  std::string_view operator()(const Undo&) const { return "undo"; }
};

Value value_of(const std::optional<Key>& key) {
  return key ? Value{std::int64_t{key->number}} : Value{nullptr};
}

// Binds the columns its kind fills; the others stay NULL.
class Binder {
 public:
  Binder(Statement& statement, int first) : statement_(statement), first_(first) {}

  void put(Column column, const Value& what) { statement_.bind(first_ + column, what); }

  void operator()(const ReadingTaken& taken) {
    put(subject, kind_of(taken.reading).code);
    put(note, value_of(taken.note));
    put(value, taken.value);
    put(uncertainty, taken.uncertainty);
    put(gauge, std::string_view(taken.gauge));
    put(text, std::string_view(taken.typed));
  }
  void operator()(const MoveMade& move) {
    put(subject, kind_of(move.adjuster).code);
    put(note, value_of(move.note));
    put(value, move.amount);
    put(text, std::string_view(move.remark));
  }
  void operator()(const MoveSkipped& skip) {
    put(subject, kind_of(skip.adjuster).code);
    put(note, value_of(skip.note));
    put(text, std::string_view(skip.reason));
  }
  void operator()(const PreparationNoted& noted) {
    put(subject, kind_of(noted.item).code);
    put(note, value_of(noted.note));
    put(state, state_code(noted.state));
    put(text, std::string_view(noted.reason));
  }
  void operator()(const SettingChosen& setting) {
    put(subject, std::string_view(setting.name));
    put(text, std::string_view(setting.value));
  }
  void operator()(const Remark& remark) {
    put(note, value_of(remark.note));
    put(text, std::string_view(remark.text));
  }
  void operator()(const Undo& undo) { put(target, batten::value_of(undo.entry)); }

 private:
  Statement& statement_;
  int first_;
};

class Reader {
 public:
  Reader(const Statement& statement, int first) : statement_(statement), first_(first) {}

  std::string_view word(Column column) const { return statement_.text(first_ + column); }
  std::string copy(Column column) const { return std::string(word(column)); }
  std::int64_t whole(Column column) const { return statement_.integer(first_ + column); }
  double real(Column column) const { return statement_.real(first_ + column); }
  std::optional<Key> key() const {
    if (statement_.is_null(first_ + note)) return std::nullopt;
    return Key{static_cast<int>(whole(note))};
  }

  Result<EntryContent> content() const {
    const std::string_view what = word(kind);
    if (what == "reading") return reading();
    if (what == "move") return move();
    if (what == "skip") return skip();
    if (what == "preparation") return preparation();
    if (what == "setting") return SettingChosen{copy(subject), copy(text)};
    if (what == "remark") return Remark{key(), copy(text)};
    if (what == "undo") return Undo{read_uuid(statement_, first_ + target)};
    return unknown("kind of entry", what);
  }

 private:
  static tl::unexpected<Problem> unknown(std::string_view what, std::string_view code) {
    return problem(
        fmt::format("The journal holds a {} this version does not know: \"{}\".", what, code),
        "Update Batten on this device.", "Nothing was changed.");
  }

  Result<EntryContent> reading() const {
    const auto found = reading_by_code(word(subject));
    if (!found) return unknown("reading", word(subject));
    return ReadingTaken{*found, key(), real(value), real(uncertainty), copy(gauge), copy(text)};
  }
  Result<EntryContent> move() const {
    const auto found = adjuster_by_code(word(subject));
    if (!found) return unknown("adjuster", word(subject));
    return MoveMade{*found, key(), real(value), copy(text)};
  }
  Result<EntryContent> skip() const {
    const auto found = adjuster_by_code(word(subject));
    if (!found) return unknown("adjuster", word(subject));
    return MoveSkipped{*found, key(), copy(text)};
  }
  Result<EntryContent> preparation() const {
    const auto found = preparation_by_code(word(subject));
    if (!found) return unknown("preparation item", word(subject));
    const auto standing = preparation_state_by_code(word(state));
    if (!standing) return unknown("state of a preparation item", word(state));
    return PreparationNoted{*found, key(), *standing, copy(text)};
  }

  const Statement& statement_;
  int first_;
};

// Well-formed per Unicode 15, table 3-7.
bool is_utf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const auto byte = [&](std::size_t offset) {
      return i + offset < text.size() ? static_cast<unsigned char>(text[i + offset]) : 0U;
    };
    const auto follows = [&](std::size_t offset) { return (byte(offset) & 0xc0U) == 0x80U; };
    const unsigned lead = byte(0);
    if (lead < 0x80U) {
      i += 1;
    } else if (lead >= 0xc2U && lead <= 0xdfU && follows(1)) {
      i += 2;
    } else if ((lead & 0xf0U) == 0xe0U && follows(1) && follows(2)) {
      if (lead == 0xe0U && byte(1) < 0xa0U) return false;  // could be shorter
      if (lead == 0xedU && byte(1) > 0x9fU) return false;  // half of a UTF-16 pair
      i += 3;
    } else if (lead >= 0xf0U && lead <= 0xf4U && follows(1) && follows(2) && follows(3)) {
      if (lead == 0xf0U && byte(1) < 0x90U) return false;  // could be shorter
      if (lead == 0xf4U && byte(1) > 0x8fU) return false;  // above U+10FFFF
      i += 4;
    } else {
      return false;
    }
  }
  return true;
}

Result<void> check_number(double number) {
  if (!std::isfinite(number)) return problem("A value that is not a finite number was refused.");
  return {};
}

Result<void> check_key(const std::optional<Key>& key) {
  if (key && (*key < lowest_possible_key || *key > highest_possible_key)) {
    return problem(fmt::format("No keyboard has a key {}.", key->number));
  }
  return {};
}

struct ContentCheck {
  Result<void> operator()(const ReadingTaken& taken) const {
    if (!(taken.uncertainty > 0)) return problem("A reading's uncertainty must be above 0.");
    return check_number(taken.value)
        .and_then([&] { return check_number(taken.uncertainty); })
        .and_then([&] { return check_key(taken.note); })
        .and_then([&] {
          return check_texts({taken.gauge, taken.typed});
        });
  }
  Result<void> operator()(const MoveMade& move) const {
    const AdjusterKind& kind = kind_of(move.adjuster);
    if (kind.scope == Scope::per_note && !move.note)
      return problem(fmt::format("A move of the {} needs its note.", kind.name), "Name the note.");
    if (kind.scope != Scope::per_note && move.note)
      return problem(fmt::format("The {} is of the whole piano.", kind.name), "Name no note.");
    return check_number(move.amount).and_then([&] { return check_key(move.note); }).and_then([&] {
      return check_texts({move.remark});
    });
  }
  Result<void> operator()(const MoveSkipped& skip) const {
    if (skip.reason.empty()) return problem("A move is left with a reason only.", "Say why.");
    if (kind_of(skip.adjuster).scope != Scope::per_note && skip.note)
      return problem(fmt::format("The {} is of the whole piano.", kind_of(skip.adjuster).name),
                     "Name no note.");
    return check_key(skip.note).and_then([&] { return check_texts({skip.reason}); });
  }
  Result<void> operator()(const PreparationNoted& noted) const {
    if (noted.state == PreparationState::waived && noted.reason.empty()) {
      return problem("A preparation item is waived with a reason only.", "Say why it is left.");
    }
    return check_key(noted.note).and_then([&] { return check_texts({noted.reason}); });
  }
  Result<void> operator()(const SettingChosen& setting) const {
    if (setting.name.empty()) return problem("A setting needs a name.");
    return check_texts({setting.name, setting.value});
  }
  Result<void> operator()(const Remark& remark) const {
    return check_key(remark.note).and_then([&] { return check_texts({remark.text}); });
  }
  Result<void> operator()(const Undo& undo) const {
    if (undo.entry.is_nil()) return problem("An undo must name an entry.");
    return {};
  }
};

}  // namespace

Result<void> check_texts(std::initializer_list<std::string_view> texts) {
  if (std::all_of(texts.begin(), texts.end(), is_utf8)) return {};
  return problem("A text that is not UTF-8 was refused.");
}

Result<void> check_entry(const Entry& entry) {
  if (entry.id.is_nil()) return problem("An entry without an identity was refused.");
  return check_texts({entry.who}).and_then([&] {
    return std::visit(ContentCheck{}, entry.content);
  });
}

void bind_entry(Statement& statement, int first, const Entry& entry) {
  Binder binder(statement, first);
  for (int column = subject; column <= target; ++column) {
    binder.put(static_cast<Column>(column), nullptr);
  }
  binder.put(id, value_of(entry.id));
  binder.put(at_ms, entry.at_ms);
  binder.put(who, std::string_view(entry.who));
  binder.put(kind, std::visit(KindWord{}, entry.content));
  std::visit(binder, entry.content);
}

Result<Entry> read_entry(const Statement& statement, int first, const Uuid& visit) {
  const Reader reader(statement, first);
  Result<EntryContent> content = reader.content();
  if (!content) return tl::unexpected(std::move(content.error()));
  return Entry{read_uuid(statement, first + id), visit, reader.whole(at_ms), reader.copy(who),
               std::move(*content)};
}

Uuid read_uuid(const Statement& statement, int column) {
  const std::span<const std::uint8_t> bytes = statement.bytes(column);
  Uuid id;
  if (bytes.size() != id.bytes.size()) {
    sqlite::fail(FailureKind::damaged, "an identity is not 16 bytes");
  }
  std::copy(bytes.begin(), bytes.end(), id.bytes.begin());
  return id;
}

Value value_of(const Uuid& id) { return std::span<const std::uint8_t>(id.bytes); }

}  // namespace batten
