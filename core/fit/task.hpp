// What is to be found out about a piano, and from what: the numbers of its profile that are free,
// what is known of them beforehand, and what was read. Values only; fitting/ solves.
#pragma once

#include "core/action/profile.hpp"
#include "core/keyboard/key.hpp"

#include <cstdint>
#include <string_view>
#include <vector>

namespace batten::fit {

enum class Change : std::uint8_t {
  added,   // SI unit of the dimension
  scaled,  // times exp(change): 0.1 is a tenth more; never changes sign
};

// How much of a change a note gets: all of it everywhere, or in proportion to how near it lies to
// the bass (A0) or the treble (C8) end.
enum class Course : std::uint8_t { even, bass, treble };

// A number of the profile left free, the same for all notes; zero is the profile as it was.
struct Parameter {
  std::string_view code;  // "capstan-place"
  std::string_view name;  // "capstan's distance behind the balance point"
  std::string_view unit;  // "mm", "%"
  double unit_si = 1;     // SI value of one unit
  Change change = Change::added;
  Course course = Course::even;
  double prior_sd =
      1;  // SI or share, > 0: how far a piano may lie from the profile, before looking
  std::vector<double action::Dimensions::*> members;  // changed alike
  // Of the differences, in prior standard deviations: large against what readings jitter (most 1
  // um, let-off and aftertouch up to 10), small against where an action ceases to work.
  double step = 0.5;
};

// Those a technician's readings might tell, and those they might be taken to tell but cannot. All
// prior standard deviations are estimates, no source.
std::vector<Parameter> standard_parameters();

enum class What : std::uint8_t {
  blow,
  let_off,
  drop,
  dip,
  aftertouch,
  down_weight,
  up_weight,
  rise,       // of the crown from rest, the key's front held `depth` below its own
  dimension,  // `member` itself, measured on the part
  // Not read but wanted to be known; no reading may be of these.
  ratio,   // mean of crown over key, (blow - let-off)/(dip - aftertouch)
  course,  // share by which the ratio from 5 to 6 mm of key depth is below that from 1 to 2 mm
};
inline constexpr int what_count = 11;

// m, N or the dimension's SI unit; sd is one standard deviation, > 0.
struct Reading {
  Key note;
  What what = What::blow;
  double value = 0, sd = 0;
  double depth = 0;                              // of a rise
  double action::Dimensions::*member = nullptr;  // of a dimension
};

struct Task {
  action::Profile base;
  std::vector<Parameter> parameters = standard_parameters();
  std::vector<Reading> readings;
};

}  // namespace batten::fit
