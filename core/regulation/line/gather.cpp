#include "core/regulation/line/gather.hpp"

#include "core/numerics/weighted_mean.hpp"

#include <cmath>

namespace batten::line {

namespace {

// Repeats whose scatter is this many times what they state do not speak of the same height.
constexpr double kDisagree = 3;

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
// Moves that change the aftertouch: those, the key's dip, and where the jack trips.
bool changes_aftertouch(Adjuster a) {
  return moves_hammer(a) || a == Adjuster::front_punchings || a == Adjuster::let_off_button;
}
bool moves_string(Adjuster a) { return a == Adjuster::string_level; }

// Where in the journal each note was last moved by an adjuster of the kind.
using LastMoves = std::map<Key, std::size_t>;
LastMoves last_moves(const Standing& standing, bool (*kind)(Adjuster)) {
  LastMoves last;
  for (std::size_t i = 0; i < standing.moves.size(); ++i) {
    const auto& m = std::get<MoveMade>(standing.moves[i].content);
    if (kind(m.adjuster)) last[m.note] = standing.move_places[i];
  }
  return last;
}

bool still_holds(const Taken& t, const LastMoves& moved) {
  const auto it = moved.find(*t.reading->note);
  return it == moved.end() || t.place > it->second;
}

Length millimetres(double v) { return v * millimetre; }

std::map<Key, Measured> averaged(const std::vector<Taken>& taken, const LastMoves& moved) {
  std::map<Key, std::pair<std::vector<double>, std::vector<double>>> by_key;
  for (const Taken& t : taken) {
    if (!still_holds(t, moved)) continue;
    by_key[*t.reading->note].first.push_back(t.reading->value);
    by_key[*t.reading->note].second.push_back(t.reading->uncertainty);
  }
  std::map<Key, Measured> out;
  for (const auto& [key, lists] : by_key) {
    const WeightedMean m = weighted_mean(lists.first, lists.second);
    out[key] = {millimetres(m.mean), millimetres(m.sd()), m.birge_ratio > kDisagree};
  }
  return out;
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
  const auto hammers = of_latest_visit(standing, Reading::hammer_height, compass);
  const auto blows = of_latest_visit(standing, Reading::blow, compass);
  out.hammers = averaged(hammers, hammers_moved);
  out.blows = averaged(blows, hammers_moved);
  for (const auto* list : {&hammers, &blows})
    for (const Taken& t : *list) {
      const Key key = *t.reading->note;
      if (!out.hammers.contains(key) && !out.blows.contains(key)) out.moved_since[key] = true;
    }

  for (const Taken& t : of_latest_visit(standing, Reading::datum_transfer, compass))
    out.transfers.push_back(
        {*t.reading->note, millimetres(t.reading->value), millimetres(t.reading->uncertainty)});
  const auto aftertouch_changed = last_moves(standing, changes_aftertouch);
  for (const Taken& t : of_latest_visit(standing, Reading::aftertouch, compass)) {
    auto& list = still_holds(t, aftertouch_changed) ? out.aftertouch : out.aftertouch_before_move;
    list[*t.reading->note] = millimetres(t.reading->value);
  }
  return out;
}

}  // namespace batten::line
