#include "core/regulation/line/gather.hpp"

#include "core/numerics/weighted_mean.hpp"

#include <cmath>

namespace batten::line {

namespace {

// Repeats whose scatter is this many times what they state do not speak of the same height.
constexpr double disagreement = 3;

struct Taken {
  std::size_t place;  // in the journal
  const Entry* entry;
  const ReadingTaken* reading;
};

// Readings of one kind from the latest visit that has any, in journal order.
std::vector<Taken> of_latest_visit(const Standing& standing, Reading kind, Compass compass) {
  std::vector<Taken> list;
  for (std::size_t i = 0; i < standing.readings.size(); ++i) {
    const Entry& e = standing.readings[i];
    const auto& r = std::get<ReadingTaken>(e.content);
    if (r.reading == kind && r.note && compass.contains(*r.note))
      list.push_back({standing.reading_places[i], &e, &r});
  }
  if (!list.empty()) {
    const Uuid visit = list.back().entry->visit;
    std::erase_if(list, [&](const Taken& t) { return t.entry->visit != visit; });
  }
  return list;
}

// Moves that change where a hammer rests.
bool moves_hammer(Adjuster a) {
  return a == Adjuster::capstan || a == Adjuster::balance_punchings ||
         a == Adjuster::lever_height_button || a == Adjuster::repetition_spring;
}
bool moves_string(Adjuster a) { return a == Adjuster::string_level; }

// Where in the journal each note was last moved by an adjuster of the kind.
using LastMoves = std::map<Key, std::size_t>;
LastMoves last_moves(const Standing& standing, bool (*kind)(Adjuster)) {
  LastMoves last;
  for (std::size_t i = 0; i < standing.moves.size(); ++i) {
    const auto& m = std::get<MoveMade>(standing.moves[i].content);
    if (m.note && kind(m.adjuster)) last[*m.note] = standing.move_places[i];
  }
  return last;
}

bool still_holds(const Taken& t, const LastMoves& moved) {
  const auto it = moved.find(*t.reading->note);
  return it == moved.end() || t.place > it->second;
}

Length millimetres(double v) { return v * millimetre; }

Measured mean_of(const std::vector<Taken>& repeats) {
  std::vector<double> values, sds;
  for (const Taken& t : repeats) {
    values.push_back(t.reading->value);
    sds.push_back(t.reading->uncertainty);
  }
  const WeightedMean m = weighted_mean(values, sds);
  return {millimetres(m.mean), millimetres(m.sd()), m.birge_ratio > disagreement,
          repeats.back().place, repeats.back().entry->visit};
}

std::map<Key, Measured> averaged(const std::vector<Taken>& taken, const LastMoves& moved) {
  std::map<Key, std::vector<Taken>> by_key;
  for (const Taken& t : taken)
    if (still_holds(t, moved)) by_key[*t.reading->note].push_back(t);
  std::map<Key, Measured> out;
  for (auto& [key, repeats] : by_key) {
    out[key] = mean_of(repeats);
    // A slip among the repeats is outvoted by reading twice more.
    if (!out[key].repeats_disagree || repeats.size() < 3) continue;
    repeats.erase(repeats.begin(), repeats.end() - 2);
    out[key] = mean_of(repeats);
  }
  return out;
}

// The first choice of what was the default anyway changes nothing.
bool datum_really_changed(const Standing& standing, const Standing::Change& change) {
  return !(change.before.empty() && standing.settings.at("hammer-datum") == "strings");
}

std::vector<UnisonSpread> unisons_off_level(const Standing& standing, Compass compass) {
  const auto moved = last_moves(standing, moves_string);
  std::map<Key, double> newest;
  for (const Taken& t : of_latest_visit(standing, Reading::unison_level, compass)) {
    if (still_holds(t, moved)) newest[*t.reading->note] = t.reading->value;
  }
  const double tolerance = kind_of(Reading::unison_level).tolerance_absolute.value_or(0.1);
  std::vector<UnisonSpread> out;
  for (const auto& [key, spread] : newest)
    if (spread > tolerance) out.push_back({key, millimetres(spread)});
  return out;
}

}  // namespace

Readings gather(Compass compass, const Standing& standing) {
  Readings out;
  out.unisons = unisons_off_level(standing, compass);

  const auto strings_moved = last_moves(standing, moves_string);
  for (const Taken& t : of_latest_visit(standing, Reading::string_height, compass)) {
    if (!still_holds(t, strings_moved)) continue;
    // The gauge found the lowest string of a unison known to be off level; how far the others stand
    // above it, the line cannot know.
    double sd = t.reading->uncertainty;
    for (const UnisonSpread& u : out.unisons)
      if (u.key == *t.reading->note) sd = std::hypot(sd, u.spread.in(millimetre));
    out.strings.push_back({*t.reading->note, millimetres(t.reading->value), millimetres(sd)});
  }

  const auto hammers_moved = last_moves(standing, moves_hammer);
  auto hammers = of_latest_visit(standing, Reading::hammer_height, compass);
  if (const auto change = standing.setting_changes.find("hammer-datum");
      change != standing.setting_changes.end() && datum_really_changed(standing, change->second))
    std::erase_if(hammers, [&](const Taken& t) { return t.place < change->second.place; });
  const auto blows = of_latest_visit(standing, Reading::blow, compass);
  out.hammers = averaged(hammers, hammers_moved);
  out.blows = averaged(blows, hammers_moved);
  for (const std::vector<Taken>& list : {hammers, blows})
    for (const Taken& t : list) {
      const Key key = *t.reading->note;
      if (!out.hammers.contains(key) && !out.blows.contains(key)) out.moved_since[key] = true;
    }

  const auto transfers = of_latest_visit(standing, Reading::datum_transfer, compass);
  const bool bench_as_it_was = !transfers.empty() && !hammers.empty() &&
                               (transfers.back().entry->visit == hammers.back().entry->visit ||
                                transfers.back().place > hammers.back().place);
  if (bench_as_it_was)
    for (const Taken& t : transfers)
      out.transfers.push_back(
          {*t.reading->note, millimetres(t.reading->value), millimetres(t.reading->uncertainty)});
  return out;
}

}  // namespace batten::line
