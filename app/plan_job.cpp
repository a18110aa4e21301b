#include "app/plan_job.hpp"

#include "app/action_job.hpp"
#include "app/entries.hpp"
#include "app/pianos.hpp"
#include "app/readings.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/line/line.hpp"
#include "core/regulation/planning/pace.hpp"
#include "reports/plan_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace batten {

namespace {

using Model = ModelOnRecord;

// The passes keep their order; only the pauses are asked for.
std::optional<RestPlan> rest_of(const Plan& plan) {
  std::vector<PassLoad> loads;
  double moves = 0;
  for (const Pass& p : plan.passes) {
    const std::uint32_t before = (1U << loads.size()) - 1;
    loads.push_back({static_cast<double>(p.moves), p.minutes,
                     plan.situation.catalogue.labour(p.adjuster).strain, before});
    moves += p.moves;
  }
  if (moves == 0) return std::nullopt;
  auto rest = plan_rest(loads);
  if (!rest) return std::nullopt;  // more than a day's work: nothing to say of one day
  return *rest;
}

Result<PianoPlan> plan_from(Standing standing, Model model, const Piano& piano,
                            const PlanRequest& request, std::int64_t now_ms) {
  PianoPlan out;
  const Compass compass = compass_of(piano);
  PlanOptions options;
  auto plan = calc_plan(compass, standing, model.action, options);
  if (!plan) return tl::unexpected(plan.error());
  out.minutes_of_all = plan->minutes;
  out.unevenness_of_all = plan->unevenness_after;
  if (request.minutes) {
    options.minutes = request.minutes;
    plan = calc_plan(compass, standing, model.action, options);
    if (!plan) return tl::unexpected(plan.error());
  }
  out.plan = std::move(*plan);
  auto threads = threads_on_record(standing.settings);
  if (!threads) return tl::unexpected(threads.error());
  out.threads = *threads;
  out.progress = calc_progress(out.plan, standing, now_ms);
  out.rest = rest_of(out.plan);
  const Paces paces = learn_paces(standing, out.plan.situation.catalogue);
  out.paces_learned = static_cast<std::size_t>(
      std::ranges::count_if(paces.moves, [](const auto& p) { return p.second.from > 0; }) +
      std::ranges::count_if(paces.readings, [](const auto& p) { return p.second.from > 0; }));
  out.profile = std::move(model.profile);
  out.profile_chosen = model.chosen;
  out.model = std::move(model.action);
  out.standing = std::move(standing);
  return out;
}

std::string called(const Instruction& step, const PianoPlan& plan) {
  return note_name(step.key) + ": " + act_words(step, plan.style(false));
}

// Adds the problem's view of what was to be answered.
tl::unexpected<Problem> about(const Instruction& step, const PianoPlan& plan, Problem p) {
  p.happened = "Next is \"" + called(step, plan) + "\". " + p.happened;
  if (p.kept.empty()) p.kept = "Nothing was written down.";
  return tl::unexpected(std::move(p));
}

Result<ReadingTaken> reading_of_answer(Desk& desk, const Piano& piano, const Instruction& step,
                                       const std::string& value) {
  const ReadingKind& kind = kind_of(step.reading);
  auto reading = check_reading(
      piano, {std::string(kind.code), note_name(step.key), value, std::string(), std::string()});
  if (!reading) return reading;
  if (auto ok = check_against_piano(settings_on_record(desk, piano), *reading); !ok)
    return tl::unexpected(ok.error());
  return reading;
}

Result<std::vector<EntryContent>> contents_of(Desk& desk, const Piano& piano,
                                              const Instruction& step, const Answer& answer,
                                              bool& as_asked) {
  std::vector<EntryContent> contents;
  if (answer.skip) {
    if (answer.reason.empty())
      return problem("What is left needs its reason on record.",
                     "Say why: batten done --skip \"screw is stripped\".");
    if (!answer.words.empty())
      return problem("It cannot be both done and left.", "Leave out --skip or the value.");
    contents.emplace_back(MoveSkipped{step.adjuster, step.key, answer.reason});
    as_asked = false;
    return contents;
  }
  const bool turn = step.kind == Instruction::Kind::turn;
  auto word = answer.words.begin();
  if (turn) {
    MoveMade made{step.adjuster, step.key, step.amount, ""};
    if (word != answer.words.end() && names_direction(*word, step.adjuster)) {
      auto move = parse_move(piano, step.adjuster, note_name(step.key), *word);
      if (!move) return tl::unexpected(move.error());
      made = *move;
      as_asked = made.amount == step.amount;
      ++word;
    } else if (word != answer.words.end() && word->find('/') != std::string::npos &&
               word->find('"') == std::string::npos) {
      const AdjusterKind& kind = kind_of(step.adjuster);
      return problem("\"" + *word + "\" has no direction.",
                     "Say \"" + std::string(kind.positive) + " " + *word + "\" or \"" +
                         std::string(kind.negative) + " " + *word +
                         "\", or nothing if it was done "
                         "as asked.");
    }
    contents.emplace_back(std::move(made));
  } else if (word == answer.words.end()) {
    return problem("A reading is done when it has a value.",
                   "Say what you read: batten done 45.6. Or leave it: batten done --skip \"why\".");
  }
  if (word != answer.words.end()) {
    auto reading = reading_of_answer(desk, piano, step, *word);
    if (!reading) {
      Problem p = reading.error();
      if (!turn && names_direction(*word, step.adjuster))
        p = {"\"" + *word + "\" is a move, and a reading is asked for.",
             {},
             "Say what you read, or write the move down with batten turned " + note_name(step.key) +
                 " \"" + *word + "\" --adjuster " + std::string(kind_of(step.adjuster).code) + "."};
      return tl::unexpected(std::move(p));
    }
    contents.emplace_back(std::move(*reading));
    ++word;
  }
  if (word != answer.words.end())
    return problem("\"" + *word + "\" is one word too many.",
                   "Give an amount, a value, or an amount and then a value.");
  return contents;
}

}  // namespace

