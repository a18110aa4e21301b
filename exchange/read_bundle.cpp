#include "core/quantities/number_text.hpp"
#include "exchange/bundle.hpp"
#include "exchange/bundle_head.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <initializer_list>
#include <limits>
#include <optional>
#include <span>
#include <utility>

namespace batten {

namespace {

using Json = nlohmann::json;

constexpr const char* nothing_changed = "Nothing was changed.";
constexpr const char* make_again = "Have the file made and sent again, as it is.";

tl::unexpected<Problem> damaged(std::string_view what) {
  return problem(fmt::format("The file is damaged: {}.", what), make_again, nothing_changed);
}
tl::unexpected<Problem> later(std::string_view what) {
  return problem(fmt::format("The file comes from a later version of Batten: {}.", what),
                 "Update Batten on this device.", nothing_changed);
}

// The members of one object; the first thing wrong stays.
class Members {
 public:
  explicit Members(const Json& object) : object_(object) {
    if (!object.is_object()) wrong("an object is missing");
  }

  std::string text(const char* name) {
    const Json* at = find(name);
    if (at == nullptr) return {};
    if (!at->is_string()) {
      wrong(fmt::format("\"{}\" is no text", name));
      return {};
    }
    return at->get<std::string>();
  }
  Uuid identity(const char* name) {
    const std::string written = text(name);
    if (wrong_) return {};
    auto id = parse_uuid(written);
    if (!id) {
      wrong(fmt::format("\"{}\" is no identity", name));
      return {};
    }
    return *id;
  }
  std::int64_t whole(const char* name) {
    const Json* at = find(name);
    if (at == nullptr) return 0;
    const bool fits =
        at->is_number_integer() &&
        (!at->is_number_unsigned() ||
         at->get<std::uint64_t>() <= std::uint64_t{std::numeric_limits<std::int64_t>::max()});
    if (!fits) {
      wrong(fmt::format("\"{}\" is no whole number", name));
      return 0;
    }
    return at->get<std::int64_t>();
  }
  double real(const char* name) {
    const Json* at = find(name);
    if (at == nullptr) return 0;
    if (!at->is_number()) {
      wrong(fmt::format("\"{}\" is no number", name));
      return 0;
    }
    return at->get<double>();
  }
  std::optional<Key> key() {
    const Json* at = find("key");
    if (at == nullptr || at->is_null()) return std::nullopt;
    return Key{key_number("key")};
  }
  int key_number(const char* name) {
    const std::int64_t number = whole(name);
    if (number < lowest_possible_key.number || number > highest_possible_key.number) {
      wrong(fmt::format("no keyboard has a key {}", number));
      return lowest_possible_key.number;
    }
    return static_cast<int>(number);
  }
  // What a catalogue code stands for.
  template <class Find>
  auto code(const char* name, const Find& find_code) {
    const std::string written = text(name);
    auto found = find_code(written);
    if (!found) wrong(later(fmt::format("it holds {}", batten::quoted(written))).value());
    using Found = typename decltype(found)::value_type;
    return found.value_or(Found{});
  }
  // Refuses members nobody asked for: they would be lost.
  void no_more() {
    if (wrong_) return;
    for (const auto& item : object_.items())
      if (std::ranges::find(asked_, item.key()) == asked_.end())
        wrong(fmt::format("{} is not known there", batten::quoted(item.key())));
  }

  // A list whose elements have been taken already.
  void empty_list(const char* name) {
    const Json* at = find(name);
    if (at != nullptr && (!at->is_array() || !at->empty()))
      wrong(fmt::format("\"{}\" is no list of objects", name));
  }
  const Json* object(const char* name) { return find(name); }

  void wrong(std::string_view what) { wrong(damaged(what).value()); }
  void wrong(Problem what) {
    if (!wrong_) wrong_ = std::move(what);
  }
  const std::optional<Problem>& problem() const { return wrong_; }

 private:
  const Json* find(const char* name) {
    asked_.emplace_back(name);
    if (wrong_) return nullptr;
    const auto at = object_.find(name);
    if (at != object_.end()) return &*at;
    wrong(fmt::format("\"{}\" is missing", name));
    return nullptr;
  }

