#include "cli/action_text.hpp"
#include "cli/terminal.hpp"
#include "core/action/words.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/catalogue/cautions.hpp"

#include <fmt/format.h>

#include <cmath>

namespace batten::cli {

namespace {

using action::Stroke;

using Column = std::string (*)(const Stroke&, bool);

struct Line {
  std::string_view name;
  Column text;  // null: a heading
};

std::string ms(double seconds, bool plus = false) {
  return print_number(1e3 * seconds, {.decimals = 2, .plus = plus});
}
std::string since_key(const Stroke& s, double at) { return ms(at - s.key_start); }
std::string share(const Stroke& s, double energy) {
  return fmt::format("{}  {}\u202f%", print_number(1e3 * energy, {.decimals = 1}),
                     print_number(100 * energy / s.finger_work, {.decimals = 0}));
}

constexpr Line lines[] = {
    {"Speeds, m/s", nullptr},
    {"hammer at the string", [](const Stroke& s, bool) { return print_number(s.hammer_speed); }},
    {"key, greatest", [](const Stroke& s, bool) { return print_number(s.key_speed); }},
    {"Forces, N", nullptr},
    {"finger, greatest",
     [](const Stroke& s, bool) { return print_number(s.finger_force, {.decimals = 1}); }},
    {"hammer on string, greatest",
     [](const Stroke& s, bool) { return print_number(s.string_force, {.decimals = 0}); }},
    {"Events, ms after the key starts", nullptr},
    {"let-off", [](const Stroke& s, bool) { return since_key(s, s.let_off); }},
    {"string", [](const Stroke& s, bool) { return since_key(s, s.string); }},
    {"key bottom", [](const Stroke& s, bool) { return since_key(s, s.key_bottom); }},
    {"caught", [](const Stroke& s, bool) { return since_key(s, s.check); }},
    {"jack back under the knuckle",
     [](const Stroke& s, bool) { return since_key(s, s.jack_return); }},
    {"Spans, ms", nullptr},
    {"let-off to string, in free flight", [](const Stroke& s, bool) { return ms(s.free_flight); }},
    {"on the string", [](const Stroke& s, bool) { return ms(s.contact_time); }},
    {"string to key bottom",
     [](const Stroke& s, bool) { return ms(s.key_bottom - s.string, true); }},
    {"Check", nullptr},
    {"caught below the string",
     [](const Stroke& s, bool inches) {
       return inches ? print_inches(s.check_distance * metre)
                     : print_millimetres(s.check_distance * metre, {.decimals = 1});
     }},
    {"Energy until the string, mJ and share", nullptr},
    {"finger's work",
     [](const Stroke& s, bool) { return print_number(1e3 * s.finger_work, {.decimals = 1}); }},
    {"in the hammer", [](const Stroke& s, bool) { return share(s, s.hammer_energy); }},
    {"in the key", [](const Stroke& s, bool) { return share(s, s.key_energy); }},
    {"in other parts and springs", [](const Stroke& s, bool) { return share(s, s.rest_energy); }},
    {"lost to friction and felt", [](const Stroke& s, bool) { return share(s, s.lost_energy); }},
};

}  // namespace

std::string stroke_text(const std::string& called, const ActionView& view,
                        const StrokeRequest& request, const std::vector<NamedStroke>& strokes,
                        bool inches) {
  constexpr std::size_t wide = 18;
  std::string out = inked(called + ", " + note_name(view.prepared.key), Ink::strong) +
                    ", the key " + request.touch + "\n";
  if (view.changed) out += "Adjusters moved from the regulated note.\n";
  for (const action::Fault f : view.readings.faults)
    out += wrapped("! " + std::string(words_of(f).name) + " " + std::string(words_of(f).todo), "");
  out += "\n  " + padded("", 36);
  for (const NamedStroke& s : strokes) out += padded(s.effort, wide);
  while (out.ends_with(' ')) out.pop_back();
  out += "\n";
  for (const Line& line : lines) {
    if (line.text == nullptr) {
      out += inked(line.name, Ink::strong) + "\n";
      continue;
    }
    std::string row = "  " + padded(line.name, 36);
    for (const NamedStroke& s : strokes) row += padded(line.text(s.stroke, inches), wide);
    while (row.ends_with(' ')) row.pop_back();
    out += row + "\n";
  }
  for (const NamedStroke& s : strokes)
    if (s.stroke.struck_twice)
      out += inked("! ", Ink::stop) + s.effort + ": the hammer strikes the string twice.\n";
  out += wrapped(
      "Let-off is where the hammer is fastest before the string; string to key bottom: + the key "
      "arrives later. The figures are a model's, from estimated dimensions.",
      "");
  return out;
}

}  // namespace batten::cli
