#include "app/action_job.hpp"

#include "app/entries.hpp"
#include "app/files.hpp"
#include "core/action/words.hpp"
#include "core/quantities/text.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <system_error>

namespace batten {

namespace {

using action::adjuster_words;
using action::adjustment_members;
using action::Adjustments;

// A profile of every key, spelled out, is a tenth of this.
constexpr std::size_t largest_profile = 4U << 20;

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

const StoredProfile* stored(const std::string& name) {
  const auto all = stored_profiles();
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&](const StoredProfile& p) { return p.name == lower(name); });
  return found == all.end() ? nullptr : &*found;
}

std::string names() {
  std::string list;
  for (const StoredProfile& p : stored_profiles())
    list += (list.empty() ? "" : ", ") + std::string(p.name);
  return list;
}

// A share of the spring's strength: "10 %", "0.1", "-5%".
Result<double> parse_share(const std::string& text) {
  const auto percent = text.find('%');
  if (percent == std::string::npos) return parse_number(text);
  if (text.find_first_not_of(" \t", percent + 1) != std::string::npos)
    return problem("\"" + text + "\" is not a share.", "Write such as \"10 %\" or \"0.1\".");
  auto value = parse_number(text.substr(0, percent));
  if (!value) return value;
  return *value / 100;
}

}  // namespace

Result<ProfileFile> find_profile(const std::string& name_or_file) {
  return guarded([&]() -> Result<ProfileFile> {
    if (const StoredProfile* p = stored(name_or_file))
      return parse_profile(p->text, "profile " + std::string(p->name));
    std::error_code ignored;
    if (!std::filesystem::exists(name_or_file, ignored))
      return problem("There is no action profile \"" + name_or_file + "\", and no such file.",
                     "Profiles that come with the program: " + names() +
                         ". Your own: the path of a JSON file, as \"batten profiles medium\" "
                         "writes one.");
    auto text = read_file(name_or_file, largest_profile);
    if (!text) return tl::unexpected(text.error());
    if (text->size() > largest_profile)
      return problem(name_or_file + " is too long for an action profile.", "Name another file.");
    return parse_profile(*text, name_or_file);
  });
}

Result<std::string> profile_setting(const std::string& name_or_file) {
  if (auto ok = find_profile(name_or_file); !ok) return tl::unexpected(ok.error());
  if (const StoredProfile* p = stored(name_or_file)) return std::string(p->name);
  return guarded([&]() -> Result<std::string> {
    return std::filesystem::absolute(name_or_file).lexically_normal().string();
  });
}

Result<ProfileFile> profile_of(Desk& desk, const Piano& piano) {
  auto now = standing(desk, piano);
  if (!now) return tl::unexpected(now.error());
  const auto set = now->settings.find(action_profile_setting);
  if (set == now->settings.end())
    return problem("No action profile is set for " + piano.name + ".",
                   "Set one: batten set action-profile medium (or small, concert, or a file).");
  auto file = find_profile(set->second);
  if (file) return file;
  Problem p = file.error();
  p.happened = "The action profile set for " + piano.name + " cannot be used: " + p.happened;
  return tl::unexpected(std::move(p));
}

Result<Adjustments> parse_changes(const std::vector<Change>& changes) {
  constexpr double most = 0.010;
  Adjustments out;
  for (const Change& c : changes) {
    const auto words = adjuster_words();
    const auto found = std::find_if(words.begin(), words.end(),
                                    [&](const auto& w) { return w.code == c.adjuster; });
    if (found == words.end())
      return problem("There is no adjuster \"" + c.adjuster + "\" in the model of a note.",
                     "\"batten action --help\" lists them.");
    const auto index = static_cast<std::size_t>(found - words.begin());
    const auto at = [&](Problem p) {
      p.happened = std::string(found->name) + ": " + p.happened;
      return tl::unexpected(std::move(p));
    };
    if (adjustment_members[index] == &Adjustments::spring) {
      auto share = parse_share(c.amount);
      if (!share) return at(share.error());
      if (!(*share > -0.95 && *share <= 3))
        return at({"\"" + c.amount + "\" leaves no spring or a wire no one could bend.",
                   {},
                   "Write a share of its strength: \"10 %\" is a tenth more."});
      out.spring = *share;
      continue;
    }
    auto length = parse_length(c.amount);
    if (!length) return at(length.error());
    if (std::abs(length->si()) > most)
      return at({"no part is moved " + print_millimetres(*length, {.decimals = 1}) + ".",
                 {},
                 "Give up to 10 mm at the part itself, not at a handle or in turns."});
    out.*adjustment_members[index] = length->si();
  }
  return out;
}

