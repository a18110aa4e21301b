#include "fitting/fit.hpp"

#include <fmt/format.h>

#include <cmath>

namespace batten {

Told told_of(double sd, double prior_sd) {
  constexpr double told_to = 0.5, hardly_to = 0.9;
  const double share = sd / prior_sd;
  if (share <= told_to) return Told::told;
  return share <= hardly_to ? Told::partly : Told::not_told;
}

std::string_view words(Told told) {
  switch (told) {
    case Told::told:
      return "told";
    case Told::partly:
      return "partly told";
    case Told::not_told:
      break;
  }
  return "not told";
}

std::string words(const Fit& fit, const Direction& direction) {
  std::string text;
  for (const auto& [place, weight] : direction.parts) {
    if (!text.empty()) text += weight * direction.parts.front().second > 0 ? " plus " : " less ";
    text += fit.model.task.parameters[place].name;
  }
  const double percent = 100 * direction.sd;
  if (direction.parts.size() < 2)
    return fmt::format("{}: to {:.0f} % of what was open before", text, percent);
  return fmt::format("{}: their sum, to {:.0f} % of what was open before", text, percent);
}

}  // namespace batten
