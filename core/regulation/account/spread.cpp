#include "core/regulation/account/account.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace batten {

namespace {

constexpr int minor_third = 3;  // semitones; B to D, across two naturals' width

double deviation(const NoteAccount& n, bool at_first) {
  return (at_first ? n.first.value_or(n.target) : n.now) - n.target;
}

// Deviation from the mean of the neighbours on both sides; nothing without both.
std::optional<double> beside(const std::vector<const NoteAccount*>& notes, std::size_t i,
                             bool at_first) {
  if (i == 0 || i + 1 >= notes.size()) return std::nullopt;
  const NoteAccount &below = *notes[i - 1], &self = *notes[i], &above = *notes[i + 1];
  if (self.key.number - below.key.number > minor_third ||
      above.key.number - self.key.number > minor_third)
    return std::nullopt;
  return deviation(self, at_first) - (deviation(below, at_first) + deviation(above, at_first)) / 2;
}

}  // namespace

bool NoteAccount::outside_at_first() const {
  return first && std::abs(*first - target) > tolerance;
}

bool NoteAccount::outside_now() const { return known() && std::abs(now - target) > tolerance; }

Spread spread_of(const std::vector<const NoteAccount*>& notes, bool at_first) {
  Spread s;
  double squares = 0, shares = 0, beside_squares = 0, beside_shares = 0;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    const NoteAccount& n = *notes[i];
    const double off = deviation(n, at_first);
    ++s.notes;
    s.outside += std::abs(off) > n.tolerance ? 1 : 0;
    squares += off * off;
    shares += std::pow(off / n.tolerance, 2);
    const auto by = beside(notes, i, at_first);
    if (!by) continue;
    ++s.beside;
    s.outside_beside += std::abs(*by) > n.neighbour_tolerance ? 1 : 0;
    beside_squares += *by * *by;
    beside_shares += std::pow(*by / n.neighbour_tolerance, 2);
  }
  if (s.notes > 0) {
    s.rms = std::sqrt(squares / s.notes);
    s.rms_tolerances = std::sqrt(shares / s.notes);
  }
  if (s.beside > 0) {
    s.beside_rms = std::sqrt(beside_squares / s.beside);
    s.beside_rms_tolerances = std::sqrt(beside_shares / s.beside);
  }
  return s;
}

}  // namespace batten
