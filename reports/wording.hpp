// Numbers, notes and amounts as the sheet writes them.
#pragma once

#include "core/regulation/line/line.hpp"

#include <string>
#include <vector>

namespace batten::paper {

struct Units {
  bool inches = false;
  bool decimal_comma = false;

  std::string symbol() const { return inches ? "in" : "mm"; }
  double value(Length length) const { return length.in(inches ? inch : millimetre); }
  // What a gauge is read to: 0.1 mm or 0.001 in, no unit. Infinite or NaN: "–".
  std::string gauge(Length length) const;
  // For standard deviations and evenness: 0.01 mm or 0.001 in, no unit.
  std::string fine(Length length) const;
  std::string gauge_with_unit(Length length) const;
  std::string fine_with_unit(Length length) const;
  std::string number(double value, int decimals) const;
};

// "C♯4"
std::string note_label(Key key);
// "A0, C1–E1, F♯4": runs of three or more neighbours joined.
std::string note_list(const std::vector<Key>& rising);
// "3/64", "1 1/8": the amount only, at full figure height because it is read at arm's length.
std::string turn_fraction(Turns turns, int denominator);
// "1 note", "3 notes"
std::string counted(std::size_t count, std::string_view one, std::string_view many);

// The height to read at the hammer once it is right: in the hammers' own datum, so that a bench
// height is printed for an action on the bench. The transfer's offset is taken as a straight line
// over the compass. Infinite where nothing is known of the strings: a block's blow has no height.
Length height_to_read(const Line& line, const NoteLine& note);

// RMS deviation from target over a section (index from 0; −1: all) once every advised move is made
// as printed: each moved note keeps what the rounding leaves, and the part of its travel that the
// spread of the capstans' response lets it miss (one standard deviation). Notes left alone count as
// they stand. The uncertainty of the readings is not in it, as it is not in the evenness of today.
// Nothing where no hammer has both a reading and a target, or while no moves are advised.
std::optional<Length> expected_evenness(const Line& line, int section);

// Whether any capstan is advised: the gate is open and there is a working order.
inline bool advises(const Line& line) { return line.gate.open && !line.order.empty(); }

}  // namespace batten::paper