Result<ActionView> view_action(const ProfileFile& file, std::string_view note,
                               const std::vector<Change>& changes) {
  auto key = parse_key(note);
  if (!key) return tl::unexpected(key.error());
  auto moved = parse_changes(changes);
  if (!moved) return tl::unexpected(moved.error());
  auto prepared = action::prepare_note(file.profile, *key);
  if (!prepared) return tl::unexpected(prepared.error());
  ActionView view;
  view.file = file;
  view.prepared = std::move(*prepared);
  view.changes = *moved;
  view.changed = !changes.empty();
  view.note = view.prepared.note;
  for (double Adjustments::*member : adjustment_members)
    view.note.adjustments.*member += view.changes.*member;
  auto readings = action::calc_readings(view.note);
  if (!readings) return tl::unexpected(readings.error());
  view.readings = std::move(*readings);
  view.regulated_readings = view.readings;
  if (view.changed) {
    auto before = action::calc_readings(view.prepared.note);
    if (!before) return tl::unexpected(before.error());
    view.regulated_readings = std::move(*before);
  }
  return view;
}

Result<action::Posture> posture_of(const ActionView& view, const std::string& depth) {
  if (depth == "rest") return action::posture_at(view.note, 0);
  if (depth == "bottom") return action::posture_at(view.note, 0.020);
  if (depth == "checked") return action::posture_after_blow(view.note);
  if (depth == "let-off") {
    const auto& down = view.readings.down;
    const auto top = std::min_element(
        down.begin(), down.end(), [](const auto& a, const auto& b) { return a.below < b.below; });
    if (top == down.end())
      return problem("The slow press of this note shows no let-off.", "Name a depth.");
    return action::posture_at(view.note, top->depth);
  }
  auto length = parse_length(depth);
  if (!length) {
    Problem p = length.error();
    p.todo = "Give a depth such as \"6 mm\", or rest, let-off, bottom or checked.";
    return tl::unexpected(std::move(p));
  }
  return action::posture_at(view.note, length->si());
}

Result<std::vector<NamedStroke>> play(const ActionView& view, const StrokeRequest& request) {
  constexpr const char* efforts[] = {"soft", "middling", "loud"};
  action::Touch touch{};
  if (request.touch == "pressed")
    touch = action::Touch::pressed;
  else if (request.touch == "struck")
    touch = action::Touch::struck;
  else
    return problem("There is no touch \"" + request.touch + "\".", "Say pressed or struck.");
  std::vector<NamedStroke> strokes;
  for (std::size_t i = 0; i < 3; ++i) {
    if (request.effort != "all" && request.effort != efforts[i]) continue;
    action::StrokeOptions options;
    options.keep_trace = true;
    options.trace_interval = 0.1e-3;
    options.time = 0.300;
    auto stroke = action::calc_stroke(
        view.note, action::standard_finger(static_cast<action::Effort>(i), touch), options);
    if (!stroke) return tl::unexpected(stroke.error());
    strokes.push_back({efforts[i], std::move(*stroke)});
  }
  if (strokes.empty())
    return problem("There is no effort \"" + request.effort + "\".",
                   "Say soft, middling, loud or all.");
  return strokes;
}

}  // namespace batten
