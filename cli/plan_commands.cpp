#include "cli/plan_commands.hpp"

#include "cli/desk_work.hpp"
#include "cli/terminal.hpp"
#include "json/plan_json.hpp"

namespace batten::cli {

namespace {

Result<Adjuster> pass_named(const std::string& text) {
  if (const auto pass = pass_by_name(text)) return *pass;
  std::string known;
  for (const Adjuster a : common_order())
    known += (known.empty() ? "" : ", ") + std::string(pass_name(a));
  return problem("There is no pass \"" + text + "\".", "There are: " + known + ".");
}

Result<Key> key_named(const Piano& piano, const std::string& text) {
  auto key = parse_key(text);
  if (key && !compass_of(piano).contains(*key))
    return problem(note_name(*key) + " is not on this keyboard.", "Check the note.");
  return key;
}

// The adjuster a question about a note is most likely about: the first that is asked for there or
// held there, else the capstan.
Adjuster adjuster_at(const Plan& plan, Key key) {
  if (const Instruction* step = find_instruction(plan, key, std::nullopt)) return step->adjuster;
  for (const Hold& h : plan.holds)
    if (h.key == key) return h.adjuster;
  return Adjuster::capstan;
}

}  // namespace

int plan(const Common& common, const PlanWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    PlanTextOptions options{common.inches, words.all, std::nullopt, std::nullopt};
    if (!words.minutes.empty()) {
      auto minutes = parse_minutes(words.minutes);
      if (!minutes) return fail(common, minutes.error());
      options.minutes = *minutes;
    }
    if (!words.pass.empty()) {
      auto pass = pass_named(words.pass);
      if (!pass) return fail(common, pass.error());
      options.pass = *pass;
    }
    auto made = plan_work(desk, piano, {options.minutes});
    if (!made) return fail(common, made.error());
    say(common.json ? to_json(piano, *made, PlanExtract{options.pass, options.minutes})
                    : plan_text(piano, *made, options));
    return done;
  });
}

int next(const Common& common) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto made = plan_work(desk, piano);
    if (!made) return fail(common, made.error());
    say(common.json ? next_to_json(*made) : next_text(*made, common.inches));
    return done;
  });
}

int answered(const Common& common, const DoneWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto answer = answer_next(desk, piano, {words.words, words.note, words.skipping, words.skip});
    if (!answer) return fail(common, answer.error());
    say(common.json ? to_json(*answer) : answered_text(*answer, common.inches));
    return done;
  });
}

int why(const Common& common, const WhyWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto made = plan_work(desk, piano);
    if (!made) return fail(common, made.error());
    const Plan& plan = made->plan;
    const WordStyle style = made->style(common.inches);
    const Instruction* step = plan.next();
    Key key = step != nullptr ? step->key : plan.situation.compass.lowest;
    Adjuster adjuster = step != nullptr ? step->adjuster : Adjuster::capstan;
    if (!words.note.empty()) {
      auto named = key_named(piano, words.note);
      if (!named) return fail(common, named.error());
      key = *named;
      adjuster = adjuster_at(plan, key);
      if (!words.adjuster.empty()) {
        auto pass = pass_named(words.adjuster);
        if (!pass) return fail(common, pass.error());
        adjuster = *pass;
      }
      step = find_instruction(plan, key, adjuster);
    } else if (step == nullptr) {
      return fail(common, {"Nothing is left to do, so there is nothing to explain.",
                           {},
                           "Ask of a note: batten why C4, or batten why C4 capstan."});
    }
    if (common.json) {
      say(why_to_json(*made, key, adjuster, step,
                      step != nullptr ? reasons_for(plan, made->model, *step)
                                      : reasons_for_nothing(plan, made->model, key, adjuster)));
      return done;
    }
    const auto because = step != nullptr ? why_words(plan, made->model, *step, style)
                                         : why_not_words(plan, made->model, key, adjuster, style);
    const std::string about = step != nullptr ? instruction_words(plan, *step, style)
                                              : note_name(key) + ": nothing is asked of the " +
                                                    std::string(kind_of(adjuster).name);
    say(why_text(*made, about, because));
    return done;
  });
}

}  // namespace batten::cli
