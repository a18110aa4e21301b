// Can this piano do what the maker's sheet says, and what is the least that must give way?
//
// Lengths in mm, times in ms, speeds in m/s: the catalogue's units; core/action's SI units are
// turned into them in figures.cpp and nowhere else.
#pragma once

#include "core/action/profile.hpp"
#include "core/keyboard/compass.hpp"
#include "core/outcome/outcome.hpp"
#include "core/regulation/aims/targets.hpp"
#include "core/regulation/brief/wishes.hpp"

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace batten {

// The four that may give way.
struct BriefPoint {
  double blow = 0, dip = 0, let_off = 0, drop = 0;  // mm
  bool operator==(const BriefPoint&) const = default;
};

// A pressed stroke at one of the standard efforts (soft, middling, loud). NaN: did not happen.
struct BriefStroke {
  double hammer_speed = 0;        // m/s at the string
  double travel_time = 0;         // ms, key start to string
  double bottom_less_string = 0;  // ms, + the key's bottom comes after the string
};

// A need that does not hold at a point.
struct Miss {
  Need need = Need::aftertouch;
  double value = 0;  // mm; NaN where a fault leaves nothing to read
  double by = 0;     // mm outside its band, positive
};

// What a register does at a point, by the solver.
struct BriefFigures {
  BriefPoint point;       // asked for
  bool reached = false;   // the adjusters can bring the point's readings about
  std::string hindrance;  // why not; empty if reached
  // Key travel between the hammer's fall and the bottom; negative: how much deeper the key would
  // have to go. Where it is positive it is the aftertouch. NaN: not known.
  double escape_margin = 0;
  double aftertouch = 0;      // NaN without escapement
  double check_distance = 0;  // static catch
  double jack_clearance = 0;
  double ratio = 0;  // (blow − let-off)/(dip − aftertouch), NaN without escapement
  // Platform: rest after a hard blow less rest after a slow release; share of the hammer's load the
  // repetition lever carries at rest; key travel before the jack takes the hammer; the eased
  // hammer's rise, 0–4.
  double rest_scatter = 0, lever_share = 0, lost_motion = 0;
  int spring_grade = 0;
  std::array<BriefStroke, 3> strokes;  // soft, middling, loud
  double repetition = 0;  // ms, shortest period, middling, key let up to 3 mm; NaN: not asked, none
  std::vector<action::Fault> faults;
  std::vector<Miss> misses;
  action::Note note;  // as it is set there; only where something was read
  bool read = false;

  bool works() const { return reached && faults.empty() && misses.empty(); }
};

// `least` blends; the same at every natural register where one change serves them all without
// costing much more than each one's own.
enum class Way : std::uint8_t { dip, blow, let_off, drop, least };

// Against the price's base: what the piano does today where that is known, else the sheet.
struct Price {
  double power = 0;       // %, hammer speed at a loud effort; − weaker
  double travel = 0;      // ms, key start to string at a middling effort; + slower
  double timing = 0;      // ms, bottom less string at a middling effort; + bottom later
  double repetition = 0;  // ms; + slower. NaN where it could not be found
  double aftertouch = 0;  // mm; NaN where the base has none
};

struct Departure {
  Way way = Way::least;
  BriefPoint by;         // change from the sheet; whole steps of a hand: 0.05 mm, blow 0.1
  BriefFigures figures;  // there: regulated and read, it works
  double size = 0;       // root of the sum of squares, in units of each reading's tolerance
  Price price;
  double cost = 0;  // by the wants; the list of departures rises with it
};

// The need nothing within the other bands can meet, and the nearest that was found.
struct Unmet {
  Need need = Need::aftertouch;
  double nearest = 0, by = 0;  // mm
  BriefPoint at;
};

struct Register {
  Key key;
  std::string name;  // "bass", "middle", "treble", or of the section
};

// What a register can be asked again without solving: escape depth over blow and let-off. Opaque.
struct EscapeSurface;

struct RegisterBrief {
  Register where;
  BriefFigures sheet;                 // at the maker's figures
  std::optional<BriefFigures> today;  // where today's figures are known
  std::vector<Departure> departures;  // empty if the sheet works, or if nothing does
  std::vector<Unmet> unmet;           // not empty: nothing within the bands works
  // The bands as they hold here: those not on record give way to the sheet's own figures.
  std::array<Band, need_count> bands;
  std::shared_ptr<const EscapeSurface> surface;
};

struct Brief {
  Compass compass;
  Targets targets;
  BriefWishes wishes;
  std::vector<RegisterBrief> registers;

  bool works() const {
    for (const RegisterBrief& r : registers)
      if (!r.sheet.works()) return false;
    return true;
  }
};

struct BriefTask {
  const action::Profile* profile = nullptr;
  Compass compass;
  Targets targets;
  BriefWishes wishes;
  std::vector<Register> registers;  // empty: usual_registers
  // What is read on the piano now, one per register or none at all.
  std::vector<std::optional<BriefPoint>> today;
};

// One natural near the middle of each section, and a sharp near the middle of the compass; with
// fewer than three sections, bass, middle and treble (A1, C4, C7) instead.
std::vector<Register> usual_registers(Compass compass, const std::vector<Section>& sections);

// What the sheet asks at a key, SI: targets where they are set, the profile's own where not; the
// spring's strength is the profile's.
action::Wanted wanted_at(const action::Profile& profile, const Targets& targets, Key key);

// Error: as action::prepare_note with the note named, or no profile.
Result<Brief> calc_brief(const BriefTask& task);

// The same in steps, so that a register that is known need not be asked again: each by itself (an
// index into the task's registers, which must not be empty), and then, once all are there, the one
// change that serves every natural (Way::least). calc_brief is these. Error: as calc_brief.
Result<RegisterBrief> calc_register_brief(const BriefTask& task, std::size_t index);
Result<void> share_departures(const BriefTask& task, Brief& brief);

// A setting to be put on record, and why.
struct BriefSetting {
  std::string name, value, reason;
  bool operator==(const BriefSetting&) const = default;
};

// Which departure is taken at each register: an index into its departures, nothing for the sheet.
using BriefChoice = std::vector<std::optional<std::size_t>>;
// The cheapest everywhere.
BriefChoice cheapest(const Brief& brief);

// The sections' tapers with the departures chosen, drawn straight between registers and level
// outside them. Sharps follow the naturals' blow, let-off and drop (one line, one rail), so that
// what is chosen at a sharp register does not count: its dip is changed by the least that brings
// its aftertouch into the band on the naturals' new line; without a sharp register as the
// naturals'. Settings that stay as they are are left out. `why` is the user's own reason, added to
// ours; may be empty.
std::vector<BriefSetting> accept_brief(const Brief& brief, const BriefChoice& choice,
                                       const std::string& why);

}  // namespace batten
