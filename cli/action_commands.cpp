#include "cli/action_commands.hpp"

#include "app/files.hpp"
#include "cli/action_text.hpp"
#include "cli/desk_work.hpp"
#include "core/action/words.hpp"
#include "json/action_json.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace batten::cli {

namespace {

struct Source {
  ProfileFile file;
  std::string called;
};

bool is_stored(const std::string& name) {
  const auto all = stored_profiles();
  return std::any_of(all.begin(), all.end(),
                     [&](const StoredProfile& p) { return p.name == name; });
}

// A profile's name, else a file, else a piano of the store (empty: the one whose visit began last).
Result<Source> source_of(const Common& common, const std::string& text) {
  std::error_code ignored;
  if (!text.empty() && (is_stored(text) || std::filesystem::is_regular_file(text, ignored))) {
    auto file = find_profile(text);
    if (!file) return tl::unexpected(file.error());
    return Source{*file, file->profile.name};
  }
  auto store = store_of(common);
  if (!store) return tl::unexpected(store.error());
  const auto nowhere = [&](std::string happened) {
    return problem(std::move(happened),
                   "Name a piano, a profile (small, medium, concert) or a profile's file, as in "
                   "\"batten action medium C4\".");
  };
  if (!std::filesystem::exists(*store, ignored))
    return nowhere(text.empty() ? "There is no piano yet."
                                : "There is no profile, file or piano \"" + text + "\".");
  auto desk = open_desk(*store, common.who);
  if (!desk) return tl::unexpected(desk.error());
  auto piano = choose_piano(*desk, text.empty() ? common.piano : text);
  if (!piano && !text.empty()) {
    Problem p = piano.error();
    p.todo += " Or name a profile (small, medium, concert) or a profile's file.";
    return tl::unexpected(std::move(p));
  }
  if (!piano) return tl::unexpected(piano.error());
  auto file = profile_of(*desk, *piano);
  if (!file) return tl::unexpected(file.error());
  return Source{*file, piano->name + " (profile " + file->profile.name + ")"};
}

struct Viewed {
  std::string called;
  ActionView view;
};

Result<Viewed> view_of(const Common& common, const NoteWords& words) {
  const std::string note = words.words.back();
  const std::string piano = words.words.size() > 1 ? words.words.front() : std::string();
  auto source = source_of(common, piano);
  if (!source) return tl::unexpected(source.error());
  std::vector<Change> changes;
  for (std::size_t a = 0; a < words.moves.size(); ++a)
    if (!words.moves[a].empty())
      changes.push_back({std::string(action::adjuster_words()[a].code), words.moves[a]});
  auto view = view_action(source->file, note, changes);
  if (!view) return tl::unexpected(view.error());
  return Viewed{source->called, std::move(*view)};
}

// Says where a drawing went, or what was wrong.
int drawn(const Common& common, const Result<void>& result, const std::string& file) {
  if (!result) return fail(common, result.error());
  if (!common.json) say_aside("written: " + file);
  return done;
}

}  // namespace

void add_note_options(CLI::App& command, NoteWords& words) {
  command
      .add_option("NOTE", words.words,
                  "[piano, profile or file] note: \"medium C4\", \"C4\"; the note alone means the "
                  "piano whose visit began last")
      ->required()
      ->expected(1, 2);
  command.add_option("--draw", words.draw, "write a drawing (SVG) to this file");
  for (std::size_t a = 0; a < words.moves.size(); ++a) {
    const auto& adjuster = action::adjuster_words()[a];
    std::string names = "--" + std::string(adjuster.code);
    if (adjuster.code == "repetition-spring") names += ",--spring";
    if (adjuster.code == "lever-height-button") names += ",--lever-button";
    const bool length = adjuster.unit == "mm";
    command
        .add_option(names, words.moves[a],
                    length ? "move it so far from the regulated note, \"0.2 mm\""
                           : "strengthen it by a share, \"10 %\"")
        ->group("Adjusters");
  }
}

int action(const Common& common, const ActionWords& words) {
  if (!words.depth.empty() && words.note.draw.empty())
    return fail(common,
                {"A depth is for a drawing.", {}, "Say where to write it: --draw note.svg."});
  auto viewed = view_of(common, words.note);
  if (!viewed) return fail(common, viewed.error());
  const ActionView& view = viewed->view;
  auto influence = action::calc_influence(view.note, true);
  if (!influence) return fail(common, influence.error());
  if (!words.note.draw.empty())
    if (const int code = drawn(common,
                               draw_side(view, words.depth.empty() ? "rest" : words.depth,
                                         common.inches, words.note.draw),
                               words.note.draw);
        code != done)
      return code;
  if (!words.draw_press.empty())
    if (const int code = drawn(common, draw_press_curve(view, words.draw_press), words.draw_press);
        code != done)
      return code;
  if (!words.draw_influence.empty())
    if (const int code = drawn(common, draw_influence_chart(view, *influence, words.draw_influence),
                               words.draw_influence);
        code != done)
      return code;
  say(common.json ? to_json(viewed->called, view, *influence)
                  : action_text(viewed->called, view, *influence, common.inches));
  return done;
}

int stroke(const Common& common, const StrokeWords& words) {
  auto viewed = view_of(common, words.note);
  if (!viewed) return fail(common, viewed.error());
  auto strokes = play(viewed->view, words.request);
  if (!strokes) return fail(common, strokes.error());
  if (!words.note.draw.empty())
    if (const int code =
            drawn(common, draw_played(viewed->view, words.request, *strokes, words.note.draw),
                  words.note.draw);
        code != done)
      return code;
  say(common.json
          ? to_json(viewed->called, viewed->view, words.request, *strokes)
          : stroke_text(viewed->called, viewed->view, words.request, *strokes, common.inches));
  return done;
}

int profiles(const Common& common, const ProfilesWords& words) {
  if (words.name.empty()) {
    say(common.json ? profiles_to_json() : profiles_text());
    return done;
  }
  auto file = find_profile(words.name);
  if (!file) return fail(common, file.error());
  const std::string text = print_profile(*file, words.all);
  if (words.output.empty()) {
    say(text);
    return done;
  }
  return drawn(common, write_file(words.output, text), words.output);
}

}  // namespace batten::cli
