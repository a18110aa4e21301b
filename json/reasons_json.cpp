#include "json/reasons_json.hpp"

#include "json/plan_json.hpp"

#include <utility>

namespace batten {

namespace {

std::string_view unit(Reading reading) { return unit_symbol(kind_of(reading).unit); }

Json shift_json(const std::optional<OrderPlace::Shift>& shift) {
  if (!shift) return nullptr;
  return {{"adjuster", kind_of(shift->adjuster).code}, {"tolerances", number(shift->by)}};
}

Json holds_json(const std::vector<Hold>& holds) {
  Json list = Json::array();
  for (const Hold& h : holds) list.push_back(to_values(h));
  return list;
}

const char* code(WhyRead::Cause cause) {
  const char* codes[] = {"does-not-fit", "never-read", "moved-since", "unsure"};
  return codes[static_cast<std::size_t>(cause)];
}

const char* code(WhyNothing::Cause cause) {
  const char* codes[] = {"held",      "out-of-service", "left-knowingly", "no-time", "not-asked",
                         "gate-shut", "doubted",        "not-read",       "inside"};
  return codes[static_cast<std::size_t>(cause)];
}

// The facts alone, one for each kind.
struct Facts {
  Json operator()(const StandsAt& s) const {
    return {{"reading", kind_of(s.reading).code},
            {"unit", unit(s.reading)},
            {"value", number(s.value)},
            {"sd", number(s.sd)},
            {"target", number(s.target)},
            {"tolerance", number(s.tolerance)},
            {"chance", number(s.chance)},
            {"readings", s.readings},
            {"read", s.read}};
  }
  Json operator()(const WhatIsOff& f) const { return (*this)(f.stands); }
  Json operator()(const WhatIsKnown& f) const { return (*this)(f.stands); }
  Json operator()(const GivesWay& f) const {
    Json sake = Json::array();
    for (const Reading r : f.sake) sake.push_back(kind_of(r).code);
    return {{"sake", std::move(sake)}};
  }
  Json operator()(const Purpose& f) const { return {{"adjuster", kind_of(f.adjuster).code}}; }
  Json operator()(const TurnDoes& f) const {
    return {{"adjuster", kind_of(f.adjuster).code},
            {"amount_unit", unit_name(kind_of(f.adjuster).unit)},
            {"reading", kind_of(f.reading).code},
            {"unit", unit(f.reading)},
            {"change", number(f.change)},
            {"share_sd", number(f.share_sd)},
            {"moves_here", f.here},
            {"moves_elsewhere", f.elsewhere}};
  }
  Json operator()(const AlsoMoves& f) const {
    Json effects = Json::array();
    for (const Effect& e : f.effects) {
      const Reading r = reading_of(e.aim, f.key);
      effects.push_back(
          {{"reading", kind_of(r).code}, {"change", number(e.change)}, {"unit", unit(r)}});
    }
    return {{"effects", std::move(effects)}};
  }
  Json operator()(const LaterPasses& f) const {
    return {{"reading", kind_of(f.reading).code},
            {"unit", unit(f.reading)},
            {"after", number(f.after)},
            {"at_the_end", number(f.at_the_end)}};
  }
  Json operator()(const OrderPlace& f) const { return to_values(f); }
  Json operator()(const Afterwards& f) const {
    return {{"reading", kind_of(f.reading).code}, {"read_again", f.read_again}};
  }
  Json operator()(const WhyRead& f) const {
    return {{"cause", code(f.cause)},
            {"adjuster", kind_of(f.adjuster).code},
            {"waiting", holds_json(f.waiting)}};
  }
  Json operator()(const HowToRead& f) const { return {{"reading", kind_of(f.reading).code}}; }
  Json operator()(const WhyNothing& f) const {
    return {{"cause", code(f.cause)}, {"holds", holds_json(f.holds)}};
  }
};

}  // namespace

Json to_values(const Hold& h) {
  return {{"note", note_name(h.key)},
          {"adjuster", kind_of(h.adjuster).code},
          {"reading", kind_of(h.reading).code},
          {"reason", hold_code(h.reason)},
          {"would_settle", h.would_settle ? Json(kind_of(*h.would_settle).code) : Json(nullptr)},
          {"words", hold_words(h)}};
}

Json to_values(const OrderPlace& place) {
  return {{"adjuster", kind_of(place.adjuster).code},
          {"spares", shift_json(place.spares)},
          {"disturbed_by", shift_json(place.disturbed)}};
}

Json to_values(const Reason& reason, const WordStyle& style) {
  Json j{{"code", code_of(reason)}};
  j.update(std::visit(Facts{}, reason));
  const Because words = reason_words(reason, style);
  j["heading"] = words.heading;
  j["text"] = words.text;
  return j;
}

}  // namespace batten
