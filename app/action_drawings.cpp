#include "app/action_job.hpp"
#include "app/files.hpp"
#include "core/quantities/text.hpp"
#include "drawings/charts.hpp"
#include "drawings/side_view.hpp"

namespace batten {

namespace {

std::string title(const ActionView& view, const std::string& what) {
  return view.file.profile.name + ", " + note_name(view.prepared.key) +
         (view.changed ? ", adjusters moved" : "") + ": " + what;
}

std::string posture_words(const std::string& depth, const action::Posture& at, bool inches) {
  if (depth == "checked") return "in check";
  if (depth == "let-off") return "at let-off";
  if (at.depth < 5e-5) return "at rest";
  const Length down = at.depth * metre;
  return "key " + (inches ? print_inches(down) : print_millimetres(down, {.decimals = 1})) +
         " down";
}

}  // namespace

Result<void> draw_side(const ActionView& view, const std::string& depth, bool inches,
                       const std::filesystem::path& file) {
  auto posture = posture_of(view, depth);
  if (!posture) return tl::unexpected(posture.error());
  return write_file(file,
                    draw_side_view(*posture, {title(view, posture_words(depth, *posture, inches)),
                                              is_sharp(view.prepared.key), inches}));
}

Result<void> draw_press_curve(const ActionView& view, const std::filesystem::path& file) {
  return write_file(file, draw_press(view.readings, title(view, "force under the finger")));
}

Result<void> draw_influence_chart(const ActionView& view, const action::Influence& influence,
                                  const std::filesystem::path& file) {
  return write_file(file, draw_influence(influence, title(view, "influence")));
}

Result<void> draw_played(const ActionView& view, const StrokeRequest& request,
                         const std::vector<NamedStroke>& strokes,
                         const std::filesystem::path& file) {
  std::vector<StrokeColumn> columns;
  columns.reserve(strokes.size());
  for (const NamedStroke& s : strokes) columns.push_back({s.effort, s.stroke});
  return write_file(file, draw_strokes(columns, title(view, "the key " + request.touch)));
}

}  // namespace batten
