#include "core/regulation/gauges/pieces.hpp"

#include "core/regulation/gauges/stroke_letters.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cstddef>
#include <utility>

namespace batten {
namespace {

using enum GaugeKind;

// Widths and lengths below are our own choice, from the space there is: naturals 23.5 mm wide,
// sharps 10 to 11, some 27 mm from one to the next, the head of a natural about 50 mm long.
constexpr double hole_radius = 2;

// Thinner than this a tongue cannot be cut out of its plane: it is cut from a sheet as thick as it.
constexpr double thinnest_tongue = 1;

// Height of the handle below a tongue.
constexpr double tongue_handle = 16;

struct Field {
  double left = 0, bottom = 0, width = 0, height = 0;
};

// Lines under each other, centred in the field, as large as it lets them be up to `most`.
void engrave(GaugePiece& piece, const Field& field, const std::vector<std::string>& lines,
             double most = 3.5) {
  constexpr double leading = 1.55;  // base line to base line, in heights of a capital
  const auto count = static_cast<double>(lines.size());
  double height = std::min(most, field.height / (1 + leading * (count - 1)));
  for (const std::string& line : lines)
    height = std::min(height, field.width / letters::width(line, 1));
  double y = field.bottom + field.height / 2 + height * (1 + leading * (count - 1)) / 2 - height;
  for (const std::string& line : lines) {
    const double room = field.width - letters::width(line, height);
    piece.engravings.push_back({{field.left + room / 2, y}, height, line, field.width});
    y -= leading * height;
  }
}

// Between crown and string: a tongue as tall as the space, a lower handle.
void shape_tongue(GaugePiece& piece, double size, const std::vector<std::string>& words) {
  constexpr double tongue = 42, slope = 8, length = 140, grip = tongue_handle;
  piece.outline = {{0, 0},         {length, 0}, {length, grip}, {tongue + slope, grip},
                   {tongue, size}, {0, size}};
  piece.measures = {{{6, 0}, {6, size}, size}};
  piece.holes = {{{length - 7, grip / 2}, hole_radius}};
  engrave(piece, {tongue + slope + 2, 3, length - tongue - slope - 16, grip - 6}, words);
}

// Let-off: a thin tongue at the upper edge of the handle, so that a short root carries it.
void shape_thin_tongue(GaugePiece& piece, double size, const std::vector<std::string>& words) {
  constexpr double tongue = 16, slope = 14, length = 120;
  const double handle = std::max(16.0, size + 8);
  piece.outline = {{0, handle - size}, {tongue, handle - size}, {tongue + slope, 0},
                   {length, 0},        {length, handle},        {0, handle}};
  piece.measures = {{{4, handle - size}, {4, handle}, size}};
  piece.holes = {{{length - 7, handle / 2}, hole_radius}};
  engrave(piece, {tongue + slope + 2, 3, length - tongue - slope - 16, handle - 6}, words);
}

// Stands on the key bed, its arm over the front of the natural.
void shape_stand(GaugePiece& piece, double size, const std::vector<std::string>& words) {
  constexpr double arm = 30, post = 24, foot = 92, thick = 14;
  const double top = size + thick;
  piece.outline = {{arm, 0},          {foot, 0}, {foot, thick}, {arm + post, thick},
                   {arm + post, top}, {0, top},  {0, size},     {arm, size}};
  piece.measures = {{{arm / 2, 0}, {arm / 2, size}, size}};
  piece.holes = {{{foot - 7, thick / 2}, hole_radius}};
  engrave(piece, {3, size + 2.5, arm + post - 6, thick - 5}, words);
}

// Over a sharp, feet on the naturals beside it.
void shape_bridge(GaugePiece& piece, double size, const std::vector<std::string>& words) {
  constexpr double foot = 9.5, gap = 17, body = 24, width = 2 * foot + gap;
  piece.outline = {{0, 0},          {foot, 0},  {foot, size},         {foot + gap, size},
                   {foot + gap, 0}, {width, 0}, {width, size + body}, {0, size + body}};
  piece.measures = {{{width / 2, 0}, {width / 2, size}, size}};
  piece.holes = {{{width / 2, size + body - 4.5}, hole_radius}};
  engrave(piece, {2, size + 2, width - 4, body - 11}, words, 2.8);
}

// Over three naturals, the foot presses the middle one until the shoulders meet its neighbours.
void shape_foot(GaugePiece& piece, double size, const std::vector<std::string>& words) {
  constexpr double shoulder = 24, foot = 18, body = 20, width = 2 * shoulder + foot;
  piece.outline = {{shoulder, 0}, {shoulder + foot, 0}, {shoulder + foot, size},
                   {width, size}, {width, size + body}, {0, size + body},
                   {0, size},     {shoulder, size}};
  piece.measures = {{{shoulder / 2, 0}, {shoulder / 2, size}, size}};
  piece.holes = {{{width - 6, size + body / 2}, hole_radius}};
  engrave(piece, {3, size + 4, width - 16, body - 8}, words);
}

// A strip whose tip goes between the arms of the repetition lever.
void shape_strip(GaugePiece& piece, const std::vector<std::string>& words) {
  constexpr double tip = 18, tip_width = 4, slope = 5, length = 100, height = 14;
  const double low = (height - tip_width) / 2, high = low + tip_width;
  piece.outline = {{0, low},    {tip, low},       {tip + slope, 0},
                   {length, 0}, {length, height}, {tip + slope, height},
                   {tip, high}, {0, high}};
  piece.holes = {{{length - 6, height / 2}, hole_radius}};
  engrave(piece, {tip + slope + 2, 2, length - tip - slope - 14, height - 4}, words, 3);
}

// A fork that lies on the front punching, about the front pin.
void shape_fork(GaugePiece& piece, const std::vector<std::string>& words) {
  constexpr double slot = 22, slot_width = 9, length = 100, height = 21;
  const double low = (height - slot_width) / 2, high = low + slot_width;
  piece.outline = {{0, 0},    {length, 0},  {length, height}, {0, height},
                   {0, high}, {slot, high}, {slot, low},      {0, low}};
  piece.holes = {{{length - 6, height / 2}, hole_radius}};
  engrave(piece, {slot + 3, 3, length - slot - 16, height - 6}, words, 3);
}

std::string key_of(GaugeKind kind, std::string_view what) {
  return "gauge." + std::string(kind_of(kind).code) + std::string(what);
}

std::string notes_name(Key key) {
  std::string name = note_name(key);
  if (const auto hash = name.find('#'); hash != std::string::npos) name.replace(hash, 1, "♯");
  return name;
}

GaugePiece shape_single(const Gauge& gauge, const GaugeSize& size, const GaugeStyle& style) {
  GaugePiece piece;
  piece.kind = gauge.kind;
  piece.sizes = {size.mm};
  const std::string text = size_text(size.mm, style);
  const std::string notes = notes_text(size.notes, gauge.asked);
  const std::string mark = say(style.language, key_of(gauge.kind, ".mark"));
  piece.title =
      say(style.language, "gauge.title",
          {{"gauge", name_of(style.language, gauge.kind)}, {"size", text}, {"notes", notes}});
  const bool thin_let_off = gauge.kind == let_off && size.mm < thinnest_tongue;
  if (kind_of(gauge.kind).of_stock || thin_let_off) {
    piece.stock = size.mm;
    const std::vector<std::string> words{mark + " " + text, notes,
                                         say(style.language, "gauge.stock.mark", {{"size", text}})};
    if (gauge.kind == aftertouch)
      shape_fork(piece, words);
    else
      shape_strip(piece, words);
    return piece;
  }
  std::vector<std::string> words{mark + " " + text, notes};
  switch (gauge.kind) {
    case blow:
    case check:
      if (size.mm > tongue_handle + 1)
        shape_tongue(piece, size.mm, words);
      else
        shape_thin_tongue(piece, size.mm, words);
      break;
    case let_off:
      shape_thin_tongue(piece, size.mm, words);
      break;
    case key_height:
      shape_stand(piece, size.mm, words);
      break;
    case sharps_height:
    case sharp_dip:
      shape_bridge(piece, size.mm, {mark, text, notes});
      break;
    case dip:
      shape_foot(piece, size.mm, words);
      break;
    case lever_height:
    case aftertouch:
      assert(false);
  }
  return piece;
}

// A stair on a flat base, a step for each size.
GaugePiece shape_block(const Gauge& gauge, std::vector<const GaugeSize*> steps,
                       const GaugeStyle& style) {
  std::ranges::sort(steps, {}, [](const GaugeSize* s) { return s->mm; });
  GaugePiece piece;
  piece.kind = gauge.kind;
  piece.block = true;
  // Those on the head of a natural lie along it.
  const double step = gauge.kind == dip ? 16 : 22;
  const double width = step * static_cast<double>(steps.size());
  const std::string mark = say(style.language, key_of(gauge.kind, ".mark"));
  piece.outline = {{0, 0}, {width, 0}};
  std::string all;
  for (std::size_t i = steps.size(); i-- > 0;) {
    const double right = step * static_cast<double>(i + 1), mm = steps[i]->mm;
    piece.outline.push_back({right, mm});
    piece.outline.push_back({right - step, mm});
  }
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const double left = step * static_cast<double>(i), mm = steps[i]->mm;
    piece.sizes.push_back(mm);
    // The measure beside the words.
    const double at = left + step - 1.4;
    piece.measures.push_back({{at, 0}, {at, mm}, mm});
    const std::string text = size_text(mm, style), notes = notes_text(steps[i]->notes, gauge.asked);
    const bool low = mm < 7;
    const bool tall = steps.front()->mm > 20;
    std::vector<std::string> words{text, notes};
    if (low)
      words = {fmt::format("{} {} {}", mark, text, notes)};
    else if (!tall)
      words.insert(words.begin(), mark);
    const double field = std::min(mm - 2.4, 9.0);
    engrave(piece, {left + 1, mm - 1.2 - field, step - 3.2, field}, words, 2.8);
    all += (all.empty() ? "" : " · ") + size_text(mm, style);
  }
  if (steps.front()->mm > 20) engrave(piece, {1, 2, step - 3.2, 4}, {mark});
  piece.title = say(style.language, "gauge.block.title",
                    {{"gauge", name_of(style.language, gauge.kind)}, {"sizes", all}});
  return piece;
}

void measure_box(GaugePiece& piece) {
  for (const Spot& s : piece.outline) {
    piece.width = std::max(piece.width, s.x);
    piece.height = std::max(piece.height, s.y);
  }
}

std::string_view code_of(GaugeLeftOut::Why why) {
  switch (why) {
    case GaugeLeftOut::Why::no_target:
      return "no_target";
    case GaugeLeftOut::Why::no_sharps_height:
      return "no_sharps_height";
    case GaugeLeftOut::Why::sharp_goes_under:
      return "sharp_goes_under";
    case GaugeLeftOut::Why::nothing_thick:
      return "nothing_thick";
    case GaugeLeftOut::Why::no_note:
      return "no_note";
  }
  return "";
}

}  // namespace

