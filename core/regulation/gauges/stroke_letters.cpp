#include "core/regulation/gauges/stroke_letters.hpp"

#include <algorithm>
#include <array>

namespace batten::letters {
namespace {

// Runs of two figures, x 0…4 and y 0…9 with the base line at 2 and the top of capitals at 8; a
// blank between strokes.
struct Glyph {
  std::string_view letter;
  std::string_view strokes;
  int width = 4;
};

constexpr int base = 2, capital = 6;
constexpr double between = 1.6;  // from one letter to the next, and in a blank's place

constexpr std::array glyphs{
    Glyph{"A", "022842 1535"},
    Glyph{"B", "02083847463505 3544433202"},
    Glyph{"C", "4738180703123243"},
    Glyph{"D", "02083847433202"},
    Glyph{"E", "48080242 0535"},
    Glyph{"F", "480802 0535"},
    Glyph{"G", "47381807031232434525"},
    Glyph{"H", "0208 4248 0545"},
    Glyph{"I", "0802", 0},
    Glyph{"J", "0312223338", 3},
    Glyph{"K", "0208 480542"},
    Glyph{"L", "080232", 3},
    Glyph{"M", "0208254842"},
    Glyph{"N", "02084248"},
    Glyph{"O", "180703123243473818"},
    Glyph{"P", "02083847463505"},
    Glyph{"Q", "180703123243473818 2442"},
    Glyph{"R", "02083847463505 2542"},
    Glyph{"S", "473818070615354443321203"},
    Glyph{"T", "0848 2822"},
    Glyph{"U", "080312324348"},
    Glyph{"V", "082248"},
    Glyph{"W", "0812253248"},
    Glyph{"X", "0248 0842"},
    Glyph{"Y", "082548 2522"},
    Glyph{"Z", "08480242"},
    Glyph{"Ä", "022842 1535 0809 4849"},
    Glyph{"Ö", "180703123243473818 0809 4849"},
    Glyph{"Ü", "070312324347 1819 3839"},
    // Of units: mm, in.
    Glyph{"m", "0206 05162522 25364542"},
    Glyph{"i", "0206 0708", 0},
    Glyph{"n", "0206 0516263532", 3},
    Glyph{"0", "180703122233372818", 3},
    Glyph{"1", "062822", 2},
    Glyph{"2", "07183847460242"},
    Glyph{"3", "0718384746354443321203 3525"},
    Glyph{"4", "32380444"},
    Glyph{"5", "480805354443321203"},
    Glyph{"6", "4738180703123243443505"},
    Glyph{"7", "084812"},
    Glyph{"8", "15060718384746351504031232434435"},
    Glyph{"9", "0312324347381807061545"},
    Glyph{".", "0203", 0},
    Glyph{",", "1301", 1},
    Glyph{":", "0304 0607", 0},
    Glyph{"-", "0535", 3},
    Glyph{"–", "0545"},
    Glyph{"−", "0545"},
    Glyph{"+", "2327 0545"},
    Glyph{"/", "0248"},
    Glyph{"#", "1218 3238 0444 0646"},
    Glyph{"♯", "1218 3238 0444 0646"},
    Glyph{"(", "19070311", 1},
    Glyph{")", "09171301", 1},
    Glyph{"×", "0347 0743"},
    Glyph{"·", "0506", 0},
    Glyph{"…", "0203 2223 4243"},
    Glyph{" ", "", 2},
    Glyph{"\u00a0", "", 2},
    Glyph{"\u202f", "", 1},
};
constexpr Glyph unknown{"", "0636330306"};

std::size_t bytes_of(char first) {
  const auto byte = static_cast<unsigned char>(first);
  return byte < 0xC0 ? 1 : byte < 0xE0 ? 2 : byte < 0xF0 ? 3 : 4;
}

std::string_view large(std::string_view letter) {
  constexpr std::string_view capitals = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
  if (letter.size() == 1 && letter[0] >= 'a' && letter[0] <= 'z')
    return capitals.substr(static_cast<std::size_t>(letter[0] - 'a'), 1);
  if (letter == "ä") return "Ä";
  if (letter == "ö") return "Ö";
  if (letter == "ü") return "Ü";
  return letter;
}

const Glyph& glyph_of(std::string_view letter) {
  const auto* found = std::ranges::find(glyphs, letter, &Glyph::letter);
  if (found == glyphs.end()) found = std::ranges::find(glyphs, large(letter), &Glyph::letter);
  return found == glyphs.end() ? unknown : *found;
}

// Calls `with(glyph, x)` for each letter, x in steps of the grid; returns where the last one ends.
template <class With>
double walk(std::string_view text, With with) {
  double x = 0;
  bool first = true;
  const auto set = [&](const Glyph& glyph) {
    if (!first) x += between;
    first = false;
    with(glyph, x);
    x += glyph.width;
  };
  while (!text.empty()) {
    const std::size_t length = std::min(bytes_of(text.front()), text.size());
    const std::string_view letter = text.substr(0, length);
    set(glyph_of(letter == "ß" ? "S" : letter));
    if (letter == "ß") set(glyph_of("S"));
    text.remove_prefix(length);
  }
  return x;
}

}  // namespace

double width(std::string_view text, double height) {
  return walk(text, [](const Glyph&, double) {}) * height / capital;
}

std::vector<Stroke> strokes(std::string_view text, double height) {
  std::vector<Stroke> out;
  const double unit = height / capital;
  walk(text, [&](const Glyph& glyph, double left) {
    Stroke stroke;
    const auto finish = [&] {
      if (stroke.size() > 1) out.push_back(std::move(stroke));
      stroke = {};
    };
    for (std::size_t i = 0; i < glyph.strokes.size();) {
      if (glyph.strokes[i] == ' ') {
        finish();
        ++i;
        continue;
      }
      const int x = glyph.strokes[i] - '0', y = glyph.strokes[i + 1] - '0';
      stroke.push_back({(left + x) * unit, (y - base) * unit});
      i += 2;
    }
    finish();
  });
  return out;
}

}  // namespace batten::letters
