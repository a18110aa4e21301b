// A hidden piano that is a mechanism: bending wood, felts, friction and a string plane of its own.
#pragma once

#include "core/action/readings.hpp"
#include "core/outcome/outcome.hpp"
#include "workshop/hidden_piano.hpp"
#include "workshop/misregulation.hpp"

#include <memory>

namespace batten::workshop {

// Shares unless said; all estimates. "uniform": alike over ±; "sd": normal.
struct MechanismLaw {
  double geometry = 0.03;  // every dimension of the piano, uniform
  // Every part of a note, and where it is fixed on the rails: sd, none beyond `most`.
  double note = 0.0025, rail = 0.0010, most = 0.007;
  double pitch_piano = 0.15;                     // of each kind of screw, uniform
  double pitch_screw = 0.02;                     // of each single screw, sd
  double felt = 0.35, felt_note = 0.08;          // felts' and leathers' depths under load, uniform
  double friction = 0.25, friction_note = 0.10;  // uniform
  double day = 0.08;                  // friction of all centres and leathers from day to day, sd
  double mass = 0.05, spring = 0.08;  // uniform
  double string_scatter = 0.05;       // mm from string to string, sd
};

// Millimetres at the part for one turn (punchings, check and damper: for one millimetre; spring:
// tenths of its strength for one step), before the piano's own pitch is drawn: what the trade takes
// for granted. From memory.
inline constexpr std::array<double, note_adjuster_count> nominal_pitch{
    0.90, 1.00, 1.00, 0.70, 0.60, 0.50, 0.70, 0.70, 1.00, 1.00};

// The profiles the piano is drawn between: a share of one and the rest of the other.
struct Parentage {
  std::string_view first, second;  // names of stored profiles
  double share = 0;                // of the second
};

class MechanismPiano : public HiddenPiano {
 public:
  std::unique_ptr<HiddenPiano> copy() const override;
  std::string_view looks_like() const override {
    return parentage_.share < 0.5 ? parentage_.first : parentage_.second;
  }
  const Parentage& parentage() const { return parentage_; }
  double pitch(Key key, Adjuster adjuster) const { return pitch_[place(key)][index_of(adjuster)]; }

 private:
  friend std::unique_ptr<MechanismPiano> make_mechanism_piano(std::uint64_t, const MechanismLaw&);
  explicit MechanismPiano(StringLine strings, Key first_undamped, std::uint64_t seed)
      : HiddenPiano(std::move(strings), first_undamped, seed) {}
  std::vector<NoteTruth> calc(std::span<const Key> keys) override;
  void move(Key key, Adjuster adjuster, double amount) override;
  void change_friction() override;

  Parentage parentage_;
  MechanismLaw law_;
  std::vector<action::Note> notes_;
  std::vector<std::array<double, note_adjuster_count>> pitch_;
  double day_ = 1;  // friction against that of the first day
  // Own laws of the spring and of the caught hammer: the share of strength at which each note's
  // rises firmly, how much a grade takes, and how far a caught hammer springs on.
  std::vector<double> firm_;
  double gain_ = 0, bounce_ = 0, bounce_slope_ = 0;
};

// Geometry is drawn again where an action could not be regulated at all; the piano was then once
// set to the usual figures, note by note, and has been played since. Notes the years would have
// left without escapement are less worn.
std::unique_ptr<MechanismPiano> make_mechanism_piano(std::uint64_t seed,
                                                     const MechanismLaw& law = {});

}  // namespace batten::workshop