std::string name_of(Language language, GaugeKind kind) { return say(language, key_of(kind, "")); }
std::string use_of(Language language, GaugeKind kind) {
  return say(language, key_of(kind, ".use"));
}
std::string reason_of(Language language, const GaugeLeftOut& left_out) {
  return say(language, "gauge.none." + std::string(code_of(left_out.why)));
}

std::string size_text(double mm, const GaugeStyle& style, int decimals) {
  const double value = style.inches ? mm / 25.4 : mm;
  return number_in(style.language, value, style.inches ? decimals + 1 : decimals) +
         (style.inches ? "\u202fin" : "\u202fmm");
}

std::string notes_text(const std::vector<Key>& notes, const std::vector<Key>& asked) {
  constexpr std::size_t most_runs = 3;
  std::vector<std::string> runs;
  std::size_t place = 0;
  for (std::size_t i = 0; i < notes.size();) {
    while (place < asked.size() && asked[place] != notes[i]) ++place;
    std::size_t last = i;
    while (last + 1 < notes.size() && place + 1 < asked.size() &&
           asked[place + 1] == notes[last + 1]) {
      ++last;
      ++place;
    }
    if (last - i < 2) {
      for (std::size_t j = i; j <= last; ++j) runs.push_back(notes_name(notes[j]));
    } else {
      runs.push_back(notes_name(notes[i]) + "–" + notes_name(notes[last]));
    }
    i = last + 1;
  }
  if (runs.size() > most_runs) return notes_name(notes.front()) + "…" + notes_name(notes.back());
  return fmt::format("{}", fmt::join(runs, ", "));
}

std::vector<GaugePiece> shape_pieces(const GaugeSet& set, const GaugeStyle& style) {
  std::vector<GaugePiece> pieces;
  for (const Gauge& gauge : set.gauges) {
    for (const GaugeSize& size : gauge.sizes) pieces.push_back(shape_single(gauge, size, style));
    const GaugeKindRow& row = kind_of(gauge.kind);
    if (!row.stepped || gauge.sizes.size() < 2) continue;
    // As few blocks as hold them, as many steps on each.
    const std::size_t count = gauge.sizes.size();
    const auto most = static_cast<std::size_t>(row.most_steps);
    const std::size_t blocks = (count + most - 1) / most;
    for (std::size_t b = 0; b < blocks; ++b) {
      std::vector<const GaugeSize*> steps;
      for (std::size_t i = b * count / blocks; i < (b + 1) * count / blocks; ++i)
        steps.push_back(&gauge.sizes[i]);
      pieces.push_back(shape_block(gauge, std::move(steps), style));
    }
  }
  for (GaugePiece& piece : pieces) measure_box(piece);
  return pieces;
}

}  // namespace batten