Result<double> parse_minutes(const std::string& text) {
  constexpr double day = 24 * 60;
  double minutes = 0;
  // "2 h 30": hours, then minutes.
  const auto h = text.find('h');
  auto first = parse_duration(h == std::string::npos ? text : text.substr(0, h + 1));
  if (!first) return tl::unexpected(first.error());
  minutes = first->in(minute);
  if (h != std::string::npos && text.find_first_not_of(" \t", h + 1) != std::string::npos) {
    auto rest = parse_duration(text.substr(h + 1));
    if (!rest) return tl::unexpected(rest.error());
    minutes += rest->in(minute);
  }
  if (!(minutes > 0) || minutes > day)
    return problem("No work is done in \"" + text + "\".",
                   "Give the minutes there are, above 0 and up to a day: 150, or \"2 h 30\".");
  return minutes;
}

Result<ModelOnRecord> model_on_record(const Standing& standing, const Piano& piano) {
  const auto set = standing.settings.find(action_profile_setting);
  ModelOnRecord model;
  model.chosen = set != standing.settings.end();
  auto file = find_profile(model.chosen ? set->second : stand_in_profile);
  if (!file) {
    Problem p = file.error();
    p.happened = "The action profile set for " + piano.name + " cannot be used: " + p.happened;
    return tl::unexpected(std::move(p));
  }
  model.profile = file->profile.name;
  const Compass compass = compass_of(piano);
  auto line = line_settings(compass, standing.settings);
  if (!line) return tl::unexpected(line.error());
  auto targets = targets_on_record(compass, line->sections, standing.settings);
  if (!targets) return tl::unexpected(targets.error());
  auto action = calc_action_model(file->profile, compass, *targets);
  if (!action) return tl::unexpected(action.error());
  model.action = std::move(*action);
  return model;
}

Result<PianoPlan> plan_standing(Desk& desk, const Piano& piano, Standing standing,
                                const ActionModel& model, const PlanRequest& request) {
  return guarded([&]() -> Result<PianoPlan> {
    const auto set = standing.settings.find(action_profile_setting);
    const bool chosen = set != standing.settings.end();
    // By its own name: a file's is inside.
    auto file = find_profile(chosen ? set->second : stand_in_profile);
    if (!file) return tl::unexpected(file.error());
    auto line = calc_line(compass_of(piano), standing);
    auto plan = plan_from(std::move(standing), {model, file->profile.name, chosen}, piano, request,
                          desk.now_ms());
    if (plan && line) plan->line = std::move(*line);
    return plan;
  });
}

Result<PianoPlan> plan_work(Desk& desk, const Piano& piano, const PlanRequest& request) {
  return guarded([&]() -> Result<PianoPlan> {
    auto now = standing(desk, piano);
    if (!now) return tl::unexpected(now.error());
    auto model = model_on_record(*now, piano);
    if (!model) return tl::unexpected(model.error());
    return plan_standing(desk, piano, std::move(*now), model->action, request);
  });
}

