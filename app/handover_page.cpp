#include "app/handover_page.hpp"

#include "app/action_job.hpp"
#include "app/drift_job.hpp"
#include "app/entries.hpp"
#include "app/pianos.hpp"
#include "app/shop_settings.hpp"
#include "core/regulation/influence/action_model.hpp"
#include "core/regulation/touch/touch.hpp"

#include <algorithm>
#include <array>
#include <ctime>
#include <utility>

namespace batten {

namespace {

// Bass, middle, treble: A1, C4 and C7 of 88 keys, as core/regulation/brief's registers; each stands
// for its third of the keyboard.
constexpr std::array<double, 3> places{12.0 / 87, 39.0 / 87, 75.0 / 87};

Key natural_at(Compass compass, double place) {
  Key key = compass.at(static_cast<int>(std::lround(place * (compass.count() - 1))));
  if (is_sharp(key)) --key.number;  // both ends are naturals
  return key;
}

// What is known of an aim at the naturals (of any note, where the colours read alike) of a third.
TouchAim aim_of_third(const Account& account, Aim aim, int from, int to) {
  std::vector<const NoteAccount*> notes;
  for (const NoteAccount* n : compared_notes(account, reading_of(aim, Key{40})))
    if (n->aim == aim && n->key.number >= from && n->key.number <= to) notes.push_back(n);
  TouchAim out;
  if (notes.empty()) return out;
  const auto count = static_cast<double>(notes.size());
  double before = 0, after = 0;  // variances
  for (const NoteAccount* n : notes) {
    out.before += (*n->first - n->target) / count;
    out.after += (n->now - n->target) / count;
    before += n->first_sd * n->first_sd;
    after += n->now_sd * n->now_sd;
  }
  out.before_sd = std::sqrt(before) / count;
  out.after_sd = std::sqrt(after) / count;
  const Spread found = spread_of(notes, true), now = spread_of(notes, false);
  out.before_beside = found.beside_rms;
  out.after_beside = now.beside_rms;
  out.beside = now.beside;
  return out;
}

std::vector<TouchTask> touch_tasks(const action::Profile& profile, const Targets& targets,
                                   const Account& account, Compass compass) {
  std::vector<TouchTask> tasks;
  for (std::size_t i = 0; i < places.size(); ++i) {
    TouchTask task;
    task.key = natural_at(compass, places.at(i));
    task.target = wanted_at(targets, task.key, note_of(profile, task.key).wanted);
    const int third = compass.count() / 3;
    const int from = compass.lowest.number + static_cast<int>(i) * third;
    const int to = i + 1 == places.size() ? compass.highest.number : from + third - 1;
    bool known = false;
    for (const Aim aim : all_aims) {
      TouchAim& a = task.aims[index_of(aim)];
      a = aim_of_third(account, aim, from, to);
      known = known || a.before_sd > 0;
    }
    if (known) tasks.push_back(task);
  }
  // Registers are told beside each other or not at all.
  if (tasks.size() < places.size()) tasks.clear();
  return tasks;
}

void add_gauges(const Standing& standing, const Uuid& visit, HandoverFacts& facts) {
  for (const Entry& e : standing.readings) {
    const auto& r = std::get<ReadingTaken>(e.content);
    if (e.visit != visit || r.gauge.empty()) continue;
    auto one = std::ranges::find(facts.gauges, r.gauge, &HandoverFacts::Gauge::name);
    if (one == facts.gauges.end()) one = facts.gauges.insert(facts.gauges.end(), {r.gauge, {}});
    if (std::ranges::find(one->readings, r.reading) == one->readings.end())
      one->readings.push_back(r.reading);
  }
}

std::optional<ComeBack> come_back_of(const Outlook& o) {
  ComeBack back;
  back.limit = o.limit;
  back.visits = o.known_from.visits;
  switch (o.due.state) {
    case DueState::unknown:
      return std::nullopt;
    case DueState::overdue:
      back.state = ComeBack::State::overdue;
      break;
    case DueState::beyond:
      back.state = ComeBack::State::beyond;
      break;
    case DueState::due_at:
      if (!o.due.at_ms) return std::nullopt;
      back.state = ComeBack::State::due_at;
      back.day = local_day(*o.due.at_ms);
      if (o.due.low_ms) back.low = local_day(*o.due.low_ms);
      if (o.due.high_ms) back.high = local_day(*o.due.high_ms);
      break;
  }
  return back;
}

}  // namespace

Result<void> check_visit_setting(const std::string& name, const std::string& value) {
  if (value.size() > most_own_words)
    return problem("What is written under " + name + " is too long for the page.",
                   "Keep it under " + std::to_string(most_own_words) + " letters.");
  return {};
}

Result<std::map<std::string, std::string>> visit_settings(Desk& desk, const Piano& piano,
                                                          const Uuid& visit) {
  return guarded([&]() -> Result<std::map<std::string, std::string>> {
    auto entries = desk.store.entries(piano.id);
    if (!entries) return tl::unexpected(entries.error());
    const std::vector<bool> holds = in_force(*entries);
    std::map<std::string, std::string> chosen;
    for (std::size_t i = 0; i < entries->size(); ++i) {
      const Entry& e = (*entries)[i];
      const auto* setting = std::get_if<SettingChosen>(&e.content);
      if (holds[i] && e.visit == visit && setting != nullptr && is_visit_setting(setting->name))
        chosen[setting->name] = setting->value;
    }
    std::erase_if(chosen, [](const auto& one) { return one.second.empty(); });
    return chosen;
  });
}

CivilDay local_day(std::int64_t at_ms) {
  const auto seconds = static_cast<std::time_t>(at_ms >= 0 ? at_ms / 1000 : (at_ms - 999) / 1000);
  std::tm t{};
  localtime_r(&seconds, &t);
  return {t.tm_year + 1900, t.tm_mon + 1, t.tm_mday};
}

Result<HandoverFacts> handover_facts(Desk& desk, const Piano& piano, const PianoPlan& plan,
                                     const PianoHandover& h) {
  return guarded([&]() -> Result<HandoverFacts> {
    HandoverFacts facts;
    facts.piano = piano.name;
    facts.place = piano.place;
    facts.compass = compass_of(piano);
    auto line = line_settings(facts.compass, plan.standing.settings);
    if (!line) return tl::unexpected(line.error());
    facts.sections = line->sections;
    auto targets = targets_on_record(facts.compass, facts.sections, plan.standing.settings);
    if (!targets) return tl::unexpected(targets.error());
    facts.targets = std::move(*targets);
    if (h.visit) {
      facts.visit = h.visit->title;
      facts.from = local_day(h.visit->begun_ms);
    }
    if (h.last_ms) facts.to = local_day(*h.last_ms);
    facts.who = h.who;
    facts.account = h.account;
    facts.gate = h.gate;
    for (const Entry& e : h.remarks) {
      const auto& remark = std::get<Remark>(e.content);
      facts.remarks.push_back({remark.note, remark.text, local_day(e.at_ms)});
    }
    facts.readings_left = h.readings_left;
    facts.moves_left = h.moves_left;
    facts.minutes_left = h.minutes_left;
    facts.profile = h.profile;
    facts.profile_chosen = h.profile_chosen;
    add_gauges(plan.standing, h.account.visit, facts);
    auto own = visit_settings(desk, piano, h.account.visit);
    if (!own) return tl::unexpected(own.error());
    facts.owner_words = (*own)[owner_words_setting];
    facts.next_visit = (*own)[next_visit_setting];

    // What is still to be done is outside now and will not be at the end: no date hangs on it, nor
    // on a visit long past.
    auto latest = desk.store.latest_visit(piano.id);
    const bool of_today = latest && *latest && (*latest)->id == h.account.visit;
    if (auto shop = shop_settings(desk); of_today && h.moves_left == 0 && shop)
      if (auto outlook = look_ahead(piano, plan.standing, desk.now_ms(), return_limit_of(*shop)))
        facts.come_back = come_back_of(*outlook);

    const auto set = plan.standing.settings.find(action_profile_setting);
    auto file = find_profile(set != plan.standing.settings.end() ? set->second : stand_in_profile);
    if (!file) return tl::unexpected(file.error());
    const auto tasks = touch_tasks(file->profile, facts.targets, facts.account, facts.compass);
    // What the model cannot play is not told; the page stands without it.
    if (!tasks.empty())
      if (auto touch = calc_touch(file->profile, tasks)) facts.touch = std::move(*touch);
    return facts;
  });
}

}  // namespace batten
