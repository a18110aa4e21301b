// What a piano's brief must hold and what is wished for besides.
#pragma once

#include "core/outcome/outcome.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <map>
#include <span>
#include <string>
#include <string_view>

namespace batten {

// Must hold at every register; each a figure within a band. That the hammer lets go inside the dip
// and that nothing blocks, traps or rubs is needed always and cannot be given up.
enum class Need : std::uint8_t {
  aftertouch,
  blow,
  dip,
  sharp_dip,
  let_off,
  drop,
  check_distance,
  jack_clearance,
  rest_scatter,  // how far the hammer's rest after a hard blow and after a slow release may differ
};
inline constexpr std::size_t need_count = 9;
constexpr std::size_t index_of(Need need) { return static_cast<std::size_t>(need); }

// Wished for, by weight: a departure costs weight * (change / unit)², summed.
enum class Want : std::uint8_t {
  blow,  // the four: near the maker's figure
  dip,
  let_off,
  drop,
  aftertouch,  // near the middle of the need's band
  power,       // hammer speed at a loud effort not lost
  speed,       // time from key to string at a middling effort not longer
  timing,      // key bottom against string at a middling effort as it was
  repetition,  // shortest period not longer
};
inline constexpr std::size_t want_count = 9;
constexpr std::size_t index_of(Want want) { return static_cast<std::size_t>(want); }

enum class FigureSource : std::uint8_t { trade, common_practice, estimate };

struct NeedKind {
  std::string_view code, name;  // "let-off"; settings are named "need-let-off"
  double low, high;             // mm, unless on record
  double possible_low, possible_high;
  Need id;
  FigureSource source;
};
struct WantKind {
  std::string_view code, name;  // settings are named "want-power"
  std::string_view unit;
  double unit_size;  // the change that counts as one
  double weight;     // unless on record
  Want id;
  FigureSource source;
};
std::span<const NeedKind> need_kinds();  // in the order of the enumeration
std::span<const WantKind> want_kinds();

// mm, both ends included. One that is not on record gives way to a maker's figure outside it.
struct Band {
  double low = 0, high = 0;
  bool on_record = false;
  bool operator==(const Band&) const = default;
};

struct BriefWishes {
  std::array<Band, need_count> needs;
  std::array<double, want_count> wants;  // weights, 0…100

  const Band& at(Need need) const { return needs[index_of(need)]; }
  double at(Want want) const { return wants[index_of(want)]; }
};

// Those on record over the usual ones:
//   need-<code>   "0.8 to 1.6", "at least 0.8", "at most 1.6"; lengths as parse_length reads them
//   want-<code>   a weight from 0 (does not matter) to 100
// Usual: aftertouch 0.8–1.6, blow 44–48, dip 9.5–10.8 (sharps 0.3 less), let-off 1–3, check 12–16,
// jack clearance 0.1–0.25 (three makers' sheets and workshop articles); drop 0.8–2 and rest 0.25 mm
// at most are common practice, no source. Weights and units of the wants are estimates.
// Error: one that cannot be read, named; other settings are passed over.
Result<BriefWishes> brief_wishes(const std::map<std::string, std::string>& on_record);

// Reads one alone, to refuse it before it is written down. Error also: no such setting.
Result<void> check_brief_setting(const std::string& name, const std::string& value);
bool is_brief_setting(const std::string& name);

}  // namespace batten
