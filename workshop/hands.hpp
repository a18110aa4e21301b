// What a pair of hands does at a hidden piano: reads with noise, turns nearly as far as it means
// to, and takes its time. Every technician has the same hands.
#pragma once

#include "workshop/hidden_piano.hpp"

#include <array>
#include <optional>
#include <span>
#include <vector>

namespace batten::workshop {

// All figures estimates, no source.
struct HandsLaw {
  using PerAim = std::array<double, aim_count>;
  using PerAdjuster = std::array<double, note_adjuster_count>;
  // Standard deviations in the catalogue's units, order of Aim: with a gauge; and by eye, straight
  // edge and finger against notes already set, which is much quicker. The spring's grade is read as
  // a whole number either way.
  PerAim gauge{0.05, 0.10, 0.03, 0.35, 0.10, 0.05, 0.10, 0.12, 0.40, 0.06, 0.02};
  PerAim eye{0.08, 0.15, 0.05, 0.35, 0.15, 0.08, 0.15, 0.15, 0.55, 0.10, 0.04};
  // Minutes a reading, the entry not counted.
  PerAim gauge_minutes{0.20, 0.40, 0.30, 0.15, 0.25, 0.30, 0.28, 0.25, 0.20, 0.40, 0.30};
  PerAim eye_minutes{0.06, 0.15, 0.08, 0.15, 0.06, 0.15, 0.10, 0.10, 0.08, 0.15, 0.12};
  double string_noise = 0.08, string_minutes = 0.40;
  // A reading gone wrong: how often, and off by how many of its standard deviations.
  double misread = 0.01, misread_least = 4, misread_most = 10;
  // Minutes a move, tool in hand; and to take up the tool: stack, keys, gauges, action out or in.
  PerAdjuster turn_minutes{0.35, 1.00, 0.60, 0.45, 0.40, 0.60, 0.38, 0.35, 0.32, 0.90};
  PerAdjuster set_up_minutes{4, 12, 5, 6, 4, 4, 4, 3, 3, 12};
  // Of a screw: share, and turns where the hand stops. Papers are as thick as they say. Bends go
  // their own way: share.
  double turn_share = 0.03, turn_stop = 1.0 / 128, paper_stop = 0.01, bend_share = 0.10;
  // Farther than an arm's reach (keys): minutes to get there.
  int reach = 8;
  double walk = 0.05, walk_per_key = 0.004;
  // Writing one figure down or ticking one move off, for who does.
  double writing = 0.04;
  double day = 480;  // minutes until the next day
};

enum class Way : std::uint8_t { gauge, eye };

struct MoveMeant {
  Key key;
  Adjuster adjuster = Adjuster::capstan;
  double amount = 0;  // catalogue unit
  double goal = 0;    // what its aim is meant to read right after
};

struct Tally {
  double minutes = 0, minutes_reading = 0, minutes_turning = 0, minutes_set_up = 0,
         minutes_writing = 0;
  int readings = 0, readings_by_eye = 0, misreads = 0;
  int moves = 0;
  int rework = 0;  // moves after the first on the same adjuster of the same note
  // By the truth: moves after which a note that worked is blocked, carried or without escapement;
  // or rubs its check.
  int harmful = 0, rubbing = 0;
  // Moves that set out away from their goal, though the truth lay more than two standard deviations
  // of a reading from it; and those of them that followed a misread.
  int wrong_way = 0, wrong_way_misread = 0;
};

class Hands {
 public:
  Hands(HiddenPiano& piano, std::uint64_t seed, const HandsLaw& law = {});

  const HiddenPiano& piano() const { return piano_; }
  const HandsLaw& law() const { return law_; }
  const Tally& tally() const { return tally_; }

  // Takes up the tool for an adjuster, unless it is in hand.
  void take_up(Adjuster adjuster);
  // In the order of the keys; NaN where there is nothing to read: no damper, or the note does not
  // let go. A hammer is tapped before its blow is read.
  std::vector<double> read(std::span<const Key> keys, Aim aim, Way way = Way::gauge);
  // Blows by eye: how far each hammer stands off the straight line between those of the nearest
  // notes already set (rising keys), where `targets` are the blows it would then have. What the
  // strings between do the eye does not see.
  std::vector<double> sight_hammers(std::span<const Key> keys, const std::vector<Key>& set,
                                    std::span<const double> targets);
  // Heights over the datum, mm, with the gauge.
  std::vector<double> read_strings(std::span<const Key> keys);
  // A slow press: whether each note lets go, as anybody sees who presses it. Costs what a glance
  // does.
  std::vector<bool> lets_go(std::span<const Key> keys);
  // Each note at most once in a call. The tool must have been taken up.
  void turn(std::span<const MoveMeant> moves);
  void write(int figures);
  // Anything else, minutes.
  void spend(double minutes);

 private:
  std::size_t place(Key key) const {
    return static_cast<std::size_t>(piano_.compass().position(key));
  }
  void walk_to(Key key);
  double err(double sd, bool& misread);

  HiddenPiano& piano_;
  Chance chance_;
  HandsLaw law_;
  Tally tally_;
  std::optional<Adjuster> in_hand_;
  Key at_;
  double night_ = 0;  // minutes at which the next day begins
  struct Memory {
    std::array<int, note_adjuster_count> moves{};
    std::array<double, aim_count> sd{};     // of the last reading
    std::array<bool, aim_count> misread{};  // any since the adjuster's last move
  };
  std::vector<Memory> memory_;
};

}  // namespace batten::workshop
