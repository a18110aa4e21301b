// A piano's profile from its readings: what they tell, how surely, and what they cannot tell.
#pragma once

#include "core/fit/model.hpp"
#include "core/outcome/outcome.hpp"

#include <Eigen/Core>

#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace batten {

struct FitOptions {
  // Cauchy's loss beyond about three standard deviations, so that one misread number pulls no
  // harder than one that is off by that. Without it: plain least squares.
  bool robust = true;
  int max_iterations = 40;
};

// How far the readings narrow what was known beforehand: standard deviation after over before.
enum class Told : std::uint8_t {
  told,      // to half and less
  partly,    // to between half and nine tenths
  not_told,  // hardly: the value is what was assumed
};
Told told_of(double sd, double prior_sd);

struct FittedParameter {
  fit::Parameter parameter;
  double change = 0, sd = 0;  // SI or share (see fit::Change); prior sd in `parameter`
  Told told = Told::not_told;
};

// A figure that is no number of the profile but what the technician asks for: the mean action
// ratio, and by how much it falls over the stroke.
struct FittedFigure {
  Key note;
  fit::What what = fit::What::ratio;
  double value = 0, sd = 0, prior_sd = 0;
  Told told = Told::not_told;
};

struct FittedReading {
  fit::Reading reading;
  double fitted = 0;  // SI
  // How badly it goes with all others, in standard deviations of what is left (Baarda's w); 0 where
  // no other reading checks it.
  double misfit = 0;
  bool checked = true;    // by others at all
  bool doubtful = false;  // |misfit| beyond 3.29: one honest reading in a thousand
  // Places of readings that the data cannot tell from it: any one of them may be the wrong one.
  std::vector<std::size_t> or_else;
};

// Parameters that the readings tell only together: a sum of changes in prior standard deviations,
// weights of unit length.
struct Direction {
  double sd = 0;                                      // of that sum, after; 1 before
  std::vector<std::pair<std::size_t, double>> parts;  // parameter, weight; largest first
};

struct Fit {
  fit::Model model;
  std::vector<double> unknowns;  // see fit::Model
  // Of the unknowns, in the same plain numbers.
  Eigen::MatrixXd covariance;
  std::vector<FittedParameter> parameters;
  std::vector<FittedFigure> figures;     // per note
  std::vector<FittedReading> readings;   // taken ones, notes in order
  std::vector<Direction> told_together;  // best told first
  double sum_of_squares = 0;             // of residuals, loss applied
  double start_sum_of_squares = 0;
  bool converged = false;
  // Sum of squares as honest errors would leave it, if by far not: the profile begun from is of
  // another kind, or the search is stuck.
  bool explained = false;
  int iterations = 0;
  std::string ending;       // in words
  action::Profile profile;  // with the changes; wanted readings and balance weights as read
};

// Errors: as make_model; no iteration that works.
Result<Fit> solve_fit(const fit::Task& task, const FitOptions& options = {});

// "told", "partly told", "not told"
std::string_view words(Told told);
// "balance point to the capstan less balance point to the wippen's pin: their sum, to 5 % of what
// was open before"
std::string words(const Fit& fit, const Direction& direction);

}  // namespace batten
