#include "core/quantities/text.hpp"
#include "core/regulation/brief/departures.hpp"
#include "core/regulation/brief/words.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace batten {

namespace {

// What is changed at a key, mm.
struct Change {
  Key key;
  double by = 0;
};

// Straight between the registers, level outside them; none without any.
double change_at(const std::vector<Change>& changes, Key key) {
  if (changes.empty()) return 0;
  if (key <= changes.front().key) return changes.front().by;
  for (std::size_t i = 1; i < changes.size(); ++i) {
    const Change &a = changes[i - 1], &b = changes[i];
    if (key > b.key) continue;
    const double share = static_cast<double>(key.number - a.key.number) /
                         static_cast<double>(b.key.number - a.key.number);
    return a.by + share * (b.by - a.by);
  }
  return changes.back().by;
}

double to_hundredth(double mm) { return std::round(mm * 100) / 100; }

// What each register that is told changes by, and in which of the four.
std::vector<Change> changes_of(const Brief& brief, const BriefChoice& choice,
                               double BriefPoint::*member) {
  std::vector<Change> changes;
  for (std::size_t i = 0; i < brief.registers.size(); ++i) {
    const RegisterBrief& r = brief.registers[i];
    if (is_sharp(r.where.key)) continue;
    const double by = choice[i] ? r.departures[*choice[i]].by.*member : 0;
    changes.push_back({r.where.key, by});
  }
  return changes;
}

std::vector<Change> sharp_changes(const Brief& brief, const std::vector<Change>& blow,
                                  const std::vector<Change>& let_off,
                                  const std::vector<Change>& dip) {
  std::vector<Change> changes;
  for (const RegisterBrief& r : brief.registers) {
    const Key key = r.where.key;
    if (!is_sharp(key) || !r.surface->found) continue;
    changes.push_back(
        {key, brief::find_dip_change(r, r.sheet.point.blow + change_at(blow, key),
                                     r.sheet.point.let_off + change_at(let_off, key))});
  }
  return changes.empty() ? dip : changes;
}

std::string reason_of(const Brief& brief, const BriefChoice& choice, const std::string& why) {
  struct Told {
    std::string ways, places;
    double least = 0, most = 0;  // aftertouch, mm
  };
  std::vector<Told> told;  // registers that go the same way together
  for (std::size_t i = 0; i < brief.registers.size(); ++i) {
    const RegisterBrief& r = brief.registers[i];
    if (!choice[i] || is_sharp(r.where.key)) continue;
    const Departure& d = r.departures[*choice[i]];
    const std::string way(name_of(d.way));
    const std::string place = r.where.name + " (" + note_name(r.where.key) + ")";
    const double aftertouch = d.figures.aftertouch;
    const auto known = std::ranges::find(told, way, &Told::ways);
    if (known == told.end()) {
      told.push_back({way, place, aftertouch, aftertouch});
      continue;
    }
    known->places += ", " + place;
    known->least = std::min(known->least, aftertouch);
    known->most = std::max(known->most, aftertouch);
  }
  std::string text = "Brief";
  for (const Told& t : told) {
    text += (text == "Brief" ? ": " : "; ") + t.ways + " at " + t.places + ", aftertouch " +
            print_number(t.least);
    if (t.most > t.least) text += " to " + print_number(t.most);
    text += " mm";
  }
  text += ".";
  if (!why.empty()) text += " " + why;
  return text;
}

struct Line {
  Reading reading;
  const std::vector<Taper>* tapers;
  const std::vector<Change>* changes;
};

}  // namespace

BriefChoice cheapest(const Brief& brief) {
  BriefChoice choice(brief.registers.size());
  for (std::size_t i = 0; i < choice.size(); ++i)
    if (!brief.registers[i].departures.empty()) choice[i] = 0;
  return choice;
}

std::vector<BriefSetting> accept_brief(const Brief& brief, const BriefChoice& choice,
                                       const std::string& why) {
  assert(choice.size() == brief.registers.size());
  const auto blow = changes_of(brief, choice, &BriefPoint::blow),
             dip = changes_of(brief, choice, &BriefPoint::dip),
             let_off = changes_of(brief, choice, &BriefPoint::let_off),
             drop = changes_of(brief, choice, &BriefPoint::drop);
  const auto sharp_dip = sharp_changes(brief, blow, let_off, dip);
  const auto naturals = [&](Aim aim) { return &brief.targets.naturals[index_of(aim)]; };
  const Line lines[] = {
      {Reading::blow, naturals(Aim::blow), &blow},
      {Reading::dip, naturals(Aim::dip), &dip},
      {Reading::sharp_dip, &brief.targets.sharps[index_of(Aim::dip)], &sharp_dip},
      {Reading::let_off, naturals(Aim::let_off), &let_off},
      {Reading::drop, naturals(Aim::drop), &drop},
  };
  const std::string reason = reason_of(brief, choice, why);
  std::vector<BriefSetting> settings;
  for (const Line& line : lines) {
    std::vector<Taper> tapers = *line.tapers;
    for (std::size_t s = 0; s < tapers.size(); ++s) {
      const Section& section = brief.targets.sections[s];
      tapers[s].at_first =
          to_hundredth(tapers[s].at_first + change_at(*line.changes, section.first));
      tapers[s].at_last = to_hundredth(tapers[s].at_last + change_at(*line.changes, section.last));
    }
    const bool changes =
        std::ranges::any_of(*line.changes, [](const Change& c) { return c.by != 0; });
    if (!changes || tapers.empty()) continue;
    settings.push_back({std::string(kind_of(line.reading).code) + "-target",
                        print_tapers(line.reading, tapers), reason});
  }
  return settings;
}

}  // namespace batten
