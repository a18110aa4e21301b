// What slow readings are made of; shared by the sources of the slow half.
#pragma once

#include "core/action/readings.hpp"
#include "core/action/trials.hpp"

namespace batten::action::slow {

// One note to be pressed slowly, and what came of it. Plain memory only: sources compiled for other
// instruction sets share no templates with the rest.
struct Job {
  const mechanism::Model<double>* model = nullptr;
  SweepOptions sweep;
  SweepPoint rest;
  double rest_key = 0;  // m, of the key's front over the design
  // Rows are the caller's; what has no room is not done. The way down, and up from there; the same
  // for the weights, damper held up.
  SweepTrace down, up, weigh_down, weigh_up;
  bool with_trial = false;
  Trial trial;
  bool failed = false;
};
inline constexpr int most_jobs = mechanism::lane_count;

// Depths between which down and up weight are the mean force (m): the key well on its way, toe and
// tip still far from their stops (estimate).
inline constexpr double weigh_from = 0.0015, weigh_to = 0.0040;

// What to read of a note; the rest posture always is.
struct Wish {
  SweepOptions sweep;
  bool press = true, weigh = true, trial = false, stroke = false;
  bool keep_down = false, keep_up = false;
};
// calc_readings, less of it.
std::vector<Result<Readings>> read_notes(std::span<const Note> notes, const Wish& wish);

// Up to most_jobs notes, side by side where the machine can.
void run(Job* jobs, int count);
// The same by one instruction set; a row is the same to the last bit whichever runs.
void run_base(Job* jobs, int count);
void run_avx2(Job* jobs, int count);
void run_avx512(Job* jobs, int count);

// Motions per way of the key's front in a row, from the normals of the contacts.
struct Local {
  // Of the crown, by the parts that carry the hammer; parts that share the load share by their
  // stiffness. 0 where nothing carries it.
  double ratio = 0;
  double jack_rate = 0;   // of the jack's top toward a knuckle that is held
  double lever_rate = 0;  // of a crown that lies on the lever, m per radian the lever turns
};
Local calc_local(const Dimensions& dimensions, const Layout& layout,
                 const mechanism::Model<double>& model, const SweepPoint& row);

// m the crown stands below the string where the tail, coming down, first touches the check, the key
// held as in the row; NaN if nowhere.
double static_catch(const Dimensions& dimensions, const Layout& layout, const SweepPoint& row);

// Rear face of the jack's top before the rear face of the knuckle's core in a row, m, along the
// jack's width.
double jack_position(const Layout& layout, const SweepPoint& row);

}  // namespace batten::action::slow
