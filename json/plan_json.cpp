#include "json/plan_json.hpp"

#include "app/line_job.hpp"
#include "json/journal_json.hpp"
#include "json/reasons_json.hpp"
#include "json/values.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace batten {

namespace {

// "mm", "grade", "": the reading's unit, for values whose key cannot carry it.
std::string_view unit(Reading reading) {
  return unit_symbol(kind_of(reading == Reading::hammer_height ? Reading::blow : reading).unit);
}

const char* code(Question::Kind kind) {
  switch (kind) {
    case Question::Kind::wrong_way:
      return "wrong-way";
    case Question::Kind::odd_answer:
      return "odd-answer";
    case Question::Kind::odd_reading:
      return "odd-reading";
  }
  return "";
}

// Whether the reading, or what tells of the same, was ever taken at the note.
bool was_read(const PianoPlan& p, const Instruction& i) {
  const auto aim = aim_of(i.reading);
  return aim && p.plan.situation.at(i.key).read[index_of(*aim)];
}

Json step_json(const PianoPlan& p, const Instruction& i) {
  const bool turn = i.kind == Instruction::Kind::turn;
  Json j{
      {"kind", turn ? "turn" : "read"},     {"note", note_name(i.key)},
      {"pass", pass_name(i.adjuster)},      {"adjuster", kind_of(i.adjuster).code},
      {"reading", kind_of(i.reading).code}, {"words", instruction_words(p.plan, i, p.style(false))},
      {"minutes", number(i.minutes)},       {"unit", unit(i.reading)}};
  j["read"] = was_read(p, i);
  // What the gauge should show: of a move, right after it; of a reading, now.
  j["goal"] = number(reading_goal(p.plan, i));
  j["before"] = number(i.before);
  j["before_sd"] = number(i.before_sd);
  j["target"] = number(i.target);
  j["tolerance"] = number(i.tolerance);
  if (!turn) return j;
  const AdjusterKind& kind = kind_of(i.adjuster);
  j["direction"] = i.amount < 0 ? kind.negative : kind.positive;
  j["amount"] = number(i.amount);
  j["amount_unit"] = unit_name(kind.unit);
  j["papers_mm"] = i.papers;
  const auto hand = p.threads.of(i.adjuster, i.amount);
  j["hand"] =
      hand ? Json(*hand == Rotation::clockwise ? "clockwise" : "counter-clockwise") : Json(nullptr);
  j["read_after"] = i.read_after;
  j["after"] = number(i.after);
  j["at_the_end"] = number(i.at_the_end);
  j["effects"] = Json::array();
  for (const Effect& e : i.effects) {
    const Reading r = reading_of(e.aim, i.key);
    j["effects"].push_back(
        {{"reading", kind_of(r).code}, {"change", number(e.change)}, {"unit", unit(r)}});
  }
  return j;
}

// A step without what codes and other values say. Amounts stay exact: they are fractions of a turn.
Json lean_step_json(const PianoPlan& p, const Instruction& i) {
  Json j = step_json(p, i);
  for (const char* name : {"pass", "words", "amount_unit", "direction"}) j.erase(name);
  for (const auto& [name, value] : j.items())
    if (value.is_number_float() && name != "amount") value = rounded(value.get<double>());
  if (j.contains("effects"))
    for (auto& effect : j["effects"])
      if (effect["change"].is_number()) effect["change"] = rounded(effect["change"].get<double>());
  return j;
}

// Which way the pass's screw turns for a + move, and what to watch where that is not on record;
// null where nothing is turned.
Json thread_json(const PianoPlan& p, Adjuster adjuster) {
  if (kind_of(adjuster).unit != MoveUnit::turns) return nullptr;
  const auto hand = p.threads.of(adjuster, 1);
  const std::string question = thread_question(adjuster, p.threads);
  Json way = nullptr;
  if (hand) way = *hand == Rotation::clockwise ? "clockwise" : "counter-clockwise";
  return {{"setting", thread_setting(adjuster)},
          {"positive", std::move(way)},
          {"question", question.empty() ? Json(nullptr) : Json(question)}};
}

// How far every other pass pushes what this one has set, in tolerances, mean over the notes; those
// worth saying, the most first.
Json shifted_json(const OrderReport& order, Adjuster adjuster) {
  constexpr double worth_saying = 0.05;
  std::vector<std::pair<double, Adjuster>> list;
  for (const Adjuster by : order.derived)
    if (const double d = order.undone[index_of(adjuster)][index_of(by)]; d > worth_saying)
      list.emplace_back(-d, by);
  std::ranges::sort(list);
  Json j = Json::array();
  for (const auto& [minus, by] : list)
    j.push_back({{"by", kind_of(by).code}, {"tolerances", rounded(-minus)}});
  return j;
}

Json questions_json(const PianoPlan& p) {
  Json list = Json::array();
  for (const Question& q : p.plan.situation.questions) {
    const QuestionWords w = question_words(q, p.style(false));
    list.push_back(
        {{"kind", code(q.kind)},
         {"note", note_name(q.key)},
         {"adjuster",
          q.kind == Question::Kind::odd_reading ? Json(nullptr) : Json(kind_of(q.adjuster).code)},
         {"reading", kind_of(q.reading).code},
         {"expected", number(q.expected)},
         {"expected_sd", number(q.expected_sd)},
         {"seen", number(q.seen)},
         {"confirmed", q.confirmed},
         {"unit", unit(q.reading)},
         {"happened", w.happened},
         {"maybe", w.maybe},
         {"todo", w.todo}});
  }
  return list;
}

Json rest_json(const PianoPlan& p) {
  const RestPlan& r = *p.rest;
  const char* classes[] = {"acceptable", "borderline", "high"};
  Json j{{"ocra_index", number(r.index)},
         {"ocra_index_without_pauses", number(r.index_without_pauses)},
         {"class", classes[static_cast<std::size_t>(r.hand_class)]},
         {"minutes", number(r.minutes)},
         {"words", print_rest(r)}};
  j["pauses"] = Json::array();
  for (const Pause& pause : r.pauses)
    j["pauses"].push_back({{"after_minutes", number(pause.after)},
                           {"minutes", number(pause.minutes)},
                           {"adjuster", kind_of(p.plan.passes[pause.pass].adjuster).code}});
  return j;
}

Json order_json(const OrderReport& o) {
  Json j{{"rework_derived", number(o.rework_derived)}, {"rework_common", number(o.rework_common)}};
  j["derived"] = Json::array();
  j["common"] = Json::array();
  for (const Adjuster a : o.derived) j["derived"].push_back(kind_of(a).code);
  for (const Adjuster a : o.common) j["common"].push_back(kind_of(a).code);
  return j;
}

Json progress_json(const PianoPlan& p) {
  Json j{{"words", progress_words(p.plan, p.progress)},
         {"last", p.progress.last},
         {"moves_left", p.progress.moves_left},
         {"readings_left", p.progress.reads_left},
         {"minutes_since_last_entry",
          p.progress.since_ms ? Json(static_cast<double>(*p.progress.since_ms) / 60000.0)
                              : Json(nullptr)},
         {"minutes_left", number(p.progress.minutes_left)}};
  j["passes"] = Json::array();
  for (const PassProgress& x : p.progress.passes)
    j["passes"].push_back({{"pass", pass_name(x.adjuster)},
                           {"adjuster", kind_of(x.adjuster).code},
                           {"minutes_left", number(x.minutes_left)},
                           {"notes_done", x.turned},
                           {"notes_left_knowingly", x.skipped},
                           {"moves_left", x.moves_left},
                           {"readings_left", x.reads_left},
                           {"finished", x.finished()}});
  return j;
}

Json because_json(const std::vector<Reason>& reasons, const WordStyle& style) {
  Json list = Json::array();
  for (const Reason& reason : reasons) list.push_back(to_values(reason, style));
  return list;
}

Json next_json(const PianoPlan& p) {
  const Instruction* next = p.plan.next();
  return next != nullptr ? step_json(p, *next) : Json(nullptr);
}

Json kept_json(const std::vector<Entry>& entries) {
  Json list = Json::array();
  for (const Entry& e : entries) list.push_back(Json::parse(to_json(e)));
  return list;
}

}  // namespace

