#include "server/entry_body.hpp"

#include "core/keyboard/compass.hpp"
#include "server/body.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <span>
#include <string_view>
#include <utility>

namespace batten::server {

namespace {

using nlohmann::json;

constexpr const char* nothing_written = "Nothing was written.";
constexpr std::size_t longest_text = 4000;

// The members of one object, told by name where they are wrong. The first thing wrong stays.
class Members {
 public:
  explicit Members(const json& object) : object_(object) {}

  // Text; where it is not there: empty, or wrong if it is `needed`.
  std::string text(const char* name, bool needed = false) {
    const json* at = find(name);
    if (at == nullptr) {
      if (needed) wrong(fmt::format("\"{}\" is missing.", name), "Send it as text.");
      return {};
    }
    if (!at->is_string()) {
      wrong(fmt::format("\"{}\" is {}, and text is expected.", name, kind(*at)),
            "Send it in quotes.");
      return {};
    }
    const auto& text = at->get_ref<const std::string&>();
    if (text.size() > longest_text)
      wrong(fmt::format("\"{}\" is too long.", name),
            fmt::format("At most {} bytes are kept of a text.", longest_text));
    return text;
  }

  Uuid identity(const char* name, bool needed) {
    const std::string written = text(name, needed);
    if (problem_ || written.empty()) {
      if (!problem_ && needed) wrong(fmt::format("\"{}\" is empty.", name), "Send a UUID.");
      return {};
    }
    auto id = parse_uuid(written);
    if (!id) {
      wrong(id.error().happened, id.error().todo);
      return {};
    }
    return *id;
  }

  std::optional<std::int64_t> whole(const char* name) {
    const json* at = find(name);
    if (at == nullptr) return std::nullopt;
    // 2^53: what every JSON reader keeps exactly.
    constexpr double most = 9'007'199'254'740'992.0;
    if (!at->is_number() || at->get<double>() != std::trunc(at->get<double>()) ||
        std::abs(at->get<double>()) > most) {
      wrong(fmt::format("\"{}\" is {}, and a whole number is expected.", name, kind(*at)),
            "Send milliseconds since 1970, UTC.");
      return std::nullopt;
    }
    return static_cast<std::int64_t>(at->get<double>());
  }

  std::variant<std::string, double> text_or_number(const char* name) {
    if (const json* at = find(name); at != nullptr && at->is_number()) return at->get<double>();
    return text(name, true);
  }

  void only(std::span<const std::string_view> known, std::string_view at) {
    for (const auto& item : object_.items()) {
      if (std::ranges::find(known, item.key()) != known.end()) continue;
      std::string there;
      for (const std::string_view k : known)
        there += fmt::format("{}{}", there.empty() ? "" : ", ", k);
      wrong(fmt::format("\"{}\" is not known at {}.", item.key(), at),
            fmt::format("There is: {}.", there));
      return;
    }
  }

  void wrong(std::string happened, std::string todo) {
    if (!problem_) problem_ = Problem{std::move(happened), nothing_written, std::move(todo)};
  }
  const std::optional<Problem>& problem() const { return problem_; }

 private:
  // Null where it is not there or null.
  const json* find(const char* name) const {
    const auto at = object_.find(name);
    return at == object_.end() || at->is_null() ? nullptr : &*at;
  }
  static std::string_view kind(const json& value) {
    if (value.is_string()) return "text";
    if (value.is_number()) return "a number";
    if (value.is_boolean()) return "true or false";
    return value.is_array() ? "a list" : "an object";
  }

