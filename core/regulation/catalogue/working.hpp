// The catalogue as it holds for one piano: the tables' figures with what the user chose for it.
#pragma once

#include "core/outcome/outcome.hpp"
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace batten {

// How close the work is to be: how a tolerance of the tables is scaled. House is the tables' own,
// stage 0.8 of it, lesson 1.5 (common practice, no source). A tolerance on record is not scaled.
enum class Grade : std::uint8_t { stage, house, lesson };

struct Tolerance {
  // Reading's unit, either side of the target / fair curve; > 0. Where the tables have no figure
  // against neighbours, both are the absolute one.
  double absolute = 0, neighbours = 0;
};

// How a hand spends its time on an adjuster. Minutes are first guesses, no source, until the pace
// of the journal replaces them.
struct Labour {
  double minutes_move = 0;    // one move at one note, tool in hand
  double minutes_set_up = 0;  // tools, drawing the action out or in: once a pass
  double least_step = 0;      // the smallest move a hand can make, adjuster's unit
  // How far all moves of one visit together may go either way, adjuster's unit.
  double most_each_way = 0;
  int strain = 0;  // 0 none … 3 heavy on the hand
};

class WorkingCatalogue {
 public:
  Grade grade = Grade::house;
  // Nothing where the reading has none.
  std::optional<Tolerance> tolerance(Reading reading) const;
  const Labour& labour(Adjuster adjuster) const;
  double minutes_to_read(Reading reading) const;
  double usual_uncertainty(Reading reading) const;
  // Papers and cards to hand, mm, rising; the common set (from memory) unless the user's own.
  std::vector<double> papers;

  // Filled by working_catalogue; one per reading / adjuster, catalogue order.
  std::vector<std::optional<Tolerance>> tolerances;
  std::vector<double> reading_minutes, uncertainties;
  std::vector<Labour> labours;
};

// Settings on record over the tables:
//   grade                      "stage", "house" or "lesson"
//   <reading>-tolerance        "0.2, 0.1" or "0,2; 0,1": absolute, against neighbours; one figure
//                              where the tables have one
//   <reading>-minutes, <adjuster>-minutes   "0.4" or "25 s"; above 0, up to an hour
//   <adjuster>-limit           "1.5" turns, "2 mm", …: least_step to it either way; up to five
//                              times the tables'
//   papers                     "0.05 0.08 0.13 0.25 0.5 1" mm, or with ';' between; up to 24
// Names are read to the letter. Other settings on record are passed over.
// Error: one that cannot be read, named.
Result<WorkingCatalogue> working_catalogue(const std::map<std::string, std::string>& on_record);
Result<void> check_catalogue_setting(const std::string& name, const std::string& value);
bool is_catalogue_setting(const std::string& name);

}  // namespace batten