const char* hold_code(Hold::Reason reason) {
  switch (reason) {
    case Hold::Reason::could_block:
      return "could-block";
    case Hold::Reason::could_not_let_go:
      return "could-not-let-go";
    case Hold::Reason::could_be_carried:
      return "could-be-carried";
    case Hold::Reason::could_trap:
      return "could-trap";
    case Hold::Reason::could_rub:
      return "could-rub";
    case Hold::Reason::beyond_limit:
      return "beyond-limit";
    case Hold::Reason::response_doubted:
      return "response-doubted";
    case Hold::Reason::direction_unsure:
      return "direction-unsure";
    case Hold::Reason::lacking:
      return "lacking";
  }
  return "";
}

std::string to_json(const Piano& piano, const PianoPlan& p, const PlanExtract& options) {
  const Plan& plan = p.plan;
  const auto step = [&](const Instruction& i) {
    return options.lean ? lean_step_json(p, i) : step_json(p, i);
  };
  Json j = Json::object();
  if (options.revision) j["revision"] = *options.revision;
  j.update(Json{{"piano", piano.name},
                {"profile", p.profile},
                {"profile_chosen", p.profile_chosen},
                {"gate_open", plan.gate.open},
                {"progress", progress_json(p)},
                {"next", next_json(p)},
                {"questions", questions_json(p)}});
  j["passes"] = Json::array();
  for (const Pass& pass : plan.passes) {
    if (options.pass && pass.adjuster != *options.pass) continue;
    Json one{{"pass", pass_name(pass.adjuster)},
             {"adjuster", kind_of(pass.adjuster).code},
             {"readings", pass.readings},
             {"moves", pass.moves},
             {"minutes", number(pass.minutes)},
             {"notes_done", pass.done},
             {"notes_left_knowingly", pass.skipped},
             {"unit", unit_name(kind_of(pass.adjuster).unit)},
             {"why_here", order_words(plan.order, pass.adjuster)}};
    const Labour& labour = plan.situation.catalogue.labour(pass.adjuster);
    one["strain"] = labour.strain;
    one["set_up_minutes"] = number(labour.minutes_set_up);
    one["least_step"] = number(labour.least_step);
    one["place"] = to_values(place_in_order(plan.order, pass.adjuster));
    one["shifted"] = shifted_json(plan.order, pass.adjuster);
    one["thread"] = thread_json(p, pass.adjuster);
    one["cautions"] = Json::array();
    for (const Caution c : kind_of(pass.adjuster).cautions)
      one["cautions"].push_back(text_of(c).code);
    one["steps"] = Json::array();
    for (const Instruction& i : pass.steps) one["steps"].push_back(step(i));
    j["passes"].push_back(std::move(one));
  }
  j["holds"] = Json::array();
  for (const Hold& h : plan.holds) j["holds"].push_back(to_values(h));
  j["order"] = order_json(plan.order);
  j["minutes"] = number(plan.minutes);
  j["minutes_there_are"] = options.minutes ? Json(*options.minutes) : Json(nullptr);
  j["minutes_of_all"] = number(p.minutes_of_all);
  j["left_for_time"] = Json::array();
  for (const Instruction& i : plan.left_for_time) j["left_for_time"].push_back(step(i));
  j["unevenness"] = number(plan.unevenness);
  j["unevenness_after"] = number(plan.unevenness_after);
  j["aims"] = Json::array();
  for (const AimSummary& a : plan.aims)
    j["aims"].push_back({{"reading", kind_of(reading_of(a.aim, Key{40})).code},
                         {"notes", a.notes},
                         {"read", a.read},
                         {"outside", a.outside},
                         {"expected_outside", number(a.expected_outside)},
                         {"unevenness", number(a.unevenness)},
                         {"unevenness_after", number(a.unevenness_after)}});
  j["hands"] = p.rest ? rest_json(p) : Json(nullptr);
  j["cautions"] = Json::array();
  for (const Caution c : plan.cautions)
    j["cautions"].push_back(
        {{"code", text_of(c).code}, {"heading", text_of(c).heading}, {"text", text_of(c).text}});
  return options.lean ? dumped_short(j) : dumped(j);
}