  const json& object_;
  std::optional<Problem> problem_;
};

using Names = std::array<std::string_view, 9>;
struct Kind {
  std::string_view name;
  Names members;  // empty ones do not count
  void (*read)(Members&, WantedEntry&);
};

constexpr std::array kinds{
    Kind{"reading",
         {"id", "at_ms", "kind", "reading", "note", "value", "uncertainty", "gauge"},
         [](Members& m, WantedEntry& e) {
           e.what = ReadingRequest{m.text("reading", true), m.text("note"), m.text("value", true),
                                   m.text("uncertainty"), m.text("gauge")};
         }},
    Kind{"move",
         {"id", "at_ms", "kind", "adjuster", "note", "amount", "remark"},
         [](Members& m, WantedEntry& e) {
           e.what = WantedMove{m.text("adjuster", true), m.text("note"), m.text_or_number("amount"),
                               m.text("remark")};
         }},
    Kind{"skip",
         {"id", "at_ms", "kind", "adjuster", "note", "reason"},
         [](Members& m, WantedEntry& e) {
           e.what = WantedSkip{m.text("adjuster", true), m.text("note"), m.text("reason", true)};
         }},
    Kind{"preparation",
         {"id", "at_ms", "kind", "item", "state", "note", "reason"},
         [](Members& m, WantedEntry& e) {
           e.what = WantedPreparation{m.text("item", true), m.text("state", true), m.text("note"),
                                      m.text("reason")};
         }},
    Kind{"setting",
         {"id", "at_ms", "kind", "name", "value"},
         [](Members& m, WantedEntry& e) {
           e.what = WantedSetting{m.text("name", true), m.text("value", true)};
         }},
    Kind{"remark",
         {"id", "at_ms", "kind", "note", "text"},
         [](Members& m, WantedEntry& e) {
           e.what = WantedRemark{m.text("note"), m.text("text", true)};
         }},
    Kind{"undo",
         {"id", "at_ms", "kind", "entry"},
         [](Members& m, WantedEntry& e) { e.what = WantedUndo{m.identity("entry", true)}; }},
};

Result<WantedEntry> entry_in(const json& object) {
  if (!object.is_object())
    return problem("It is no JSON object.", "Send what docs/api describes.", nothing_written);
  Members members(object);
  WantedEntry entry;
  const std::string kind = members.text("kind", true);
  if (members.problem()) return tl::unexpected(*members.problem());
  const auto known = std::ranges::find(kinds, kind, &Kind::name);
  if (known == kinds.end()) {
    std::string there;
    for (const Kind& k : kinds) there += fmt::format("{}{}", there.empty() ? "" : ", ", k.name);
    return problem(fmt::format("There is no kind \"{}\" of entry.", kind),
                   fmt::format("There are: {}.", there), nothing_written);
  }
  const auto end = std::ranges::find(known->members, std::string_view());
  members.only({known->members.begin(), end}, fmt::format("the kind \"{}\"", kind));
  entry.id = members.identity("id", true);
  entry.at_ms = members.whole("at_ms");
  known->read(members, entry);
  if (members.problem()) return tl::unexpected(*members.problem());
  return entry;
}

}  // namespace

Result<std::vector<WantedEntry>> entries_in(const Request& request) {
  auto body = body_object(request, {"entries"});
  if (!body) return tl::unexpected(body.error());
  const auto list = body->find("entries");
  if (list == body->end() || !list->is_array() || list->empty())
    return problem("There is no list of entries.", "Send {\"entries\": [ … ]} with at least one.",
                   nothing_written);
  std::vector<WantedEntry> entries;
  entries.reserve(list->size());
  for (const json& object : *list) {
    auto entry = entry_in(object);
    if (!entry) {
      Problem p = entry.error();
      p.happened = fmt::format("Entry {} of {}: {}", entries.size() + 1, list->size(), p.happened);
      return tl::unexpected(std::move(p));
    }
    entries.push_back(std::move(*entry));
  }
  return entries;
}

Result<NewPiano> piano_in(const Request& request) {
  auto body = body_object(request, {"id", "name", "place", "lowest", "highest", "sections"});
  if (!body) return tl::unexpected(body.error());
  Members members(*body);
  NewPiano wanted;
  wanted.id = members.identity("id", false);
  wanted.name = members.text("name", true);
  wanted.place = members.text("place");
  wanted.sections = members.text("sections");
  const std::string ends[] = {members.text("lowest"), members.text("highest")};
  if (members.problem()) return tl::unexpected(*members.problem());
  Key keys[] = {wanted.compass.lowest, wanted.compass.highest};
  for (std::size_t i = 0; i < 2; ++i) {
    if (ends[i].empty()) continue;
    auto key = parse_key(ends[i]);
    if (!key) return tl::unexpected(key.error());
    keys[i] = *key;
  }
  auto compass = make_compass(keys[0], keys[1]);
  if (!compass) return tl::unexpected(compass.error());
  wanted.compass = *compass;
  return wanted;
}

Result<NewVisit> visit_in(const Request& request) {
  auto body = body_object(request, {"id", "title"});
  if (!body) return tl::unexpected(body.error());
  Members members(*body);
  NewVisit wanted{members.identity("id", false), members.text("title", true)};
  if (!members.problem() && wanted.title.empty())
    members.wrong("A visit needs a title.", "Say what it is for, as in \"before the recital\".");
  if (members.problem()) return tl::unexpected(*members.problem());
  return wanted;
}

}  // namespace batten::server
