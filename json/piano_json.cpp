#include "json/piano_json.hpp"

#include "app/setting_guide.hpp"
#include "core/regulation/catalogue/preparation.hpp"
#include "json/journal_values.hpp"
#include "json/values.hpp"

#include <algorithm>

namespace batten {

namespace {

Json settings_json(const std::map<std::string, std::string>& on_record) {
  Json list = Json::array();
  for (const SettingGuide& g : setting_guide()) {
    const auto set = on_record.find(g.name);
    list.push_back({{"name", g.name},
                    {"group", g.group},
                    {"value", set == on_record.end() ? Json(nullptr) : Json(set->second)},
                    {"usual", g.usual},
                    {"unit", g.unit},
                    {"example", g.example},
                    {"choices", g.choices},
                    {"what", g.what}});
  }
  // Those the guide does not tell of, as they are.
  for (const auto& [name, value] : on_record) {
    const auto told = std::ranges::find(setting_guide(), name, &SettingGuide::name);
    if (told != setting_guide().end()) continue;
    list.push_back({{"name", name},
                    {"group", "other"},
                    {"value", value},
                    {"usual", ""},
                    {"unit", ""},
                    {"example", ""},
                    {"choices", Json::array()},
                    {"what", ""}});
  }
  return list;
}

Json preparation_json(const PreparationGate& gate, const Standing& standing) {
  Json list = Json::array();
  for (const PreparationGate::Item& i : gate.items) {
    Json notes = Json::array();
    for (const auto& [of, record] : standing.preparation_of_note)
      if (of.first == i.item)
        notes.push_back({{"note", note_name(of.second)},
                         {"state", state_code(record.state)},
                         {"reason", record.reason}});
    Json wanting = Json::array();
    for (const Key k : i.wanting_notes) wanting.push_back(note_name(k));
    list.push_back({{"item", kind_of(i.item).code},
                    {"state", i.record ? Json(state_code(i.record->state)) : Json(nullptr)},
                    {"reason", i.record ? i.record->reason : std::string()},
                    {"passed", i.passed},
                    {"earlier_visit", i.earlier_visit},
                    {"wanting_at", wanting},
                    {"notes", notes}});
  }
  return list;
}

}  // namespace

std::string to_json(const PianoPage& page) {
  Json j{{"revision", page.revision}, {"piano", piano_json(page.piano)}};
  j["visits"] = Json::array();
  for (const Visit& v : page.visits) j["visits"].push_back(visit_json(v));
  j["profile"] = page.profile;
  j["profile_chosen"] = page.profile_chosen;
  j["settings"] = settings_json(page.standing.settings);
  j["gate"] = {{"open", page.gate.open}};
  j["preparation"] = preparation_json(page.gate, page.standing);
  return dumped_short(j);
}

std::string journal_to_json(const std::vector<HistoryLine>& history, std::int64_t since) {
  Json j{{"revision", history.size()}, {"since", since}};
  j["entries"] = Json::array();
  for (const HistoryLine& line : history) {
    if (line.arrival <= since) continue;
    Json one = entry_json(line.entry);
    one["place"] = line.arrival;
    one["in_force"] = line.in_force;
    one["visit"] = line.visit_title;
    j["entries"].push_back(std::move(one));
  }
  return dumped_short(j);
}

std::string kept_to_json(const std::vector<Entry>& entries, std::size_t already_there,
                         std::int64_t revision) {
  Json j{{"revision", revision}, {"already_there", already_there}};
  j["entries"] = Json::array();
  for (const Entry& e : entries) j["entries"].push_back(entry_json(e));
  return dumped_short(j);
}

std::string not_written_to_json(const Problem& problem, const std::optional<Uuid>& entry) {
  Json j{{"problem",
          {{"happened", problem.happened}, {"kept", problem.kept}, {"todo", problem.todo}}}};
  j["entry"] = entry ? Json(to_text(*entry)) : Json(nullptr);
  return dumped_short(j);
}

std::string heard_to_json(const Piano& piano, const std::vector<Entry>& entries,
                          std::int64_t revision, const std::string& device) {
  Json j{{"piano", to_text(piano.id)}, {"revision", revision}, {"device", device}};
  j["entries"] = Json::array();
  for (const Entry& e : entries) j["entries"].push_back(entry_json(e));
  return dumped_short(j);
}

std::string changed_to_json(const Piano& piano, std::int64_t revision) {
  return dumped_short({{"piano", to_text(piano.id)}, {"revision", revision}});
}

}  // namespace batten
