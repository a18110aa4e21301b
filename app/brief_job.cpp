#include "app/brief_job.hpp"

#include "app/action_job.hpp"
#include "app/entries.hpp"
#include "app/files.hpp"
#include "app/pianos.hpp"
#include "app/plan_job.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/aims/aim.hpp"
#include "core/regulation/aims/targets.hpp"
#include "core/regulation/brief/map.hpp"
#include "core/regulation/line/line.hpp"
#include "drawings/brief_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <memory>
#include <string_view>
#include <utility>

namespace batten {

namespace {

struct Asked {
  ProfileFile file;
  bool chosen = false;
  BriefTask task;
};

// What the notes about a register read now: the mean of those where all four were read; nothing
// without any.
std::optional<BriefPoint> today_at(const Situation& s, Key key) {
  constexpr int reach = 6;
  constexpr Aim four[] = {Aim::blow, Aim::dip, Aim::let_off, Aim::drop};
  BriefPoint sum;
  int count = 0;
  for (const NoteState& n : s.notes) {
    if (std::abs(n.key.number - key.number) > reach || is_sharp(n.key) != is_sharp(key)) continue;
    if (!std::ranges::all_of(four, [&](Aim a) { return n.read[index_of(a)]; })) continue;
    sum.blow += n.at(Aim::blow);
    sum.dip += n.at(Aim::dip);
    sum.let_off += n.at(Aim::let_off);
    sum.drop += n.at(Aim::drop);
    ++count;
  }
  if (count == 0) return std::nullopt;
  return BriefPoint{sum.blow / count, sum.dip / count, sum.let_off / count, sum.drop / count};
}

Result<std::vector<Register>> registers_of(Compass compass, const std::vector<Section>& sections,
                                           const std::string& where) {
  std::vector<Register> all = usual_registers(compass, sections);
  if (where.empty()) return all;
  std::string names;
  for (const Register& r : all) {
    if (r.name == where) return std::vector<Register>{r};
    names += (names.empty() ? "" : ", ") + r.name + " (" + note_name(r.key) + ")";
  }
  auto key = parse_key(where);
  if (!key || !compass.contains(*key))
    return problem("There is no register \"" + where + "\".",
                   "There are: " + names + "; or name any note.");
  for (const Register& r : all)
    if (r.key == *key) return std::vector<Register>{r};
  return std::vector<Register>{{*key, "note"}};
}

using PlanNow = std::shared_ptr<const PianoPlan>;

Result<PlanNow> plan_now(Desk& desk, const Piano& piano, BriefMemory* memory) {
  if (memory != nullptr) return memory->plans->plan(desk, piano);
  auto plan = plan_work(desk, piano);
  if (!plan) return tl::unexpected(plan.error());
  return std::make_shared<const PianoPlan>(std::move(*plan));
}

Result<Asked> ask(Desk& desk, const Piano& piano, const BriefRequest& request,
                  BriefMemory* memory) {
  auto plan = plan_now(desk, piano, memory);
  if (!plan) return tl::unexpected(plan.error());
  Asked out;
  out.chosen = (*plan)->profile_chosen;
  auto file = out.chosen ? profile_of(desk, piano) : find_profile((*plan)->profile);
  if (!file) return tl::unexpected(file.error());
  out.file = std::move(*file);
  const Situation& s = (*plan)->plan.situation;
  out.task.compass = s.compass;
  out.task.targets = s.targets;
  auto wishes = brief_wishes((*plan)->standing.settings);
  if (!wishes) return tl::unexpected(wishes.error());
  out.task.wishes = *wishes;
  auto registers = registers_of(s.compass, s.targets.sections, request.where);
  if (!registers) return tl::unexpected(registers.error());
  out.task.registers = *registers;
  for (const Register& r : *registers) out.task.today.push_back(today_at(s, r.key));
  return out;
}

std::string point_text(const std::optional<BriefPoint>& p) {
  return p ? fmt::format("{} {} {} {};", p->blow, p->dip, p->let_off, p->drop) : "unread;";
}

// All that a register's figures hang on, as text.
std::string name_of_task(const BriefTask& task, std::size_t index, const std::string& profile) {
  const Register& where = task.registers[index];
  std::string text = fmt::format("{} {};", where.key.number, where.name);
  for (const Aim aim : all_aims) {
    const auto target = task.targets.at(aim, where.key);
    text += target ? fmt::format("{};", *target) : "none;";
  }
  for (const Band& b : task.wishes.needs)
    text += fmt::format("{} {} {};", b.low, b.high, b.on_record);
  for (const double w : task.wishes.wants) text += fmt::format("{};", w);
  return text + point_text(task.today[index]) + profile;
}

Result<Brief> brief_with(const Asked& asked, BriefMemory& memory) {
  const BriefTask& task = asked.task;
  const std::string profile = print_profile(asked.file);
  std::vector<std::string> names;
  std::string whole;
  for (std::size_t i = 0; i < task.registers.size(); ++i) {
    names.push_back(name_of_task(task, i, profile));
    whole += names.back();
  }
  // Tapers between registers are changed with them.
  for (const auto* side : {&task.targets.naturals, &task.targets.sharps})
    for (const auto& tapers : *side)
      for (const Taper& t : tapers) whole += fmt::format("{} {};", t.at_first, t.at_last);
  if (auto known = memory.wholes.find(whole)) return *known;
  Brief out{task.compass, task.targets, task.wishes, {}};
  for (std::size_t i = 0; i < task.registers.size(); ++i) {
    auto known = memory.registers.find(names[i]);
    if (!known) {
      auto one = calc_register_brief(task, i);
      if (!one) return tl::unexpected(one.error());
      known = memory.registers.keep(names[i], std::move(*one));
    }
    out.registers.push_back(*known);
  }
  if (auto shared = share_departures(task, out); !shared) return tl::unexpected(shared.error());
  return *memory.wholes.keep(whole, std::move(out));
}

// The user's own words of a remark made by accept_departures, behind ours.
std::string own_reason(const std::string& remark) {
  constexpr std::string_view begin = ": Brief: ", end = " mm. ";
  const auto last = remark.rfind(begin);
  if (last == std::string::npos) return {};
  const auto at = remark.find(end, last);
  return at == std::string::npos ? std::string() : remark.substr(at + end.size());
}

std::vector<Acceptance> acceptances(const std::vector<HistoryLine>& lines) {
  std::vector<Acceptance> out;
  for (const HistoryLine& line : lines) {
    const auto* remark = std::get_if<Remark>(&line.entry.content);
    if (!line.in_force || remark == nullptr || remark->text.find(": Brief: ") == std::string::npos)
      continue;
    Acceptance one{line.entry.at_ms, line.entry.who, {}, own_reason(remark->text)};
    for (const HistoryLine& other : lines) {
      const auto* setting = std::get_if<SettingChosen>(&other.entry.content);
      if (other.in_force && setting != nullptr && other.entry.at_ms == line.entry.at_ms &&
          other.entry.visit == line.entry.visit && is_target_setting(setting->name))
        one.settings.push_back(*setting);
    }
    if (!one.settings.empty()) out.insert(out.begin(), std::move(one));
  }
  return out;
}

// Departures chosen by the user's words, for the registers that have any.
Result<BriefChoice> choice_of(const Brief& brief, const std::string& which) {
  if (which == "cheapest") return cheapest(brief);
  std::vector<std::size_t> open;
  for (std::size_t i = 0; i < brief.registers.size(); ++i)
    if (!brief.registers[i].departures.empty()) open.push_back(i);
  std::vector<long> numbers;
  for (std::size_t from = 0; from <= which.size();) {
    const auto end = std::min(which.find(',', from), which.size());
    auto number = parse_number(which.substr(from, end - from));
    if (!number || *number < 0 || *number != std::floor(*number) || *number > 1000)
      return problem("\"" + which + "\" chooses nothing.",
                     "Write a number of the list, as in --accept 1, one for each register with "
                     "commas, or cheapest.");
    numbers.push_back(std::lround(*number));
    from = end + 1;
  }
  if (numbers.size() == 1) numbers.assign(open.size(), numbers.front());
  if (numbers.size() != open.size())
    return problem(fmt::format("There are {} registers with a choice but {} numbers.", open.size(),
                               numbers.size()),
                   "Give one number for all, or one for each.");
  BriefChoice choice(brief.registers.size());
  for (std::size_t k = 0; k < open.size(); ++k) {
    const RegisterBrief& r = brief.registers[open[k]];
    if (numbers[k] == 0) continue;
    const auto n = static_cast<std::size_t>(numbers[k]);
    if (n > r.departures.size())
      return problem(
          fmt::format("At {} ({}) there is no way {}.", r.where.name, note_name(r.where.key), n),
          fmt::format("There are {}.", r.departures.size()));
    choice[open[k]] = n - 1;
  }
  return choice;
}

}  // namespace

Result<PianoBrief> make_brief(Desk& desk, const Piano& piano, const BriefRequest& request,
                              BriefMemory* memory) {
  return guarded([&]() -> Result<PianoBrief> {
    auto asked = ask(desk, piano, request, memory);
    if (!asked) return tl::unexpected(asked.error());
    asked->task.profile = &asked->file.profile;
    auto brief = memory == nullptr ? calc_brief(asked->task) : brief_with(*asked, *memory);
    if (!brief) return tl::unexpected(brief.error());
    return PianoBrief{std::move(*brief), asked->file.profile.name, asked->chosen};
  });
}

Result<BriefOutline> outline_brief(Desk& desk, const Piano& piano, BriefMemory& memory) {
  return guarded([&]() -> Result<BriefOutline> {
    auto asked = ask(desk, piano, {}, &memory);
    if (!asked) return tl::unexpected(asked.error());
    auto lines = history(desk, piano);
    if (!lines) return tl::unexpected(lines.error());
    const BriefTask& task = asked->task;
    return BriefOutline{
        task.compass,  task.targets,       task.wishes, task.registers, asked->file.profile.name,
        asked->chosen, acceptances(*lines)};
  });
}

Result<PianoMap> map_brief(Desk& desk, const Piano& piano, const BriefRequest& request,
                           BriefMemory& memory) {
  return guarded([&]() -> Result<PianoMap> {
    if (request.where.empty()) return problem("A map is of one register.", "Name it, or a note.");
    auto asked = ask(desk, piano, request, &memory);
    if (!asked) return tl::unexpected(asked.error());
    BriefTask& task = asked->task;
    task.profile = &asked->file.profile;
    const std::string name = name_of_task(task, 0, print_profile(asked->file));
    auto known = memory.maps.find(name);
    if (!known) {
      auto maps = calc_brief_maps(task, {});
      if (!maps) return tl::unexpected(maps.error());
      known = memory.maps.keep(name, std::move(maps->front()));
    }
    return PianoMap{*known, asked->file.profile.name, asked->chosen};
  });
}

Result<void> draw_brief(Desk& desk, const Piano& piano, const BriefRequest& request, bool inches,
                        const std::filesystem::path& file) {
  return guarded([&]() -> Result<void> {
    auto asked = ask(desk, piano, request, nullptr);
    if (!asked) return tl::unexpected(asked.error());
    asked->task.profile = &asked->file.profile;
    auto maps = calc_brief_maps(asked->task, {});
    if (!maps) return tl::unexpected(maps.error());
    return write_file(file,
                      draw_brief_map(*maps, piano.name + ": what blow and dip leave", inches));
  });
}

Result<std::vector<Entry>> step_of(Desk& desk, const Piano& piano, const Uuid& id) {
  return guarded([&]() -> Result<std::vector<Entry>> {
    auto entries = desk.store.entries(piano.id);
    if (!entries) return tl::unexpected(entries.error());
    const auto first = std::ranges::find(*entries, id, &Entry::id);
    std::vector<Entry> step;
    if (first == entries->end()) return step;
    for (const Entry& e : *entries)
      if (e.at_ms == first->at_ms && e.visit == first->visit) step.push_back(e);
    return step;
  });
}

Result<std::vector<Entry>> accept_departures(Desk& desk, const Piano& piano,
                                             const PianoBrief& brief, const std::string& which,
                                             const std::string& because, std::optional<Uuid> id) {
  if (id)
    if (auto kept = step_of(desk, piano, *id); !kept || !kept->empty()) return kept;
  auto choice = choice_of(brief.brief, which);
  if (!choice) return tl::unexpected(choice.error());
  const auto settings = accept_brief(brief.brief, *choice, because);
  if (settings.empty())
    return problem("There is nothing to accept: the sheet stays as it is.", {},
                   "No target was changed.");
  std::vector<EntryContent> contents;
  std::string told;
  for (const BriefSetting& s : settings) {
    contents.emplace_back(SettingChosen{s.name, s.value});
    told += (told.empty() ? "" : " ") + s.name + ": " + s.reason;
  }
  contents.emplace_back(Remark{std::nullopt, told});
  return keep(desk, piano, std::move(contents), id);
}

}  // namespace batten
