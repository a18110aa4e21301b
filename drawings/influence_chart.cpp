#include "core/action/words.hpp"
#include "core/quantities/text.hpp"
#include "drawings/charts.hpp"
#include "drawings/svg.hpp"

#include <algorithm>
#include <cmath>

namespace batten {

namespace {

using action::adjuster_words;
using action::AdjusterWords;
using action::Influence;
using action::row_words;
using action::RowWords;
using svg::Drawing;

constexpr double width = 800, left = 158, top = 118, row_height = 25, column_width = 62.8;

// Two lines for a name of two words.
void heading(Drawing& out, double x, std::string_view name, std::string_view unit) {
  const auto gap = name.find_last_of(' ');
  if (gap == std::string_view::npos) {
    out.text({x, top - 28}, name, "tiny m");
  } else {
    out.text({x, top - 42}, name.substr(0, gap), "tiny m");
    out.text({x, top - 28}, name.substr(gap + 1), "tiny m");
  }
  out.text({x, top - 11}, std::string("per ") + std::string(unit), "tiny quiet m");
}

}  // namespace

std::string draw_influence(const Influence& influence, const std::string& title) {
  const double height = top + row_height * action::row_count + 62;
  Drawing out(width, height, title,
              "What one unit of each adjuster does to each reading. Columns: adjusters; rows: "
              "readings. A dash: less than the last decimal.");
  out.text({16, 28}, title, "head");
  out.text({16, 48}, "Change of each reading for one unit at the part", "quiet");
  for (std::size_t a = 0; a < adjuster_words().size(); ++a)
    heading(out, left + column_width * (static_cast<double>(a) + 0.5), adjuster_words()[a].name,
            adjuster_words()[a].unit);
  for (const RowWords& row : row_words()) {
    const auto r = static_cast<std::size_t>(row.row);
    const double y = top + row_height * static_cast<double>(r);
    std::string name(row.name.substr(0, row.name.find(',')));
    out.text({left - 50, y + 17}, name, "small e");
    out.text({left - 8, y + 17}, row.unit, "small quiet e");
    double largest = 0;
    for (std::size_t a = 0; a < adjuster_words().size(); ++a)
      largest = std::max(largest, std::abs(influence.value[r][a] * adjuster_words()[a].unit_si));
    for (std::size_t a = 0; a < adjuster_words().size(); ++a) {
      const AdjusterWords& adjuster = adjuster_words()[a];
      const double value = influence.value[r][a] * adjuster.unit_si / row.unit_si;
      const double x = left + column_width * static_cast<double>(a);
      const bool counts =
          std::isfinite(value) && std::abs(value) >= 0.5 * std::pow(10, -row.influence_decimals);
      const double share = counts ? std::abs(value) * row.unit_si / largest : 0;
      const char* shade = !counts        ? "shade0"
                          : share > 0.5  ? (value > 0 ? "plus3" : "minus3")
                          : share > 0.15 ? (value > 0 ? "plus2" : "minus2")
                                         : (value > 0 ? "plus1" : "minus1");
      out.rectangle({x + 1, y + 1}, column_width - 2, row_height - 2, shade);
      out.text(
          {x + column_width - 8, y + 17},
          counts ? print_number(value, {.decimals = row.influence_decimals, .plus = true}) : "–",
          counts ? "small e" : "small quiet e");
    }
  }
  const double foot = height - 20;
  double x = left;
  for (const auto& [shade, words] :
       {std::pair{"plus3", "more"}, std::pair{"minus3", "less"},
        std::pair{"plus1", "paler: a smaller share of the row's largest"}}) {
    out.rectangle({x, foot - 12}, 22, 16, shade);
    out.text({x + 29, foot + 1}, words, "small quiet");
    x += 29 + 7.4 * static_cast<double>(std::string_view(words).size()) + 22;
  }
  return out.finish();
}

}  // namespace batten