std::string next_to_json(const PianoPlan& p) {
  return dumped({{"next", next_json(p)},
                 {"progress", progress_json(p)},
                 {"questions", questions_json(p)},
                 {"minutes", number(p.plan.minutes)}});
}

std::string to_json(const Answered& a) {
  return dumped({{"asked", step_json(a.now, a.instruction)},
                 {"as_asked", a.as_asked},
                 {"kept", kept_json(a.kept)},
                 {"next", next_json(a.now)},
                 {"questions", questions_json(a.now)}});
}

std::string why_to_json(const PianoPlan& p, Key key, Adjuster adjuster, const Instruction* step,
                        const std::vector<Reason>& reasons) {
  return dumped({{"note", note_name(key)},
                 {"adjuster", kind_of(adjuster).code},
                 {"instruction", step != nullptr ? step_json(p, *step) : Json(nullptr)},
                 {"because", because_json(reasons, p.style(false))}});
}

std::string time_to_json(const PianoPlan& whole, const std::vector<TimePoint>& curve,
                         std::int64_t revision) {
  Json j{{"revision", revision},
         {"minutes_of_all", number(whole.plan.minutes)},
         {"unevenness", number(whole.plan.unevenness)},
         {"unevenness_of_all", number(whole.plan.unevenness_after)}};
  j["points"] = Json::array();
  for (const TimePoint& p : curve) {
    Json passes = Json::array();
    for (const Adjuster a : p.passes) passes.push_back(kind_of(a).code);
    j["points"].push_back({{"minutes", rounded(p.minutes)},
                           {"work", rounded(p.work)},
                           {"unevenness", rounded(p.unevenness)},
                           {"passes", std::move(passes)}});
  }
  return dumped_short(j);
}

}  // namespace batten
