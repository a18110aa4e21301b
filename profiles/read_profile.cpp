#include "core/keyboard/key.hpp"
#include "profiles/field_text.hpp"
#include "profiles/profile_file.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <set>

namespace batten {

namespace {

using action::Anchor;
using action::dimension_fields;
using action::DimensionField;
using action::Dimensions;
using action::Profile;
using action::Wanted;
using profile_text::nearest;
using profile_text::parse_value;
using profile_text::print_value;
using Json = nlohmann::ordered_json;

// Where in the file a message is about: "my.json, C4".
struct Place {
  std::string name;
  Place inside(std::string_view part) const { return {name + ", " + std::string(part)}; }
  tl::unexpected<Problem> fail(std::string happened, std::string todo = {}) const {
    return problem(name + ": " + std::move(happened), std::move(todo));
  }
  tl::unexpected<Problem> fail(const std::string& what, const Problem& p) const {
    return fail(what + ": " + p.happened, p.todo);
  }
};

template <class Fields>
std::vector<std::string_view> codes(const Fields& fields) {
  std::vector<std::string_view> list;
  for (const auto& f : fields) list.push_back(f.code);
  return list;
}

tl::unexpected<Problem> unknown(const Place& place, std::string_view typed,
                                const std::vector<std::string_view>& known) {
  const std::string_view near = nearest(typed, known);
  std::string todo;
  if (!near.empty()) {
    todo = fmt::format("Is \"{}\" meant?", near);
  } else if (known.size() < 12) {
    todo = fmt::format("There are: {}.", fmt::join(known, ", "));
  } else {
    todo = "docs/manual/action.md and \"batten profiles medium --all\" list what there is.";
  }
  return place.fail(fmt::format("there is no field \"{}\".", typed), todo);
}

Result<void> only(const Place& place, const Json& object,
                  const std::vector<std::string_view>& known) {
  if (!object.is_object()) return place.fail("expected { … }.", "See docs/manual/action.md.");
  for (const auto& [name, value] : object.items())
    if (std::find(known.begin(), known.end(), name) == known.end())
      return unknown(place, name, known);
  return {};
}

// A number in its field's unit and range.
template <class Field>
Result<double> number(const Place& place, const Json& value, const Field& f) {
  double si = 0;
  if (value.is_number()) {
    si = value.get<double>() * f.unit_si;
  } else if (value.is_string()) {
    auto read = parse_value(value.get_ref<const std::string&>(), f.unit, f.unit_si);
    if (!read) return place.fail(std::string(f.code), read.error());
    si = *read;
  } else {
    return place.fail(fmt::format("{} is neither a number nor a text.", f.code),
                      fmt::format("Write such as \"{}\".", print_value(f.low, f.unit, f.unit_si)));
  }
  if (!(si >= f.low && si <= f.high))
    return place.fail(
        fmt::format("{} is {}.", f.code, print_value(si, f.unit, f.unit_si)),
        fmt::format("It must lie from {} to {}.", print_value(f.low, f.unit, f.unit_si),
                    print_value(f.high, f.unit, f.unit_si)));
  return si;
}

// Every number of `object` into its field of `out`.
template <class Fields, class Record>
Result<void> take(const Place& place, const Json& object, const Fields& fields, Record& out) {
  if (auto ok = only(place, object, codes(fields)); !ok) return ok;
  for (const auto& f : fields) {
    const auto found = object.find(std::string(f.code));
    if (found == object.end()) continue;
    auto value = number(place, *found, f);
    if (!value) return tl::unexpected(value.error());
    out.*f.member = *value;
  }
  return {};
}

struct SharpField {
  std::string_view code, unit;
  double unit_si, low, high;
  double Profile::*member;
};
constexpr SharpField sharp_fields[] = {
    {"shorter", "mm", 1e-3, 0, 0.060, &Profile::sharp_shorter},
    {"pin-back", "mm", 1e-3, 0, 0.030, &Profile::sharp_pin_back},
    {"dip", "mm", 1e-3, -0.002, 0.002, &Profile::sharp_dip},
};

struct WeightField {
  std::string_view code = "balance-weight", unit = "gf";
  double unit_si = 9.80665e-3, low = 0, high = 0.981;
};

Result<std::string> text(const Place& place, const Json& object, const char* name, bool needed) {
  const auto found = object.find(name);
  if (found == object.end()) {
    if (!needed) return std::string();
    return place.fail(fmt::format("\"{}\" is missing.", name), "See docs/manual/action.md.");
  }
  if (!found->is_string() || (needed && found->get_ref<const std::string&>().empty()))
    return place.fail(fmt::format("\"{}\" is not a text.", name), "Write it between \"quotes\".");
  return found->get<std::string>();
}

Result<Key> key(const Place& place, const Json& object, const char* name) {
  auto note = text(place, object, name, true);
  if (!note) return tl::unexpected(note.error());
  auto read = parse_key(*note);
  if (!read) return place.fail(name, read.error());
  return *read;
}

Result<Anchor> anchor(const Place& file, const Json& object, const Dimensions& everywhere) {
  if (!object.is_object()) return file.fail("notes: expected { … } for each note.");
  auto at = key(file.inside("notes"), object, "note");
  if (!at) return tl::unexpected(at.error());
  const Place place = file.inside(note_name(*at));
  if (auto ok = only(place, object, {"note", "dimensions", "wanted", "balance-weight"}); !ok)
    return tl::unexpected(ok.error());
  Anchor out;
  out.key = *at;
  out.dimensions = everywhere;
  if (const auto d = object.find("dimensions"); d != object.end())
    if (auto ok = take(place, *d, dimension_fields(), out.dimensions); !ok)
      return tl::unexpected(ok.error());
  if (const auto w = object.find("wanted"); w != object.end())
    if (auto ok = take(place, *w, wanted_fields(), out.wanted); !ok)
      return tl::unexpected(ok.error());
  if (const auto b = object.find("balance-weight"); b != object.end()) {
    auto weight = number(place, *b, WeightField{});
    if (!weight) return tl::unexpected(weight.error());
    out.balance_weight = *weight;
  }
  return out;
}

// The text as JSON; a name given twice in one { } is refused, not forgotten.
Result<Json> parse_json(const Place& place, std::string_view text) {
  std::vector<std::set<std::string>> open;
  std::string twice;
  const auto watch = [&](int, Json::parse_event_t event, Json& value) {
    if (event == Json::parse_event_t::object_start) open.emplace_back();
    if (event == Json::parse_event_t::object_end) open.pop_back();
    if (event == Json::parse_event_t::key && !open.back().insert(value.get<std::string>()).second)
      twice = value.get<std::string>();
    return true;
  };
  try {
    Json json = Json::parse(text, watch);
    if (!twice.empty())
      return place.fail(fmt::format("\"{}\" is given twice in one {{ … }}.", twice),
                        "Leave one of them out.");
    return json;
  } catch (const Json::parse_error& e) {
    // The library counts bytes; a person counts lines.
    const std::size_t at = std::min(e.byte > 0 ? e.byte - 1 : 0, text.size());
    const auto line =
        1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n');
    const std::size_t begin = at == 0 ? std::string_view::npos : text.rfind('\n', at - 1);
    const std::size_t column = at - (begin == std::string_view::npos ? 0 : begin + 1) + 1;
    return place.fail(fmt::format("this is not JSON at line {}, column {}.", line, column),
                      "A comma, a quotation mark or a bracket is missing or too many there.");
  } catch (const Json::exception&) {
    return place.fail("a number in this JSON is too large.", "Look for too many digits.");
  }
}

}  // namespace

Result<ProfileFile> parse_profile(std::string_view text_of_file, std::string_view file) {
  const Place place{std::string(file)};
  auto json = parse_json(place, text_of_file);
  if (!json) return tl::unexpected(json.error());
  if (auto ok = only(place, *json,
                     {"batten-profile", "name", "description", "source", "sharps", "first-undamped",
                      "everywhere", "notes"});
      !ok)
    return tl::unexpected(ok.error());
  const auto version = json->find("batten-profile");
  if (version == json->end() || *version != 1)
    return place.fail("this is not an action profile of format 1.",
                      "Its first field is \"batten-profile\": 1.");
  ProfileFile out;
  Profile& profile = out.profile;
  for (auto [name, target, needed] :
       {std::tuple{"name", &profile.name, true}, std::tuple{"description", &out.description, false},
        std::tuple{"source", &profile.source, false}}) {
    auto value = text(place, *json, name, needed);
    if (!value) return tl::unexpected(value.error());
    *target = *value;
  }
  if (const auto sharps = json->find("sharps"); sharps != json->end())
    if (auto ok = take(place.inside("sharps"), *sharps, sharp_fields, profile); !ok)
      return tl::unexpected(ok.error());
  if (json->contains("first-undamped")) {
    auto first = key(place, *json, "first-undamped");
    if (!first) return tl::unexpected(first.error());
    profile.first_undamped = *first;
  }
  Dimensions everywhere;
  if (const auto e = json->find("everywhere"); e != json->end())
    if (auto ok = take(place.inside("everywhere"), *e, dimension_fields(), everywhere); !ok)
      return tl::unexpected(ok.error());
  const auto notes = json->find("notes");
  if (notes == json->end() || !notes->is_array())
    return place.fail("\"notes\" is missing.", "It is a list, [ … ], of two notes or more.");
  for (const Json& n : *notes) {
    auto read = anchor(place, n, everywhere);
    if (!read) return tl::unexpected(read.error());
    profile.anchors.push_back(*read);
  }
  if (auto ok = check(profile); !ok) return place.fail("notes", ok.error());
  return out;
}

}  // namespace batten
