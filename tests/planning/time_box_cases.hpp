// Invented work for the time box: arbitrary bundles, and pianos as they are found.
#pragma once

#include "core/regulation/planning/time_box.hpp"
#include "workshop/chance.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace batten::invented {

// Nothing of a piano: any passes, minutes and costs, to try the solver where structure does not
// help. With `ties` also what passes need and notes lead.
TimeBoxTask any_task(workshop::Chance& chance, std::size_t notes, std::size_t bundles,
                     std::size_t passes, bool ties);

inline constexpr std::size_t pass_count = 10;  // one per adjuster of a note

// How 88 notes stand: deviations in tolerances, one per adjuster's aim.
struct FoundPiano {
  std::vector<std::array<double, pass_count>> off;
  std::vector<double> weight;  // how much each note is played
};
// Each aim of a piano has its own wear (log-normal, median 1.6 tolerances, spread 0.5); notes
// scatter about it by Student's t of 4 degrees of freedom, so that a few stand far out. Weights:
// 0.5 in the bass, 1 from C3 to C6, 0.4 at the top. All estimates.
FoundPiano find_piano(workshop::Chance& chance, std::size_t notes = 88);

// What a note costs with these passes worked in (bit = adjuster): a set one is left 0.35
// tolerances off (estimate).
double cost_of(const FoundPiano& piano, std::size_t note, std::uint32_t passes);
double minutes_of(std::uint32_t passes);
std::vector<double> set_up_minutes();
// The whole work, every adjuster at every note: about 600 minutes.
double all_minutes(std::size_t notes = 88);

// Bundles: nothing; then the adjusters by what they buy a minute, one more each time, with what
// must be set before them at that note; at most `bundles`.
TimeBoxTask as_task(const FoundPiano& piano, double minutes, std::size_t bundles = 12);

// Root mean square of all deviations, weighed.
double evenness(const FoundPiano& piano, double cost);

// The other ways to spend the minutes: all adjusters of a note before the next, or all notes of an
// adjuster before the next, from the bass; a pass is set up when it is first come to; the first
// move that no longer fits ends the work. What is in tolerance is set too, or else known to be so
// at no cost, which no hand can.
enum class Thrift : std::uint8_t { everything, what_is_out };
double note_by_note(const FoundPiano& piano, double minutes, Thrift thrift);  // cost left
double pass_by_pass(const FoundPiano& piano, double minutes, Thrift thrift);
// Everything that is out of tolerance, setting up included.
double minutes_needed(const FoundPiano& piano);

}  // namespace batten::invented
