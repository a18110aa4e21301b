#include "json/complaint_json.hpp"

#include "json/values.hpp"

#include <algorithm>

namespace batten {

namespace {

Json codes_json(const std::vector<Complaint>& complaints) {
  Json codes = Json::array();
  for (const Complaint c : complaints) codes.push_back(kind_of(c).code);
  return codes;
}

// What somebody who is to take the look must know to answer it.
Json look_json(Look look) {
  const LookKind& kind = kind_of(look);
  Json j{{"look", kind.code},
         {"reading", kind.reading ? Json(kind_of(*kind.reading).code) : Json(nullptr)},
         {"unit", unit_symbol(kind.unit)},
         {"name", kind.name},
         {"how", kind.how},
         {"can_be_none", !kind.none.empty()},
         {"none", kind.none},
         {"possible_low", number(kind.possible_low)},
         {"possible_high", number(kind.possible_high)},
         {"usual_uncertainty", number(kind.usual_uncertainty)}};
  return j;
}

Json because_json(const CauseReason& because) {
  Json j{{"explained", codes_json(because.explained)},
         {"unexplained", codes_json(because.unexplained)}};
  j["looks"] = Json::array();
  for (const LookCompared& l : because.looks)
    j["looks"].push_back({{"look", kind_of(l.look).code},
                          {"seen", number(l.seen)},
                          {"given", number(l.given)},
                          {"sound", number(l.sound)}});
  return j;
}

}  // namespace

std::string complaints_to_json() {
  Json list = Json::array();
  for (const ComplaintKind& k : complaint_kinds())
    list.push_back({{"code", k.code}, {"sentence", k.sentence}});
  return dumped({{"complaints", list}});
}

std::string to_json(const Piano& piano, const PianoDiagnosis& found) {
  const Diagnosis& d = found.diagnosis;
  Json j{{"piano", piano.name},
         {"note", note_name(found.key)},
         {"profile", found.profile},
         {"profile_chosen", found.profile_chosen},
         {"known", d.known},
         {"summary", d.summary},
         {"entropy_bits", number(d.entropy)}};
  j["felt"] = codes_json(found.felt);
  j["seen"] = Json::array();
  for (const Sighting& s : found.seen)
    j["seen"].push_back({{"look", kind_of(s.look).code},
                         {"value", s.value ? number(*s.value) : Json(nullptr)},
                         {"unit", unit_symbol(kind_of(s.look).unit)},
                         {"from_journal", std::ranges::find(found.looks_from_journal, s.look) !=
                                              found.looks_from_journal.end()}});
  j["causes"] = Json::array();
  for (const RankedCause& c : d.ranked)
    j["causes"].push_back(
        {{"cause", kind_of(c.cause).code},
         {"name", kind_of(c.cause).name},
         {"probability", number(c.probability)},
         {"adjuster", kind_of(c.cause).adjuster ? Json(kind_of(*kind_of(c.cause).adjuster).code)
                                                : Json(nullptr)},
         {"because", because_json(c.because)},
         {"reason", c.reason}});
  j["next"] = Json::array();
  for (const NextTaking& n : d.next) {
    Json one{{"taking", kind_of(n.taking).code},
             {"entropy_before_bits", number(n.entropy_before)},
             {"entropy_after_bits", number(n.entropy_after)}};
    one["looks"] = Json::array();
    for (const Look look : kind_of(n.taking).looks)
      if (std::ranges::find(found.seen, look, &Sighting::look) == found.seen.end())
        one["looks"].push_back(look_json(look));
    j["next"].push_back(std::move(one));
  }
  j["next_figures"] = Json::array();
  for (const NextLook& n : d.next_figures)
    j["next_figures"].push_back({{"look", kind_of(n.look).code},
                                 {"entropy_before_bits", number(n.entropy_before)},
                                 {"entropy_after_bits", number(n.entropy_after)}});
  j["mend"] = Json(nullptr);
  if (d.mend) {
    j["mend"] = {{"cause", kind_of(d.mend->cause).code}, {"text", d.mend->text}};
    j["mend"]["adjuster"] =
        d.mend->adjuster ? Json(kind_of(*d.mend->adjuster).code) : Json(nullptr);
    j["mend"]["direction"] = d.mend->direction;
    j["mend"]["read_by"] = d.mend->read_by ? Json(kind_of(*d.mend->read_by).code) : Json(nullptr);
    j["mend"]["from"] = number(d.mend->from);
    j["mend"]["to"] = number(d.mend->to);
  }
  j["cautions"] = Json::array();
  for (const Caution c : d.cautions)
    j["cautions"].push_back({{"code", text_of(c).code}, {"text", text_of(c).text}});
  return dumped(j);
}

}  // namespace batten
