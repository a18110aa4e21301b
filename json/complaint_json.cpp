#include "json/complaint_json.hpp"

#include "json/values.hpp"

namespace batten {

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
  j["felt"] = Json::array();
  for (const Complaint c : found.felt) j["felt"].push_back(kind_of(c).code);
  j["seen"] = Json::array();
  for (const Sighting& s : found.seen)
    j["seen"].push_back(
        {{"look", kind_of(s.look).code}, {"value", s.value ? number(*s.value) : Json(nullptr)}});
  j["causes"] = Json::array();
  for (const RankedCause& c : d.ranked)
    j["causes"].push_back({{"cause", kind_of(c.cause).code},
                           {"name", kind_of(c.cause).name},
                           {"probability", number(c.probability)},
                           {"reason", c.reason}});
  j["next"] = Json::array();
  for (const NextTaking& n : d.next)
    j["next"].push_back({{"taking", kind_of(n.taking).code},
                         {"entropy_before_bits", number(n.entropy_before)},
                         {"entropy_after_bits", number(n.entropy_after)}});
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
  }
  j["cautions"] = Json::array();
  for (const Caution c : d.cautions)
    j["cautions"].push_back({{"code", text_of(c).code}, {"text", text_of(c).text}});
  return dumped(j);
}

}  // namespace batten
