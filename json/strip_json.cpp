#include "json/strip_json.hpp"

#include "app/pianos.hpp"
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/readings.hpp"
#include "json/values.hpp"

#include <cmath>
#include <functional>

namespace batten {

namespace {

Json mm(const std::optional<Length>& l) { return l ? rounded(l->in(millimetre)) : Json(nullptr); }

Json column(const Compass& compass, const std::function<Json(Key)>& of) {
  Json list = Json::array();
  for (int k = compass.lowest.number; k <= compass.highest.number; ++k) list.push_back(of(Key{k}));
  return list;
}

Json head(const Piano& piano, std::int64_t revision) {
  const Compass compass = compass_of(piano);
  return {{"revision", revision},
          {"first", compass.lowest.number},
          {"last", compass.highest.number},
          {"notes", column(compass, [](Key k) { return Json(note_name(k)); })},
          {"sharp", column(compass, [](Key k) { return Json(is_sharp(k)); })}};
}

const char* doubt_of(const Finding& f) {
  if (f.kind == Finding::Kind::reading_asked) return "ask";
  // As fair() tells them apart.
  return f.chance_wrong >= FairingOptions{}.wrong_from ? "wrong" : "doubtful";
}

Json string_json(const Line& line) {
  const auto sure = [](const NoteLine& n) { return std::isfinite(n.string_sd.si()); };
  const auto of = [&](const std::function<Json(const NoteLine&)>& get) {
    return column(line.compass, [&](Key k) { return get(line.at(k)); });
  };
  Json doubt = of([](const NoteLine&) { return Json(nullptr); });
  for (const Finding& f : line.findings)
    if (f.kind != Finding::Kind::unison_off_level)
      doubt[static_cast<std::size_t>(line.compass.position(f.key))] = doubt_of(f);
  Json unisons = Json::array();
  for (const Finding& f : line.findings)
    if (f.kind == Finding::Kind::unison_off_level)
      unisons.push_back({{"key", f.key.number}, {"off_mm", mm(f.read)}});
  return {{"read_mm", of([](const NoteLine& n) { return mm(n.string_read); })},
          {"fair_mm", of([&](const NoteLine& n) { return sure(n) ? mm(n.string_fair) : Json(); })},
          {"sd_mm", of([&](const NoteLine& n) { return sure(n) ? mm(n.string_sd) : Json(); })},
          {"doubt", doubt},
          {"unisons_off_level", unisons}};
}

Json hammer_json(const Line& line) {
  const auto sure = [](const NoteLine& n) { return std::isfinite(n.target_sd.si()); };
  const auto of = [&](const std::function<Json(const NoteLine&)>& get) {
    return column(line.compass, [&](Key k) { return get(line.at(k)); });
  };
  return {
      {"read_mm", of([](const NoteLine& n) { return mm(n.hammer); })},
      {"target_mm", of([&](const NoteLine& n) { return sure(n) ? mm(n.target) : Json(); })},
      {"target_sd_mm", of([&](const NoteLine& n) { return sure(n) ? mm(n.target_sd) : Json(); })},
      {"deviation_mm", of([](const NoteLine& n) { return mm(n.deviation); })}};
}

// The last reading of every aim at every note, in the aim's own unit; NaN: none.
std::vector<std::array<double, aim_count>> last_read(const PianoPlan& p) {
  const Compass& compass = p.plan.situation.compass;
  std::array<double, aim_count> none{};
  none.fill(std::nan(""));
  std::vector<std::array<double, aim_count>> out(static_cast<std::size_t>(compass.count()), none);
  for (const Entry& e : p.standing.readings) {
    const auto& r = std::get<ReadingTaken>(e.content);
    const auto aim = aim_of(r.reading);
    if (!aim || !r.note || !compass.contains(*r.note)) continue;
    double& slot = out[static_cast<std::size_t>(compass.position(*r.note))][index_of(*aim)];
    if (r.reading == reading_of(*aim, *r.note)) {
      slot = r.value;
    } else if (r.reading == Reading::hammer_height && p.line) {
      // Crown to string, over one datum.
      const NoteLine& n = p.line->at(*r.note);
      slot = n.hammer && std::isfinite(n.string_sd.si())
                 ? (n.string_fair - *n.hammer).in(millimetre)
                 : std::nan("");
    }
  }
  return out;
}

Json aims_json(const PianoPlan& p) {
  const Situation& now = p.plan.situation;
  const auto read = last_read(p);
  Json j = Json::object();
  for (const Aim aim : all_aims) {
    const std::size_t a = index_of(aim);
    const ReadingKind& kind = kind_of(reading_of(aim, Key{40}));
    const auto asked = [&](Key k) { return now.equipment.asks(reading_of(aim, k), k); };
    const auto of = [&](const std::function<Json(Key)>& get) {
      return column(now.compass, [&](Key k) { return asked(k) ? get(k) : Json(nullptr); });
    };
    const auto tolerance = now.catalogue.tolerance(kind.id);
    j[std::string(kind.code)] = {
        {"unit", unit_symbol(kind.unit)},
        {"read", of([&](Key k) {
           // What was read before its screw was turned stands no longer.
           if (now.at(k).readings[a] == 0) return Json(nullptr);
           return rounded(read[static_cast<std::size_t>(now.compass.position(k))][a]);
         })},
        {"mean", of([&](Key k) { return rounded(now.at(k).at(aim)); })},
        {"sd", of([&](Key k) { return rounded(now.at(k).sd(aim)); })},
        {"target", of([&](Key k) {
           const auto target = now.targets.at(aim, k);
           return target ? rounded(*target) : Json(nullptr);
         })},
        {"tolerance", tolerance ? rounded(tolerance->absolute) : Json(nullptr)},
        {"neighbour_tolerance", tolerance ? rounded(tolerance->neighbours) : Json(nullptr)},
        {"doubted", column(now.compass, [&](Key k) { return Json(now.at(k).doubted[a]); })}};
  }
  return j;
}

// The last touch weights read, grams-force.
Json weights_json(const PianoPlan& p) {
  const auto of = [&](Reading reading) {
    Json list = column(p.plan.situation.compass, [](Key) { return Json(nullptr); });
    for (const Entry& e : p.standing.readings) {
      const auto& r = std::get<ReadingTaken>(e.content);
      if (r.reading == reading && r.note && p.plan.situation.compass.contains(*r.note))
        list[static_cast<std::size_t>(p.plan.situation.compass.position(*r.note))] =
            rounded(r.value);
    }
    return list;
  };
  return {{"down_gf", of(Reading::down_weight)}, {"up_gf", of(Reading::up_weight)}};
}

Json moves_json(const Plan& plan) {
  Json list = Json::array();
  for (const Pass& pass : plan.passes)
    for (const Instruction& i : pass.steps) {
      if (i.kind != Instruction::Kind::turn) continue;
      const AdjusterKind& kind = kind_of(i.adjuster);
      list.push_back({{"note", note_name(i.key)},
                      {"key", i.key.number},
                      {"adjuster", kind.code},
                      {"amount", rounded(i.amount)},
                      {"unit", unit_name(kind.unit)},
                      {"direction", i.amount < 0 ? kind.negative : kind.positive},
                      {"reading", kind_of(i.reading).code},
                      {"before", rounded(i.before)},
                      {"target", rounded(i.target)},
                      {"at_the_end", rounded(i.at_the_end)}});
    }
  return list;
}

const char* code(ReadingWanted::Why why) {
  switch (why) {
    case ReadingWanted::Why::settles_doubt:
      return "settles-doubt";
    case ReadingWanted::Why::surer_target:
      return "surer-target";
    case ReadingWanted::Why::plan:
      return "plan";
    case ReadingWanted::Why::sample:
      return "sample";
    case ReadingWanted::Why::by_halves:
      return "by-halves";
  }
  return "";
}

Json or_null(const std::optional<double>& v) { return v ? rounded(*v) : Json(nullptr); }

Json lacking_json(const Problem& p) {
  return {{"happened", p.happened}, {"kept", p.kept}, {"todo", p.todo}};
}

}  // namespace

std::string strip_to_json(const Piano& piano, const PianoPlan& p, std::int64_t revision) {
  const Situation& now = p.plan.situation;
  Json j = head(piano, revision);
  j["served"] = column(now.compass, [&](Key k) { return Json(now.equipment.serves(k)); });
  j["samples"] = Json::array();
  for (const Key k : now.line.samples) j["samples"].push_back(k.number);
  j["sections"] = Json::array();
  for (const Section& s : now.line.sections)
    j["sections"].push_back({{"first", s.first.number}, {"last", s.last.number}});
  j["lacking"] = nullptr;
  j["gate_open"] = p.plan.gate.open;
  j["string"] = p.line ? string_json(*p.line) : Json(nullptr);
  j["hammer"] = p.line ? hammer_json(*p.line) : Json(nullptr);
  j["aims"] = aims_json(p);
  j["weights"] = weights_json(p);
  j["moves"] = moves_json(p.plan);
  return dumped_short(j);
}

std::string strip_to_json(const Piano& piano, const Problem& lacking, std::int64_t revision) {
  Json j = head(piano, revision);
  j["served"] = column(compass_of(piano), [](Key) { return Json(true); });
  j["samples"] = Json::array();
  j["sections"] = Json::array();
  j["lacking"] = lacking_json(lacking);
  j["gate_open"] = false;
  j["string"] = nullptr;
  j["hammer"] = nullptr;
  j["aims"] = Json::object();
  j["weights"] = nullptr;
  j["moves"] = Json::array();
  return dumped_short(j);
}

std::string read_next_to_json(const std::vector<ReadingWanted>& wanted,
                              const std::vector<ReadingProgress>& progress, std::int64_t revision) {
  Json j{{"revision", revision}, {"lacking", nullptr}};
  j["suggestions"] = Json::array();
  for (const ReadingWanted& w : wanted) {
    const ReadingKind& kind = kind_of(w.reading);
    j["suggestions"].push_back({{"reading", kind.code},
                                {"note", note_name(w.key)},
                                {"key", w.key.number},
                                {"why", code(w.why)},
                                {"unit", unit_symbol(kind.unit)},
                                {"expected", or_null(w.expected)},
                                {"expected_sd", or_null(w.expected_sd)},
                                {"chance_wrong", or_null(w.chance_wrong)},
                                {"drop_mm", or_null(w.drop_mm)}});
  }
  j["progress"] = Json::array();
  for (const ReadingProgress& p : progress)
    j["progress"].push_back({{"reading", kind_of(p.reading).code},
                             {"asked", p.asked},
                             {"read", p.read},
                             {"samples_asked", p.samples_asked},
                             {"samples_read", p.samples_read}});
  return dumped_short(j);
}

std::string read_next_to_json(const Problem& lacking, std::int64_t revision) {
  Json j{{"revision", revision}, {"lacking", lacking_json(lacking)}};
  j["suggestions"] = Json::array();
  j["progress"] = Json::array();
  return dumped_short(j);
}

}  // namespace batten
