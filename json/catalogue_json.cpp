#include "json/catalogue_json.hpp"

#include "core/regulation/aims/aim.hpp"
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/cautions.hpp"
#include "core/regulation/catalogue/preparation.hpp"
#include "core/regulation/catalogue/readings.hpp"
#include "core/regulation/complaint/complaint.hpp"
#include "core/regulation/planning/words.hpp"
#include "json/values.hpp"
#include "profiles/profile_file.hpp"

namespace batten {

namespace {

Json or_null(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

const char* code(Scope scope) {
  switch (scope) {
    case Scope::per_note:
      return "note";
    case Scope::per_piano:
      return "piano";
    case Scope::per_visit:
      return "visit";
  }
  return "";
}

const char* code(Provenance provenance) {
  switch (provenance) {
    case Provenance::published:
      return "published";
    case Provenance::trade:
      return "trade";
    case Provenance::common_practice:
      return "common-practice";
  }
  return "";
}

Json reading_json(const ReadingKind& k) {
  const auto aim = aim_of(k.id);
  return {{"code", k.code},
          {"name", k.name},
          {"unit", unit_symbol(k.unit)},
          {"scope", code(k.scope)},
          {"per_note", k.scope == Scope::per_note},
          {"how", k.how},
          {"usual_low", or_null(k.usual_low)},
          {"usual_high", or_null(k.usual_high)},
          {"possible_low", number(k.possible_low)},
          {"possible_high", number(k.possible_high)},
          {"tolerance", or_null(k.tolerance_absolute)},
          {"neighbour_tolerance", or_null(k.tolerance_neighbours)},
          {"uncertainty", number(k.usual_uncertainty)},
          {"minutes", number(k.minutes)},
          {"source", code(k.provenance)},
          // Under which of the strip's aims it counts; null: it is none of the eleven.
          {"aim", aim ? Json(kind_of(reading_of(*aim, Key{40})).code) : Json(nullptr)}};
}

Json adjuster_json(const AdjusterKind& k) {
  Json j{{"code", k.code},           {"pass", pass_name(k.id)},      {"name", k.name},
         {"scope", code(k.scope)},   {"sets", kind_of(k.sets).code}, {"positive", k.positive},
         {"negative", k.negative},   {"unit", unit_name(k.unit)},    {"step", number(k.hand_step)},
         {"limit", number(k.limit)}, {"strain", k.strain},           {"tools", k.tools},
         {"effect", k.effect}};
  j["cautions"] = Json::array();
  for (const Caution c : k.cautions) j["cautions"].push_back(text_of(c).code);
  return j;
}

}  // namespace

std::string catalogue_to_json() {
  Json j;
  for (const char* list :
       {"readings", "adjusters", "preparation", "states", "cautions", "complaints", "profiles"})
    j[list] = Json::array();
  for (const ReadingKind& k : reading_kinds()) j["readings"].push_back(reading_json(k));
  for (const AdjusterKind& k : adjuster_kinds()) j["adjusters"].push_back(adjuster_json(k));
  for (const PreparationKind& k : preparation_kinds())
    j["preparation"].push_back(
        {{"code", k.code},
         {"name", k.name},
         {"how", k.how},
         {"why", k.why},
         {"per_note", k.scope == Scope::per_note},
         {"reading", k.reading ? Json(kind_of(*k.reading).code) : Json(nullptr)}});
  for (const auto s : {PreparationState::found, PreparationState::done, PreparationState::waived,
                       PreparationState::wanting})
    j["states"].push_back(state_code(s));
  for (const CautionText& c : caution_texts())
    j["cautions"].push_back({{"code", c.code}, {"heading", c.heading}, {"text", c.text}});
  for (const ComplaintKind& k : complaint_kinds())
    j["complaints"].push_back({{"code", k.code}, {"sentence", k.sentence}});
  for (const StoredProfile& p : stored_profiles()) j["profiles"].push_back(p.name);
  return dumped_short(j);
}

}  // namespace batten