std::string rests_on(const PianoPlan& p) {
  std::string text = p.profile_chosen
                         ? "What moves what is computed with the action profile \"" + p.profile +
                               "\" set for this piano."
                         : "No action profile is set for this piano, so the stored profile \"" +
                               p.profile +
                               "\" stands in: a first guess of what moves what (batten fit finds "
                               "the piano's own).";
  const Responses& responses = p.plan.situation.responses;
  int learned = 0;
  for (std::size_t k = 0; k < note_adjuster_count; ++k)
    for (std::size_t r = 0; r < responses.registers(); ++r)
      learned += responses.moves_seen(static_cast<Adjuster>(k), r);
  text += learned == 0
              ? std::string(
                    " What a turn does is that of a usual screw, a first guess, until "
                    "moves have been read before and after.")
              : fmt::format(
                    " What a turn does was learned from {} read before and after; "
                    "where none was, it is a usual screw's, a first guess.",
                    learned == 1 ? std::string("one move") : fmt::format("{} moves", learned));
  text += p.paces_learned == 0
              ? " Minutes are first guesses until your own pace is in the journal."
              : " Minutes follow your own pace where the journal tells it; the rest are first "
                "guesses.";
  return text;
}

Result<int> write_plan_sheet(Desk& desk, const Piano& piano, const std::filesystem::path& file,
                             SheetRequest request, std::optional<Adjuster> pass) {
  return guarded([&]() -> Result<int> {
    auto plan = plan_work(desk, piano);
    if (!plan) return tl::unexpected(plan.error());
    auto visit = current_visit(desk, piano);
    if (!visit) return tl::unexpected(visit.error());
    const std::int64_t now = desk.now_ms();
    const SheetHeading heading{piano.name, piano.place, visit->title, print_date(now), desk.who};
    request.options.created = print_timestamp(now);
    const PlanSheetWords words{progress_words(plan->plan, plan->progress), rests_on(*plan),
                               plan->rest ? print_rest(*plan->rest) : std::string(), plan->threads,
                               pass};
    if (request.picture)
      return render_plan_sheet_png(plan->plan, words, heading, request.options, file, request.page,
                                   request.dpi);
    return render_plan_sheet_pdf(plan->plan, words, heading, request.options, file);
  });
}

const Instruction* find_instruction(const Plan& plan, Key key, std::optional<Adjuster> adjuster) {
  for (const Pass& pass : plan.passes)
    for (const Instruction& step : pass.steps)
      if (step.key == key && (!adjuster || step.adjuster == *adjuster)) return &step;
  return nullptr;
}

Result<Answered> answer_next(Desk& desk, const Piano& piano, const Answer& answer) {
  auto plan = plan_work(desk, piano);
  if (!plan) return tl::unexpected(plan.error());
  const Instruction* next = plan->plan.next();
  if (next == nullptr)
    return problem("There is nothing to do, so nothing can be done.",
                   plan->plan.gate.open
                       ? "A move or reading beyond the plan: batten turned, batten read."
                       : "First the preparation: batten line lists what is missing.",
                   "Nothing was written down.");
  Answered out;
  out.instruction = *next;
  const Instruction& step = out.instruction;
  if (!answer.note.empty()) {
    auto key = parse_key(answer.note);
    if (!key) return tl::unexpected(key.error());
    if (*key != step.key)
      return about(step, *plan,
                   {"That is not at " + note_name(*key) + ".",
                    {},
                    "Look again with batten next, or write it down with batten turned or read."});
  }
  auto contents = contents_of(desk, piano, step, answer, out.as_asked);
  if (!contents) return about(step, *plan, contents.error());
  auto kept = keep(desk, piano, std::move(*contents));
  if (!kept) return tl::unexpected(kept.error());
  out.kept = std::move(*kept);
  // The model hangs on settings only, and none was changed.
  return guarded([&]() -> Result<Answered> {
    auto now = standing(desk, piano);
    if (!now) return tl::unexpected(now.error());
    Model model{std::move(plan->model), plan->profile, plan->profile_chosen};
    auto again = plan_from(std::move(*now), std::move(model), piano, {}, desk.now_ms());
    if (!again) return tl::unexpected(again.error());
    out.now = std::move(*again);
    return std::move(out);
  });
}

}  // namespace batten
