#include "json/handover_json.hpp"

#include "app/line_job.hpp"
#include "json/plan_json.hpp"
#include "json/page_json.hpp"
#include "json/values.hpp"

namespace batten {

namespace {

const char* code(Basis basis) {
  switch (basis) {
    case Basis::unread:
      return "unread";
    case Basis::earlier:
      return "earlier";
    case Basis::reckoned:
      return "reckoned";
    case Basis::read:
      return "read";
  }
  return "";
}

const char* code(StillOutside::Why why) {
  switch (why) {
    case StillOutside::Why::skipped:
      return "skipped";
    case StillOutside::Why::held:
      return "held";
    case StillOutside::Why::to_do:
      return "to-do";
    case StillOutside::Why::no_move:
      return "no-move";
  }
  return "";
}

Json note_or_null(const std::optional<Key>& key) {
  return key ? Json(note_name(*key)) : Json(nullptr);
}

Json of(int count, double value) { return count > 0 ? number(value) : Json(nullptr); }

Json spread_json(const Spread& s) {
  return {{"notes", s.notes},
          {"outside", s.outside},
          {"rms", of(s.notes, s.rms)},
          {"rms_tolerances", of(s.notes, s.rms_tolerances)},
          {"beside", s.beside},
          {"outside_beside", s.outside_beside},
          {"beside_rms", of(s.beside, s.beside_rms)},
          {"beside_rms_tolerances", of(s.beside, s.beside_rms_tolerances)}};
}

Json note_json(const NoteAccount& n) {
  const bool known = n.basis != Basis::unread;
  return {{"note", note_name(n.key)},
          {"target", number(n.target)},
          {"first", n.first ? number(*n.first) : Json(nullptr)},
          {"first_sd", n.first ? number(n.first_sd) : Json(nullptr)},
          {"as_found", n.as_found},
          {"outside_at_first", n.outside_at_first()},
          {"basis", code(n.basis)},
          {"now", known ? number(n.now) : Json(nullptr)},
          {"now_sd", known ? number(n.now_sd) : Json(nullptr)},
          {"shifted", n.shifted},
          {"doubted", n.doubted},
          {"outside_now", n.outside_now()}};
}

Json readings_json(const Account& account) {
  Json list = Json::array();
  for (const ReadingAccount& r : account.readings) {
    Json j{{"reading", kind_of(r.reading).code},
           {"unit", unit_symbol(kind_of(r.reading).unit)},
           {"asked", r.asked},
           {"read", r.read},
           {"as_found", r.as_found},
           {"now_read", r.now_read},
           {"now_reckoned", r.now_reckoned},
           {"only_earlier", r.only_earlier},
           {"found", spread_json(r.found)},
           {"now", spread_json(r.now)},
           {"compared",
            {{"found", spread_json(r.compared_found)}, {"now", spread_json(r.compared_now)}}}};
    Json notes = Json::array();
    for (const NoteAccount& n : account.notes) {
      if (n.reading != r.reading) continue;
      j["tolerance"] = number(n.tolerance);
      j["neighbour_tolerance"] = number(n.neighbour_tolerance);
      if (n.basis != Basis::unread) notes.push_back(note_json(n));
    }
    j["notes"] = std::move(notes);
    list.push_back(std::move(j));
  }
  return list;
}

Json moves_json(const Account& account) {
  Json list = Json::array();
  for (const AdjusterAccount& a : account.moves) {
    const AdjusterKind& kind = kind_of(a.adjuster);
    Json j{{"adjuster", kind.code},
           {"unit", unit_name(kind.unit)},
           {"moves", a.moves},
           {"notes_moved", a.notes},
           {"positive", kind.positive},
           {"negative", kind.negative},
           {"positive_sum", number(a.positive)},
           {"negative_sum", number(a.negative)}};
    j["notes"] = Json::array();
    for (const NoteMoves& m : account.moves_of_note)
      if (m.adjuster == a.adjuster)
        j["notes"].push_back(
            {{"note", note_or_null(m.key)}, {"moves", m.moves}, {"amount", number(m.amount)}});
    list.push_back(std::move(j));
  }
  return list;
}

Json others_json(const Account& account) {
  Json list = Json::array();
  for (const OtherAccount& o : account.others)
    list.push_back({{"reading", kind_of(o.reading).code},
                    {"unit", unit_symbol(kind_of(o.reading).unit)},
                    {"note", note_or_null(o.key)},
                    {"times", o.times},
                    {"first", number(o.first)},
                    {"last", number(o.last)},
                    {"first_at", print_timestamp(o.first_ms)},
                    {"last_at", print_timestamp(o.last_ms)}});
  return list;
}

Json skip_json(const Entry& e) {
  const auto& skip = std::get<MoveSkipped>(e.content);
  return {{"adjuster", kind_of(skip.adjuster).code},
          {"note", note_or_null(skip.note)},
          {"reason", skip.reason},
          {"at", print_timestamp(e.at_ms)}};
}

Json outside_json(const Account& account) {
  Json list = Json::array();
  for (const StillOutside& o : account.outside)
    list.push_back(
        {{"note", note_name(o.note.key)},
         {"reading", kind_of(o.note.reading).code},
         {"unit", unit_symbol(kind_of(o.note.reading).unit)},
         {"now", number(o.note.now)},
         {"now_sd", number(o.note.now_sd)},
         {"basis", code(o.note.basis)},
         {"target", number(o.note.target)},
         {"tolerance", number(o.note.tolerance)},
         {"why", code(o.why)},
         {"reason", o.skip ? Json(std::get<MoveSkipped>(o.skip->content).reason) : Json(nullptr)},
         {"hold", o.hold ? Json(hold_code(o.hold->reason)) : Json(nullptr)},
         {"would_settle", o.hold && o.hold->would_settle ? Json(kind_of(*o.hold->would_settle).code)
                                                         : Json(nullptr)}});
  return list;
}

Json preparation_json(const PreparationGate& gate) {
  Json list = Json::array();
  for (const PreparationGate::Item& i : gate.items) {
    Json j{{"item", kind_of(i.item).code},
           {"state", i.record ? Json(state_code(i.record->state)) : Json(nullptr)},
           {"reason", i.record ? i.record->reason : ""},
           {"passed", i.passed},
           {"earlier_visit", i.earlier_visit}};
    j["wanting_notes"] = Json::array();
    for (const Key key : i.wanting_notes) j["wanting_notes"].push_back(note_name(key));
    list.push_back(std::move(j));
  }
  return list;
}

Json remarks_json(const PianoHandover& h) {
  Json list = Json::array();
  for (const Entry& e : h.remarks) {
    const auto& remark = std::get<Remark>(e.content);
    list.push_back({{"note", note_or_null(remark.note)},
                    {"text", remark.text},
                    {"at", print_timestamp(e.at_ms)}});
  }
  return list;
}

}  // namespace

std::string to_json(const Piano& piano, const PianoHandover& h, std::int64_t revision,
                    const ComposedPage& owner, const ComposedPage& file) {
  Json j{{"revision", revision},
         {"piano", {{"id", to_text(piano.id)}, {"name", piano.name}, {"place", piano.place}}},
         {"visit",
          h.visit ? Json{{"title", h.visit->title}, {"begun", print_timestamp(h.visit->begun_ms)}}
                  : Json(nullptr)},
         {"last_at", h.last_ms ? Json(print_timestamp(*h.last_ms)) : Json(nullptr)},
         {"who", h.who},
         {"profile", h.profile},
         {"profile_chosen", h.profile_chosen},
         {"gate_open", h.gate.open},
         {"steps_left",
          {{"readings", h.readings_left},
           {"moves", h.moves_left},
           {"minutes", number(h.minutes_left)}}},
         {"readings", readings_json(h.account)},
         {"moves", moves_json(h.account)},
         {"others", others_json(h.account)},
         {"outside", outside_json(h.account)},
         {"preparation", preparation_json(h.gate)},
         {"remarks", remarks_json(h)}};
  j["skips"] = Json::array();
  for (const Entry& e : h.account.skips) j["skips"].push_back(skip_json(e));
  j["owner"] = page_json(owner);
  j["file"] = page_json(file);
  return dumped(j);
}

}  // namespace batten
