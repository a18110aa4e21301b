#include "json/journal_json.hpp"

#include "app/line_job.hpp"
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/preparation.hpp"
#include "core/regulation/catalogue/readings.hpp"
#include "json/journal_values.hpp"
#include "json/values.hpp"

namespace batten {

namespace {

const char* form_code(TableForm form) { return form == TableForm::long_form ? "long" : "wide"; }

Json note_or_null(const std::optional<Key>& key) {
  return key ? Json(note_name(*key)) : Json(nullptr);
}

struct Content {
  Json& j;
  void operator()(const ReadingTaken& r) const {
    const ReadingKind& kind = kind_of(r.reading);
    j["kind"] = "reading";
    j["reading"] = kind.code;
    j["note"] = note_or_null(r.note);
    j["value"] = r.value;
    j["uncertainty"] = r.uncertainty;
    j["unit"] = unit_symbol(kind.unit);
    j["gauge"] = r.gauge;
    j["typed"] = r.typed;
  }
  void operator()(const MoveMade& m) const {
    const AdjusterKind& kind = kind_of(m.adjuster);
    j["kind"] = "move";
    j["adjuster"] = kind.code;
    j["note"] = note_or_null(m.note);
    j["direction"] = m.amount < 0 ? kind.negative : kind.positive;
    j["amount"] = m.amount;
    j["unit"] = unit_name(kind.unit);
    j["remark"] = m.remark;
  }
  void operator()(const MoveSkipped& s) const {
    j["kind"] = "skip";
    j["adjuster"] = kind_of(s.adjuster).code;
    j["note"] = note_or_null(s.note);
    j["reason"] = s.reason;
  }
  void operator()(const PreparationNoted& p) const {
    j["kind"] = "preparation";
    j["item"] = kind_of(p.item).code;
    j["note"] = note_or_null(p.note);
    j["state"] = state_code(p.state);
    j["reason"] = p.reason;
  }
  void operator()(const SettingChosen& s) const {
    j["kind"] = "setting";
    j["name"] = s.name;
    j["value"] = s.value;
  }
  void operator()(const Remark& r) const {
    j["kind"] = "remark";
    j["note"] = note_or_null(r.note);
    j["text"] = r.text;
  }
  void operator()(const Undo& u) const {
    j["kind"] = "undo";
    j["entry"] = to_text(u.entry);
  }
};

}  // namespace

Json entry_json(const Entry& e) {
  Json j;
  j["id"] = to_text(e.id);
  j["at"] = print_timestamp(e.at_ms);
  j["at_ms"] = e.at_ms;
  j["who"] = e.who;
  std::visit(Content{j}, e.content);
  return j;
}

Json piano_json(const Piano& p) {
  return {{"id", to_text(p.id)},
          {"name", p.name},
          {"place", p.place},
          {"lowest", note_name(Key{p.lowest_key})},
          {"highest", note_name(Key{p.highest_key})}};
}

Json visit_json(const Visit& v) {
  return {{"id", to_text(v.id)}, {"begun", print_timestamp(v.begun_ms)}, {"title", v.title}};
}

namespace {

Json problem_json(const Problem& p) {
  return {{"happened", p.happened}, {"kept", p.kept}, {"todo", p.todo}};
}

}  // namespace

std::string to_json(const Problem& problem) { return dumped({{"problem", problem_json(problem)}}); }
std::string to_json(const Piano& piano) { return dumped(piano_json(piano)); }
std::string to_json(const Visit& visit) { return dumped(visit_json(visit)); }
std::string to_json(const Entry& entry) { return dumped(entry_json(entry)); }
std::string to_json_line(const Entry& entry) {
  return entry_json(entry).dump(-1, ' ', false, Json::error_handler_t::replace);
}

Json summary_json(const PianoSummary& p) {
  Json j = piano_json(p.piano);
  j["visits"] = p.visit_count;
  j["entries"] = p.entry_count;
  j["latest_visit"] = p.latest_visit ? visit_json(*p.latest_visit) : Json(nullptr);
  return j;
}

std::string to_json(const std::vector<PianoSummary>& pianos) {
  Json list = Json::array();
  for (const PianoSummary& p : pianos) list.push_back(summary_json(p));
  return dumped({{"pianos", list}});
}

std::string to_json(const std::vector<HistoryLine>& history) {
  Json list = Json::array();
  for (const HistoryLine& h : history) {
    Json j = entry_json(h.entry);
    j["in_force"] = h.in_force;
    j["visit"] = h.visit_title;
    list.push_back(std::move(j));
  }
  return dumped({{"entries", list}});
}

std::string to_json(const std::vector<Entry>& entries) {
  Json list = Json::array();
  for (const Entry& e : entries) list.push_back(entry_json(e));
  return dumped({{"entries", list}});
}

std::string to_json(const ImportOutcome& outcome) {
  Json bad = Json::array();
  for (const BadRow& b : outcome.bad)
    bad.push_back({{"line", b.line}, {"row", b.row}, {"reason", problem_json(b.reason)}});
  return dumped({{"form", form_code(outcome.form)},
                 {"kept", outcome.kept},
                 {"bad_rows", outcome.bad_rows},
                 {"rows_without_value", outcome.rows_without_value},
                 {"bad", bad}});
}

std::string table_to_json(TableForm form, const std::string& table) {
  return dumped({{"form", form_code(form)}, {"table", table}});
}

std::string table_file_to_json(TableForm form, const std::string& file) {
  return dumped({{"form", form_code(form)}, {"file", file}});
}

std::string sheet_to_json(const std::string& file, int pages) {
  return dumped({{"file", file}, {"pages", pages}});
}

}  // namespace batten