  const Json& object_;
  std::vector<std::string> asked_;
  std::optional<Problem> wrong_;
};

EntryContent content_of(Members& m) {
  const std::string kind = m.text("kind");
  if (kind == "reading") {
    ReadingTaken r;
    r.reading = m.code("reading", reading_by_code);
    r.note = m.key();
    r.value = m.real("value");
    r.uncertainty = m.real("uncertainty");
    r.gauge = m.text("gauge");
    r.typed = m.text("typed");
    return r;
  }
  if (kind == "move") {
    MoveMade move;
    move.adjuster = m.code("adjuster", adjuster_by_code);
    move.note = m.key();
    move.amount = m.real("amount");
    move.remark = m.text("remark");
    return move;
  }
  if (kind == "skip") {
    MoveSkipped skip;
    skip.adjuster = m.code("adjuster", adjuster_by_code);
    skip.note = m.key();
    skip.reason = m.text("reason");
    return skip;
  }
  if (kind == "preparation") {
    PreparationNoted noted;
    noted.item = m.code("item", preparation_by_code);
    noted.note = m.key();
    noted.state = m.code("state", preparation_state_by_code);
    noted.reason = m.text("reason");
    return noted;
  }
  if (kind == "setting") {
    SettingChosen setting;
    setting.name = m.text("name");
    setting.value = m.text("value");
    return setting;
  }
  if (kind == "remark") {
    Remark remark;
    remark.note = m.key();
    remark.text = m.text("text");
    return remark;
  }
  if (kind == "undo") return Undo{m.identity("entry")};
  m.wrong(later(fmt::format("it holds a kind of entry {}", batten::quoted(kind))).value());
  return Remark{};
}

// Takes the file's parts as they are read, so that a large one never stands in memory as JSON.
class BundleParts {
 public:
  // nlohmann::json's parser callback; false throws the value away.
  bool take(int depth, Json::parse_event_t event, Json& value) {
    if (event == Json::parse_event_t::key && depth == 1) {
      member_ = value.get<std::string>();
      return true;
    }
    // An element of a list of the outermost object.
    if (depth == 2 && event == Json::parse_event_t::object_end) {
      if (member_ == "visits") return add_visit(value), false;
      if (member_ == "entries") return add_entry(value), false;
    }
    return true;
  }

  Result<WholeJournal> finish(const Json& rest, std::string_view text) {
    if (!rest.is_object() || rest.value("format", Json()) != Json(bundle_format))
      return problem("The file is no bundle of a piano.",
                     "Choose a file that \"batten bundle\" made.", nothing_changed);
    const Json version = rest.value("version", Json());
    if (!version.is_number_integer() || version < 1) return damaged("its version is not told");
    if (version > bundle_version)
      return later(fmt::format("bundles of version {}, and this one reads version {}",
                               version.dump(), bundle_version));
    const auto place = sha256_place(text);
    if (!place) return damaged("its checksum is missing");
    if (text.substr(*place, sha256_digits) != sha256_without_digits(text, *place))
      return damaged("it is not as it was when it was made, by its checksum");
    if (wrong_) return tl::unexpected(*wrong_);
    Members head(rest);
    head.text("format");
    head.whole("version");
    head.text("sha256");
    for (const char* list : {"visits", "entries"}) head.empty_list(list);
    read_piano(head.object("piano"));
    head.no_more();
    if (head.problem()) return tl::unexpected(*head.problem());
    if (wrong_) return tl::unexpected(*wrong_);
    return std::move(journal_);
  }

 private:
  void read_piano(const Json* object) {
    if (object == nullptr) return;
    Members m(*object);
    Piano& p = journal_.piano;
    p.id = m.identity("id");
    p.name = m.text("name");
    p.place = m.text("place");
    p.lowest_key = m.key_number("lowest_key");
    p.highest_key = m.key_number("highest_key");
    p.added_ms = m.whole("added_ms");
    finish("The piano", m);
  }
  void add_visit(const Json& object) {
    if (wrong_) return;
    Members m(object);
    Visit visit;
    visit.id = m.identity("id");
    visit.begun_ms = m.whole("begun_ms");
    visit.title = m.text("title");
    journal_.visits.push_back(std::move(visit));
    finish(fmt::format("Visit {}", journal_.visits.size()), m);
  }
  void add_entry(const Json& object) {
    if (wrong_) return;
    Members m(object);
    StampedEntry one;
    one.entry.id = m.identity("id");
    one.entry.visit = m.identity("visit");
    one.stamp = m.whole("stamp");
    one.entry.at_ms = m.whole("at_ms");
    one.entry.who = m.text("who");
    one.entry.content = content_of(m);
    journal_.entries.push_back(std::move(one));
    finish(fmt::format("Entry {}", journal_.entries.size()), m);
  }
  void finish(const std::string& what, Members& m) {
    m.no_more();
    if (!m.problem()) return;
    wrong_ = *m.problem();
    wrong_->happened = fmt::format("{}: {}", what, wrong_->happened);
  }

  std::string member_;
  WholeJournal journal_;
  std::optional<Problem> wrong_;
};

}  // namespace

Result<WholeJournal> read_bundle(std::string_view text) {
  if (text.size() > most_bundle_bytes)
    return problem(fmt::format("The file is larger than {} MB.", most_bundle_bytes >> 20U),
                   "Choose a file that \"batten bundle\" made.", nothing_changed);
  if (text.empty()) return problem("The file is empty.", make_again, nothing_changed);
  BundleParts parts;
  const Json rest = Json::parse(
      text.begin(), text.end(),
      [&](int depth, Json::parse_event_t event, Json& value) {
        return parts.take(depth, event, value);
      },
      false);
  if (rest.is_discarded()) {
    if (text.substr(0, 200).find(bundle_format) != std::string_view::npos)
      return damaged("it is cut short, or was changed");
    return problem("The file is no bundle of a piano.",
                   "Choose a file that \"batten bundle\" made.", nothing_changed);
  }
  return parts.finish(rest, text);
}

}  // namespace batten
