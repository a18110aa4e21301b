// A piano that is exactly as linear as a plan believes, with turns of its own: what the planner
// must get right before anything harder. Its journal is written as a technician would.
#pragma once

#include "core/journal/fold.hpp"
#include "core/regulation/planning/plan.hpp"
#include "workshop/chance.hpp"

#include <vector>

namespace batten::testing {

class LinearPiano {
 public:
  // Every reading at its target.
  explicit LinearPiano(std::uint64_t seed);

  const ActionModel& model() const { return model_; }
  Compass compass() const { return {}; }
  // Moves the truth of one aim off its target, nothing else.
  void misset(Key key, Aim aim, double by);
  void misset_all(double tolerances);
  double truth(Key key, Aim aim) const;

  void prepare(PreparationState state = PreparationState::found);
  void set(const std::string& name, const std::string& value);
  // Writes a reading with its usual uncertainty and noise of `noise` times it.
  void read(Key key, Aim aim, double noise = 0);
  void read_value(Key key, Reading reading, double value, double uncertainty);
  void read_all(double noise = 0);
  // Turns the truth and writes the move down. The screw does `did` times what it should.
  void turn(Key key, Adjuster adjuster, double amount, double did = 1);
  // Does what the instruction says, with the hand's and the gauge's errors times `noise`.
  void carry_out(const Instruction& step, double noise);

  Standing standing() const { return fold(journal_); }
  Plan plan(const PlanOptions& options = {}) const;

 private:
  void write(EntryContent content);
  std::size_t place(Key key) const { return static_cast<std::size_t>(key.number - 1); }

  workshop::Chance chance_;
  ActionModel model_;
  std::vector<AimVector> truth_;
  AdjusterVector pitch_ = AdjusterVector::Ones();  // times the prior
  std::vector<Entry> journal_;
};

}  // namespace batten::testing
