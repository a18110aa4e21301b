#include "app/setting_guide.hpp"

#include "app/action_job.hpp"
#include "core/regulation/aims/aim.hpp"
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/readings.hpp"
#include "core/regulation/planning/threads.hpp"

#include <optional>

namespace batten {

namespace {

std::vector<std::string> profile_names() {
  std::vector<std::string> names;
  for (const StoredProfile& p : stored_profiles()) names.emplace_back(p.name);
  return names;
}

// A figure for the example: the middle of the usual ones.
std::string middle(const ReadingKind& kind) {
  if (!kind.usual_low || !kind.usual_high) return {};
  std::string text = std::to_string((*kind.usual_low + *kind.usual_high) / 2);
  text.erase(text.find('.') + 3);
  return text;
}

void add_targets(std::vector<SettingGuide>& list) {
  for (const Key key : {Key{40}, Key{41}})  // a natural, a sharp
    for (const Aim aim : all_aims) {
      const ReadingKind& kind = kind_of(reading_of(aim, key));
      const std::string name = std::string(kind.code) + "-target";
      if (name == "blow-target") continue;  // stands with the line's
      bool there = false;
      for (const SettingGuide& g : list) there = there || g.name == name;
      if (there) continue;
      list.push_back({name,
                      "targets",
                      middle(kind),
                      {},
                      std::string(unit_symbol(kind.unit)),
                      {},
                      "What the " + std::string(kind.name) +
                          " is to be: one value, \"a to b\" from bass to treble, or one of these "
                          "for each section with ';' between."});
    }
}

void add_threads(std::vector<SettingGuide>& list) {
  for (const AdjusterKind& kind : adjuster_kinds()) {
    const std::string name = std::string(kind.code) + "-thread";
    if (!is_thread_setting(name)) continue;
    const std::string positive(kind.positive);
    list.push_back({name,
                    "screws",
                    positive + " clockwise",
                    {},
                    {},
                    {positive + " clockwise", positive + " counter-clockwise"},
                    "Which way the " + std::string(kind.name) +
                        " turns, seen from where the hand works; instructions then say it."});
  }
}

void add_drift(std::vector<SettingGuide>& list) {
  list.insert(
      list.end(),
      {{"playing-hours",
        "piano",
        "12",
        "10",
        "",
        {},
        "Hours a week it is played; felt and leather age by them."},
       {"climate",
        "piano",
        "45 to 60; driest february",
        "",
        "%",
        {},
        "Relative humidity of the driest and the dampest time of the year, and the driest month if "
        "you know it."},
       {"new-felt",
        "piano",
        "2025-03 hammers",
        "",
        "",
        {},
        "When felt or leather was put in new, and what: all, hammers, knuckles, cushions, "
        "key-cloth, checks, dampers; several with ';' between."},
       {"return-limit",
        "work",
        "20 %",
        "20 %",
        "",
        {},
        "Share of readings expected outside their tolerance at which the next visit is due."}});
}

std::vector<SettingGuide> make_guide() {
  std::vector<SettingGuide> list{
      {"sections",
       "piano",
       "E2 bridge, A#4 strut, D6 strut",
       "",
       "",
       {},
       "The last note of each section but the top one, and what ends it: bridge, from bass to "
       "treble bridge, or strut, of the plate. No line is drawn over a break."},
      {"action-profile", "piano", "medium", "medium", "", profile_names(),
       "Whose action the moves are computed with."},
      {"undamped-from",
       "piano",
       "G6",
       "",
       "",
       {},
       "The lowest note without a damper; damper readings are refused from here up."},
      {"out-of-service",
       "piano",
       "C8",
       "",
       "",
       {},
       "Notes nothing is asked of, and nothing is accepted for."},
      {"lacks",
       "piano",
       "drop-screw C7 C8; damper-wire F6-G6",
       "",
       "",
       {},
       "Adjusters that are not there; nothing that they set is asked for."},
      {"one-string-to", "piano", "F1", "", "", {}, "The highest note with one string."},
      {"two-strings-to",
       "piano",
       "E2",
       "",
       "",
       {},
       "The highest note with two strings; three above."},
      {"samples",
       "line",
       "fuller",
       "plain",
       "",
       {},
       "Notes gauged and set first. Plain: the ends of each section and the Bs and Es between. "
       "Fuller: one more natural an octave. Or the notes themselves."},
      {"blow-target",
       "line",
       "46 to 45 mm",
       "46 to 45 mm",
       "mm",
       {},
       "The blow wanted, straight between the ends; or one for each section with ';' between. "
       "From 35 to 60 mm."},
      {"hammer-datum",
       "line",
       "strings",
       "strings",
       "",
       {"strings", "bench"},
       "Bench: hammer heights are read over another datum than string heights, and the two must be "
       "tied by readings first."},
      {"crown-per-turn",
       "line",
       "9 mm, 1.5 mm",
       "9 mm, 1.5 mm",
       "mm",
       {},
       "Rise of the crown for a turn of the capstan, and its standard deviation."},
      {"turn-step",
       "work",
       "1/64",
       "1/64",
       "",
       {"1/64", "1/32", "1/16"},
       "The smallest part of a turn you make on purpose."},
      {"direction-sureness",
       "work",
       "0.95",
       "0.95",
       "",
       {},
       "How sure the direction of a move must be before it is advised: from 0.5 up to but not 1."},
      {"grade",
       "work",
       "house",
       "house",
       "",
       {"stage", "house", "lesson"},
       "How close the work is to be: tolerances times 0.8, 1 or 1.5."},
      {"papers",
       "work",
       "0.05 0.08 0.13 0.25 0.5 1",
       "0.05 0.08 0.13 0.25 0.5 1",
       "mm",
       {},
       "Thicknesses of paper and card to hand, for front and balance punchings."},
      {"play-weight",
       "work",
       "0.5; 1; 1; 0.4",
       "",
       "",
       {},
       "How much the evenness of a section counts when time is short: one number a section."},
  };
  add_drift(list);
  add_targets(list);
  add_threads(list);
  return list;
}

}  // namespace

std::span<const SettingGuide> setting_guide() {
  static const std::vector<SettingGuide> guide = make_guide();
  return guide;
}

}  // namespace batten
