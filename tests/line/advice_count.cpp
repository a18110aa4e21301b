#include "tests/line/advice_count.hpp"

#include "tests/line/journal_page.hpp"

#include <cmath>

namespace batten::line_test {

AdviceCount count_advice(const Line& line, const std::vector<Length>& targets,
                         const std::vector<Length>& hammers) {
  AdviceCount count;
  for (Key k : line.order) {
    const auto i = static_cast<std::size_t>(line.compass.position(k));
    const double off = mm(hammers[i] - targets[i]);
    const bool right = line.at(k).turns.in(turn)*off < 0;
    ++count.moves;
    ++(right ? count.right : count.wrong);
    if (!right && std::abs(off) > beyond_noise) ++count.wrong_beyond;
  }
  return count;
}

Followed follow_by_turns(const Line& line, const std::vector<Length>& targets,
                         std::vector<Length> hammers, LengthPerTurn rise, workshop::Chance& hand) {
  std::vector<Length> before, after;
  for (Key k : line.order) {
    const auto i = static_cast<std::size_t>(line.compass.position(k));
    before.push_back(hammers[i] - targets[i]);
    hammers[i] += rise * line.at(k).turns + 0.1 * hand.normal() * millimetre;
    after.push_back(hammers[i] - targets[i]);
  }
  return {mm(evenness(before)), mm(evenness(after))};
}

}  // namespace batten::line_test
