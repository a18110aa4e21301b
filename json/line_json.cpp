#include "json/line_json.hpp"

#include "json/values.hpp"

#include <cmath>

namespace batten {

namespace {

Json mm(Length l) {
  const double v = l.in(millimetre);
  return std::isfinite(v) ? Json(v) : Json(nullptr);
}
Json mm(const std::optional<Length>& l) { return l ? mm(*l) : Json(nullptr); }

const char* code(Verdict v) {
  switch (v) {
    case Verdict::not_read:
      return "not-read";
    case Verdict::no_target:
      return "no-target";
    case Verdict::no_transfer:
      return "no-transfer";
    case Verdict::out_of_service:
      return "out-of-service";
    case Verdict::move:
      return "move";
    case Verdict::leave_fine:
      return "leave-finer-than-a-hand";
    case Verdict::leave_noise:
      return "leave-direction-not-sure";
    case Verdict::moved_read_again:
      return "read-again-after-move";
    case Verdict::read_again:
      return "read-again";
    case Verdict::target_unsure:
      return "hold-for-strings";
    case Verdict::held_escapement:
      return "hold-for-escapement";
    case Verdict::held_block:
      return "hold-for-blow";
  }
  return "";
}

const char* code(Finding::Kind k) {
  switch (k) {
    case Finding::Kind::reading_flagged:
      return "doubtful-reading";
    case Finding::Kind::reading_asked:
      return "second-look";
    case Finding::Kind::unison_off_level:
      return "unison-off-level";
  }
  return "";
}

Json note_json(const NoteLine& n, bool advised) {
  Json j{{"note", note_name(n.key)},
         {"key", n.key.number},
         {"sample", n.sample},
         {"string_read_mm", mm(n.string_read)},
         {"string_read_sd_mm", mm(n.string_read_sd)},
         {"string_mm", std::isfinite(n.string_sd.si()) ? mm(n.string_fair) : Json(nullptr)},
         {"string_sd_mm", mm(n.string_sd)},
         {"blow_target_mm", mm(n.blow_target)},
         {"target_mm", std::isfinite(n.target_sd.si()) ? mm(n.target) : Json(nullptr)},
         {"target_sd_mm", mm(n.target_sd)},
         {"hammer_mm", mm(n.hammer)},
         {"hammer_sd_mm", mm(n.hammer_sd)},
         {"deviation_mm", mm(n.deviation)},
         {"deviation_sd_mm", mm(n.deviation_sd)},
         {"to_neighbours_mm", mm(n.to_neighbours)},
         {"verdict", code(n.verdict)}};
  if (n.verdict == Verdict::move && advised) {
    j["direction"] = verdict_words(n);
    j["turns"] = std::abs(n.turns.in(turn));
    j["crown_travel_mm"] = std::abs(n.crown_travel.in(millimetre));
  }
  return j;
}

Json gate_json(const PreparationGate& gate) {
  Json items = Json::array();
  for (const auto& i : gate.items) {
    Json j{{"item", kind_of(i.item).code}, {"passed", i.passed}};
    j["state"] = i.record ? Json(state_code(i.record->state)) : Json(nullptr);
    j["reason"] = i.record ? i.record->reason : "";
    j["wanting_at"] = Json::array();
    for (Key k : i.wanting_notes) j["wanting_at"].push_back(note_name(k));
    items.push_back(std::move(j));
  }
  return {{"open", gate.open}, {"items", items}};
}

Json section_json(const SectionSummary& s) {
  return {{"first", note_name(s.section.first)},
          {"last", note_name(s.section.last)},
          {"blow_at_first_mm", mm(s.blow.at_first)},
          {"blow_at_last_mm", mm(s.blow.at_last)},
          {"strings_read", s.strings_read},
          {"hammers_read", s.hammers_read},
          {"moves", s.moves},
          {"target_sd_rms_mm", mm(s.target_sd_rms)},
          {"evenness_to_target_mm", mm(s.evenness_to_target)},
          {"evenness_to_neighbours_mm", mm(s.evenness_to_neighbours)}};
}

}  // namespace

std::string to_json(const Piano& piano, const Line& line) {
  const bool advised = line.gate.open && line.transfer.ready;
  Json j{{"piano", piano.name},
         {"gate", gate_json(line.gate)},
         {"transfer",
          {{"needed", line.transfer.needed},
           {"ready", line.transfer.ready},
           {"notes_read", line.transfer.readings},
           {"offset_at_lowest_mm", mm(line.transfer.offset_at_lowest)},
           {"offset_at_highest_mm", mm(line.transfer.offset_at_highest)},
           {"sd_middle_mm", mm(line.transfer.sd_middle)},
           {"sd_ends_mm", mm(line.transfer.sd_ends)}}},
         {"crown_per_turn_mm", (line.settings.crown_per_turn * turn).in(millimetre)},
         {"crown_per_turn_sd_mm", (line.settings.crown_per_turn_sd * turn).in(millimetre)},
         {"turn_step", 1.0 / line.settings.turn_denominator},
         {"noise_factor", line.noise_factor},
         {"evenness_to_target_mm", mm(line.evenness_to_target)},
         {"evenness_to_neighbours_mm", mm(line.evenness_to_neighbours)}};
  for (const char* list : {"sections", "findings", "read_next", "order", "cautions", "notes"})
    j[list] = Json::array();
  for (const SectionSummary& s : line.sections) j["sections"].push_back(section_json(s));
  for (const Finding& f : line.findings) {
    Json finding{{"kind", code(f.kind)}, {"note", note_name(f.key)}, {"read_mm", mm(f.read)}};
    if (f.kind != Finding::Kind::unison_off_level) {
      finding["expected_mm"] = mm(f.expected);
      finding["expected_sd_mm"] = mm(f.expected_sd);
      finding["chance_wrong"] = f.chance_wrong;
    }
    j["findings"].push_back(std::move(finding));
  }
  for (const NextReading& n : line.next_string)
    j["read_next"].push_back({{"note", note_name(n.key)},
                              {"settles_doubt", n.settles_doubt},
                              {"drop_mm", n.settles_doubt ? Json(nullptr) : mm(n.drop)}});
  for (Key k : line.order) j["order"].push_back(note_name(k));
  for (Caution c : line.cautions)
    j["cautions"].push_back(
        {{"code", text_of(c).code}, {"heading", text_of(c).heading}, {"text", text_of(c).text}});
  for (const NoteLine& n : line.notes) j["notes"].push_back(note_json(n, advised));
  return dumped(j);
}

}  // namespace batten
