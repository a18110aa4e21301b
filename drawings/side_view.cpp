#include "drawings/side_view.hpp"

#include "core/quantities/text.hpp"
#include "drawings/side_parts.hpp"

#include <array>
#include <cmath>
#include <cstddef>

namespace batten {

namespace {

using action::Dimensions;
using action::Layout;
using action::moved;
using action::Posture;
using svg::Drawing;
using svg::Point;
using svg::View;

constexpr double width = 800, height = 700, margin = 16;
constexpr double main_top = 44, main_height = 350;
constexpr double inset_top = 408, inset_height = 276, inset_width = 392;

std::string length_text(double m, bool inches, int decimals) {
  return inches ? print_inches(m * metre, {.decimals = decimals + 1})
                : print_millimetres(m * metre, {.decimals = decimals});
}

// A name with a thin line to what it names.
void name(Drawing& out, Point words_at, std::string_view words, Point part,
          std::string_view anchor = "") {
  const double dy = part.y > words_at.y ? 4 : -12;
  out.line({words_at.x, words_at.y + dy}, part, "quiet rule thin");
  out.circle(part, 1.6, "dot");
  out.text(words_at, words, "small halo " + std::string(anchor));
}

// An upright measure between two heights, its words beside the middle.
void measure(Drawing& out, double x, double from, double to, const std::string& words,
             double words_y, std::string_view anchor) {
  const double middle = (from + to) / 2;
  if (std::abs(to - from) > 14) {
    out.arrow({x, middle}, {x, from}, "brown");
    out.arrow({x, middle}, {x, to}, "brown");
  } else {
    const double sign = to > from ? 1 : -1;
    out.arrow({x, from - sign * 14}, {x, from}, "brown");
    out.arrow({x, to + sign * 14}, {x, to}, "brown");
  }
  const double beside = anchor == "e" ? -7 : 7;
  out.text({x + beside, words_y}, words, "strong brown halo " + std::string(anchor));
}

void name_parts(Drawing& out, const View& view, const Posture& p) {
  const Layout& l = p.layout;
  const Dimensions& d = p.note.dimensions;
  const auto on = [&](int part, double x, double y) { return view(moved(p, part, {x, y})); };
  name(out, view({-0.105, 0.046}), "key", on(action::key_front, -0.105, 0.014), "m");
  name(out, view({-0.060, 0.058}), "balance rail", view({0, -0.006}), "m");
  name(out, view({0.050, 0.074}), "wippen",
       on(action::wippen, l.jack_pin.x - 0.003, l.jack_pin.y - 0.001), "e");
  name(out, view({l.capstan.x - 0.028, l.capstan.y + 0.008}), "capstan",
       on(action::key_rear, l.capstan.x, l.capstan.y - 0.010), "e");
  name(out, view({l.check.x - 0.046, 0.034}), "back check",
       on(action::key_rear, l.check.x - 0.003, l.check.y - 0.030), "m");
  const Point hammer{l.head_foot.x - 0.050 * l.shank_along.x,
                     l.head_foot.y - 0.050 * l.shank_along.y};
  name(out, {view({hammer.x, 0}).x - 40, view({0, l.string_height}).y + 34}, "hammer",
       on(action::head, hammer.x, hammer.y), "e");
  name(out, {view({l.crown.x - 0.070, 0}).x, view({0, l.string_height}).y - 12}, "string",
       view({l.crown.x - 0.070, l.string_height}), "m");
  if (d.damper_start <= 1)
    name(out, {view({d.damper_x, 0}).x - 34, view({0, l.string_height}).y - 30}, "damper",
         on(action::damper, d.damper_x - 0.006, l.string_height + 0.014), "e");
}

void draw_whole(Drawing& out, const Posture& p, const SideViewWords& words) {
  const Layout& l = p.layout;
  const Dimensions& d = p.note.dimensions;
  const double left = -d.key_front - 0.026, right = d.damper_x + 0.024;
  const double low = -0.052, high = l.string_height + 0.034;
  View view;
  view.scale = std::fmin((width - 2 * margin) / (right - left), main_height / (high - low));
  view.origin = {width / 2 - view.scale * (left + right) / 2, main_top + view.scale * high};
  out.open("the note from the side");
  svg::draw_frame(out, view, p);
  svg::draw_parts(out, view, p, words.sharp);
  // Where the key's front and the crown are at rest and now.
  const double top = key_thickness;
  const double x = -d.key_front;
  const double rest_y = view(moved(p, action::key_front, {x, top})).y - view.scale * p.depth;
  const Point front = view(moved(p, action::key_front, {x, top}));
  const double key_x = view({x - 0.012, 0}).x;
  out.line({key_x - 4, rest_y}, {key_x + 88, rest_y}, "brown thin dash");
  if (p.force > 5e-3) {
    out.arrow({front.x, front.y - 44}, {front.x, front.y - 3}, "ink thick");
    out.text({front.x + 8, front.y - 30}, print_gram_force(p.force * newton), "strong halo");
  }
  if (p.depth > 5e-4)
    out.text({key_x + 92, rest_y - 6}, length_text(p.depth, words.inches, 1) + " down",
             "strong brown halo");
  const Point crown = view(moved(p, action::head, l.crown));
  const double string_y = view({0, l.string_height}).y;
  measure(out, crown.x - 34, string_y, crown.y, length_text(p.below, words.inches, 1),
          std::fmax((string_y + crown.y) / 2 + 5, string_y + 18), "e");
  out.line({crown.x - 42, crown.y}, {crown.x, crown.y}, "brown thin dash");
  name_parts(out, view, p);
  out.close();
}

void draw_inset(Drawing& out, const Posture& p, const SideViewWords& words) {
  const Layout& l = p.layout;
  constexpr double reach = 0.097;  // m shown across
  View view;
  view.scale = inset_width / reach;
  const Point middle{(l.toe.x + l.lever_pin.x) / 2 - 0.002,
                     (l.jack_pin.y + l.hammer_pin.y) / 2 - 0.001};
  view.origin = {margin + inset_width / 2 - view.scale * middle.x,
                 inset_top + inset_height / 2 + view.scale * middle.y};
  out.text({margin, inset_top - 7}, "The jack and its surroundings, enlarged", "small quiet");
  out.rectangle({margin, inset_top}, inset_width, inset_height, "raised");
  out.open_clipped("jack, knuckle and repetition lever, enlarged", {margin, inset_top}, inset_width,
                   inset_height);
  svg::draw_frame(out, view, p);
  svg::draw_parts(out, view, p, words.sharp);
  const auto on = [&](int part, Point at) { return view(moved(p, part, at)); };
  const double left = margin + 10, foot = inset_top + inset_height;
  name(out, {left + 52, foot - 8}, "jack toe", on(action::jack, l.toe), "e");
  name(out, {left + 112, inset_top + 100}, "let-off button",
       view({l.button.x - 0.003, l.button.y + 0.003}), "e");
  name(out, {left + 78, inset_top + 66}, "drop screw", view({l.drop.x, l.drop.y + 0.003}), "e");
  name(out, {left + 372, inset_top + 78}, "knuckle",
       on(action::shank, {l.knuckle.x + 0.0025, l.knuckle.y - 0.001}), "e");
  name(
      out, {left + 262, inset_top + 180}, "repetition lever",
      on(action::lever, {(l.lever_top.x + l.lever_pin.x) / 2, (l.lever_top.y + l.lever_pin.y) / 2}),
      "m");
  name(out, {left + 216, inset_top + 216}, "jack",
       on(action::jack, {(l.jack_pin.x + l.jack_top.x) / 2, (l.jack_pin.y + l.jack_top.y) / 2}),
       "m");
  out.close();
}

struct Pressed {
  action::Touching contact;
  std::string_view words;
};
constexpr Pressed presses[] = {
    {action::finger_key, "finger on key"},
    {action::capstan_heel, "capstan on wippen"},
    {action::jack_knuckle, "jack on knuckle"},
    {action::lever_knuckle, "repetition lever on knuckle"},
    {action::toe_button, "jack toe on let-off button"},
    {action::tip_drop, "repetition lever on drop screw"},
    {action::tail_check, "hammer tail in back check"},
    {action::crown_string, "hammer on string"},
    {action::key_damper, "key under damper"},
    {action::front_rail, "key on front punchings"},
    {action::back_rail, "key on back rail"},
    {action::shank_cushion, "shank on rest cushion"},
};

double force_of(const Posture& posture, const Pressed& c) {
  return posture.pressed[static_cast<std::size_t>(c.contact)];
}

void draw_forces(Drawing& out, const Posture& p) {
  const double left = margin + inset_width + 22, right = width - margin;
  double y = inset_top + 16;
  out.open("what presses on what");
  out.text({left, y}, "What presses on what", "strong");
  out.text({right, y}, "N", "quiet e");
  y += 8;
  for (const Pressed& c : presses) {
    const double force = force_of(p, c);
    const bool on = force > 5e-4;
    y += 21;
    out.text({left, y}, c.words, on ? "" : "quiet");
    out.text({right, y}, on ? print_number(force, {.decimals = 2}) : "–", on ? "e" : "quiet e");
  }
  out.close();
}

}  // namespace

std::string draw_side_view(const Posture& posture, const SideViewWords& words) {
  std::string told = "Side view of one note: the key " +
                     length_text(posture.depth, words.inches, 1) + " below its rest, the crown " +
                     length_text(posture.below, words.inches, 1) +
                     " below the string, the finger " + "pressing with " +
                     print_gram_force(posture.force * newton) + ".";
  for (const Pressed& c : presses)
    if (c.contact != action::finger_key && force_of(posture, c) > 5e-4)
      told +=
          " " + std::string(c.words) + ": " + print_newtons(force_of(posture, c) * newton) + ".";
  Drawing out(width, height, words.title, told);
  out.text({margin, 28}, words.title, "head");
  draw_whole(out, posture, words);
  draw_inset(out, posture, words);
  draw_forces(out, posture);
  return out.finish();
}

}  // namespace batten
