#include "workshop/misregulation.hpp"

#include <cmath>
#include <cstddef>
#include <numbers>

namespace batten::workshop {
namespace {

// Of one adjuster: mean over pianos, standard deviations of a section's place and slope, of a note,
// share that stand out and how far. In the aim's unit; estimates.
struct Wear {
  double mean, place, slope, note, odd_share, odd;
};
constexpr std::array<Wear, note_adjuster_count> wears{{
    {0.75, 0.30, 0.25, 0.35, 0.05, 1.2},    // capstan: blow longer
    {-0.15, 0.10, 0.08, 0.12, 0.04, 0.35},  // balance punchings: key height
    {0.12, 0.08, 0.05, 0.12, 0.04, 0.35},   // front punchings: dip deeper
    {0.00, 0.10, 0.08, 0.12, 0.04, 0.4},    // jack button: jack position
    {0.02, 0.03, 0.02, 0.06, 0.04, 0.15},   // lever height: clearance
    {-0.06, 0.03, 0.02, 0.04, 0.04, 0.10},  // spring's strength
    {0.20, 0.30, 0.15, 0.30, 0.04, 0.8},    // let-off
    {0.15, 0.20, 0.10, 0.30, 0.04, 0.7},    // drop
    {0.60, 0.70, 0.40, 1.00, 0.04, 3.0},    // check distance
    {0.02, 0.03, 0.02, 0.04, 0.04, 0.12},   // damper start
}};

}  // namespace

std::vector<Misregulation> years_of_wear(const StringLine& strings, Chance& chance) {
  std::vector<Misregulation> out;
  for (const Section& section : strings.sections) {
    std::array<double, note_adjuster_count> place{}, slope{};
    for (std::size_t a = 0; a < note_adjuster_count; ++a) {
      place[a] = wears[a].mean + wears[a].place * chance.normal();
      slope[a] = wears[a].slope * chance.normal();
    }
    for (Key k = section.first; k <= section.last; ++k.number) {
      const double t =
          (2.0 * k.number - section.first.number - section.last.number) / (section.count() - 1);
      const double along =
          static_cast<double>(strings.compass.position(k)) / (strings.compass.count() - 1);
      Misregulation m{};
      for (std::size_t a = 0; a < note_adjuster_count; ++a) {
        const double odd = chance.uniform() < wears[a].odd_share ? wears[a].odd : 0;
        m[a] = place[a] + t * slope[a] + wears[a].note * chance.normal() + odd * chance.normal();
      }
      m[index_of(Adjuster::balance_punchings)] -= 0.15 * std::sin(std::numbers::pi * along);
      out.push_back(m);
    }
  }
  return out;
}

}  // namespace batten::workshop
