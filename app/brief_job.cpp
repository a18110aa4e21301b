#include "app/brief_job.hpp"

#include "app/action_job.hpp"
#include "app/entries.hpp"
#include "app/files.hpp"
#include "app/pianos.hpp"
#include "app/plan_job.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/brief/map.hpp"
#include "core/regulation/line/line.hpp"
#include "drawings/brief_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

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

Result<Asked> ask(Desk& desk, const Piano& piano, const BriefRequest& request) {
  auto plan = plan_work(desk, piano);
  if (!plan) return tl::unexpected(plan.error());
  Asked out;
  out.chosen = plan->profile_chosen;
  auto file = out.chosen ? profile_of(desk, piano) : find_profile(plan->profile);
  if (!file) return tl::unexpected(file.error());
  out.file = std::move(*file);
  const Situation& s = plan->plan.situation;
  out.task.compass = s.compass;
  out.task.targets = s.targets;
  auto wishes = brief_wishes(plan->standing.settings);
  if (!wishes) return tl::unexpected(wishes.error());
  out.task.wishes = *wishes;
  auto registers = registers_of(s.compass, s.targets.sections, request.where);
  if (!registers) return tl::unexpected(registers.error());
  out.task.registers = *registers;
  for (const Register& r : *registers) out.task.today.push_back(today_at(s, r.key));
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

Result<PianoBrief> make_brief(Desk& desk, const Piano& piano, const BriefRequest& request) {
  return guarded([&]() -> Result<PianoBrief> {
    auto asked = ask(desk, piano, request);
    if (!asked) return tl::unexpected(asked.error());
    asked->task.profile = &asked->file.profile;
    auto brief = calc_brief(asked->task);
    if (!brief) return tl::unexpected(brief.error());
    return PianoBrief{std::move(*brief), asked->file.profile.name, asked->chosen};
  });
}

Result<void> draw_brief(Desk& desk, const Piano& piano, const BriefRequest& request, bool inches,
                        const std::filesystem::path& file) {
  return guarded([&]() -> Result<void> {
    auto asked = ask(desk, piano, request);
    if (!asked) return tl::unexpected(asked.error());
    asked->task.profile = &asked->file.profile;
    auto maps = calc_brief_maps(asked->task, {});
    if (!maps) return tl::unexpected(maps.error());
    return write_file(file,
                      draw_brief_map(*maps, piano.name + ": what blow and dip leave", inches));
  });
}

Result<std::vector<Entry>> accept_departures(Desk& desk, const Piano& piano,
                                             const PianoBrief& brief, const std::string& which,
                                             const std::string& because) {
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
  return keep(desk, piano, std::move(contents));
}

}  // namespace batten
