#include "profiles/field_text.hpp"
#include "profiles/profile_file.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace batten {

namespace {

using action::Anchor;
using action::Dimensions;
using action::Profile;
using action::Wanted;
using profile_text::print_value;
using Json = nlohmann::ordered_json;

constexpr WantedField fields[] = {
    {"blow", "mm", 1e-3, 0.020, 0.070, &Wanted::blow},
    {"let-off", "mm", 1e-3, 0.0002, 0.010, &Wanted::let_off},
    {"drop", "mm", 1e-3, 0.0003, 0.010, &Wanted::drop},
    {"dip", "mm", 1e-3, 0.004, 0.016, &Wanted::dip},
    {"check-distance", "mm", 1e-3, 0.003, 0.040, &Wanted::check_distance},
    {"key-height", "mm", 1e-3, -0.003, 0.003, &Wanted::key_height},
    {"jack-clearance", "mm", 1e-3, -0.001, 0.002, &Wanted::jack_clearance},
    {"jack-position", "mm", 1e-3, -0.003, 0.003, &Wanted::jack_position},
    {"spring", "", 1, -0.8, 2, &Wanted::spring},
    {"damper-start", "", 1, 0.05, 0.95, &Wanted::damper_start},
};

}  // namespace

std::span<const WantedField> wanted_fields() { return fields; }

std::string print_profile(const ProfileFile& file, bool all) {
  const Profile& p = file.profile;
  Json j{{"batten-profile", 1},
         {"name", p.name},
         {"description", file.description},
         {"source", p.source},
         {"sharps",
          {{"shorter", print_value(p.sharp_shorter, "mm", 1e-3)},
           {"pin-back", print_value(p.sharp_pin_back, "mm", 1e-3)},
           {"dip", print_value(p.sharp_dip, "mm", 1e-3)}}},
         {"first-undamped", note_name(p.first_undamped)}};
  const Dimensions usual;
  const Wanted usual_wanted;
  Json everywhere = Json::object();
  std::vector<Json> dimensions(p.anchors.size(), Json::object());
  for (const auto& f : action::dimension_fields()) {
    const auto value = [&](const Anchor& a) { return a.dimensions.*f.member; };
    const bool equal = std::all_of(p.anchors.begin(), p.anchors.end(), [&](const Anchor& a) {
      return value(a) == value(p.anchors.front());
    });
    if (equal) {
      if (!p.anchors.empty() && (all || value(p.anchors.front()) != usual.*f.member))
        everywhere[std::string(f.code)] = print_value(value(p.anchors.front()), f.unit, f.unit_si);
      continue;
    }
    for (std::size_t i = 0; i < p.anchors.size(); ++i)
      dimensions[i][std::string(f.code)] = print_value(value(p.anchors[i]), f.unit, f.unit_si);
  }
  Json notes = Json::array();
  for (std::size_t i = 0; i < p.anchors.size(); ++i) {
    const Anchor& a = p.anchors[i];
    Json wanted = Json::object();
    for (const WantedField& f : fields)
      if (all || a.wanted.*f.member != usual_wanted.*f.member)
        wanted[std::string(f.code)] = print_value(a.wanted.*f.member, f.unit, f.unit_si);
    notes.push_back({{"note", note_name(a.key)},
                     {"dimensions", dimensions[i]},
                     {"wanted", wanted},
                     {"balance-weight", print_value(a.balance_weight, "gf", 9.80665e-3)}});
  }
  j["everywhere"] = everywhere;
  j["notes"] = notes;
  return j.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace batten
