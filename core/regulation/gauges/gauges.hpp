// Which gauges a piano's own targets ask for, and how large each is to be.
//
// Lengths are millimetres.
#pragma once

#include "core/keyboard/compass.hpp"
#include "core/regulation/aims/targets.hpp"
#include "core/regulation/catalogue/equipment.hpp"
#include "core/regulation/catalogue/working.hpp"

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace batten {

enum class GaugeKind : std::uint8_t {
  blow,           // between crown at rest and string
  check,          // between caught crown and string
  let_off,        // between crown and string where the hammer turns back
  key_height,     // stands on the key bed before a natural, its arm over the key
  sharps_height,  // bridge over a sharp, its feet on the naturals beside
  dip,            // bridge over three naturals, its foot on the middle one
  sharp_dip,      // bridge as for the height, over the sharp pressed down
  lever_height,   // strip on the jack: as thick as the jack is to lie below the lever
  aftertouch,     // fork on the front punching: as thick as the travel that is to be left
};

struct GaugeKindRow {
  GaugeKind id;
  std::string_view code;  // "blow", "lever-height"
  Reading reading;        // whose target and tolerance it has
  // Always cut from a sheet of the target's own thickness: too thin to be cut out of its plane.
  bool of_stock;
  // The sizes are joined in a stepped block as well.
  bool stepped;
  // Sizes in one block at most; for dip, what goes on the head of a natural.
  int most_steps;
};

std::span<const GaugeKindRow> gauge_kinds();
const GaugeKindRow& kind_of(GaugeKind kind);
// By code; blanks, '_' and letter case forgiven. Nothing if unknown.
std::optional<GaugeKind> gauge_by_code(std::string_view code);

// One gauge of a kind: no target of its notes lies further from it than `within`.
struct GaugeSize {
  double mm = 0;
  double least = 0, most = 0;  // of the targets it stands for
  std::vector<Key> notes;      // rising
};

struct Gauge {
  GaugeKind kind = GaugeKind::blow;
  double tolerance = 0;          // absolute, of the reading
  double within = 0;             // a quarter of it
  std::vector<GaugeSize> sizes;  // by their lowest note
  std::vector<Key> asked;        // all notes that have the reading and a target, rising
};

struct GaugeLeftOut {
  enum class Why : std::uint8_t {
    no_target,         // none is on record: key height, sharps height, aftertouch
    no_sharps_height,  // what is left of a pressed sharp is not known without it
    sharp_goes_under,  // the sharp is to go level with the naturals or below: nothing to bridge
    nothing_thick,     // a target of nothing, or below
    no_note,           // no note has it
  } why = Why::no_target;
  GaugeKind kind = GaugeKind::blow;
};

struct GaugeSet {
  std::vector<Gauge> gauges;  // order of the kinds
  std::vector<GaugeLeftOut> left_out;
};

// As few sizes of each kind as keep every note's target within a quarter of the tolerance; of so
// many those that come nearest all targets. Sizes are multiples of 0.05 mm (of 0.01 mm for what is
// cut from stock) where one fits, else the middle of their targets. The number is the least there
// is: the smallest target not covered begins the next size, and no choice covers more of what
// follows (covering points on a line by equal intervals, greedily). `wanted` empty: all kinds.
GaugeSet calc_gauges(Compass compass, const Targets& targets, const WorkingCatalogue& catalogue,
                     const Equipment& equipment, std::span<const GaugeKind> wanted = {});

}  // namespace batten
