#include "core/regulation/gauges/gauges.hpp"

#include "core/regulation/catalogue/code.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace batten {
namespace {

using enum GaugeKind;

constexpr std::array rows{
    GaugeKindRow{blow, "blow", Reading::blow, false, true, 6},
    GaugeKindRow{check, "check", Reading::check_distance, false, true, 6},
    GaugeKindRow{let_off, "let-off", Reading::let_off, false, false, 1},
    GaugeKindRow{key_height, "key-height", Reading::key_height, false, true, 6},
    GaugeKindRow{sharps_height, "sharps-height", Reading::sharps_height, false, false, 1},
    GaugeKindRow{dip, "dip", Reading::dip, false, true, 3},
    GaugeKindRow{sharp_dip, "sharp-dip", Reading::sharp_dip, false, false, 1},
    GaugeKindRow{lever_height, "lever-height", Reading::jack_clearance, true, false, 1},
    GaugeKindRow{aftertouch, "aftertouch", Reading::aftertouch, true, false, 1},
};

// Far below what can be cut; keeps sums of decimals from falling beside a limit.
constexpr double hair = 1e-9;

struct NoteTarget {
  Key key;
  double mm = 0;
};

// What the gauge is to measure at a note; nothing without a target.
std::optional<double> measured_at(GaugeKind kind, const Targets& targets, Key key) {
  const auto aim = aim_of(kind_of(kind).reading);
  assert(aim);
  const auto target = targets.at(*aim, key);
  if (kind != sharp_dip || !target) return target;
  const auto height = targets.at(Aim::key_height, key);
  if (!height) return std::nullopt;
  return *height - *target;
}

// A multiple of `step` no further than `within` from both ends, nearest their middle; the middle
// where there is none.
double size_between(double least, double most, double within, double step) {
  const double middle = (least + most) / 2;
  const double round = std::round(middle / step) * step;
  return round - least <= within + hair && most - round <= within + hair ? round : middle;
}

// The smallest target not covered begins the next size, which covers `span` from it. `rising`.
std::vector<GaugeSize> covered(const std::vector<NoteTarget>& rising, double span) {
  std::vector<GaugeSize> sizes;
  for (const NoteTarget& note : rising) {
    if (sizes.empty() || note.mm - sizes.back().least > span + hair)
      sizes.push_back({0, note.mm, note.mm, {}});
    sizes.back().most = note.mm;
    sizes.back().notes.push_back(note.key);
  }
  return sizes;
}

std::vector<GaugeSize> sizes_of(std::vector<NoteTarget> notes, double within, double step) {
  std::ranges::stable_sort(notes, {}, &NoteTarget::mm);
  // The least span that needs no more sizes: they then share the targets evenly.
  double low = 0, high = 2 * within;
  auto sizes = covered(notes, high);
  for (int i = 0; i < 30; ++i) {
    const double middle = (low + high) / 2;
    auto tried = covered(notes, middle);
    const bool enough = tried.size() == sizes.size();
    (enough ? high : low) = middle;
    if (enough) sizes = std::move(tried);
  }
  for (GaugeSize& size : sizes) {
    size.mm = size_between(size.least, size.most, within, step);
    std::ranges::sort(size.notes);
  }
  std::ranges::sort(sizes, [](const GaugeSize& a, const GaugeSize& b) {
    return a.notes.front() < b.notes.front();
  });
  return sizes;
}

}  // namespace

std::span<const GaugeKindRow> gauge_kinds() { return rows; }

const GaugeKindRow& kind_of(GaugeKind kind) { return rows[static_cast<std::size_t>(kind)]; }

std::optional<GaugeKind> gauge_by_code(std::string_view code) {
  const auto* row =
      std::ranges::find_if(rows, [&](const GaugeKindRow& r) { return is_code(code, r.code); });
  return row == rows.end() ? std::nullopt : std::optional(row->id);
}

GaugeSet calc_gauges(Compass compass, const Targets& targets, const WorkingCatalogue& catalogue,
                     const Equipment& equipment, std::span<const GaugeKind> wanted) {
  GaugeSet set;
  for (const GaugeKindRow& row : rows) {
    if (!wanted.empty() && std::ranges::find(wanted, row.id) == wanted.end()) continue;
    using enum GaugeLeftOut::Why;
    const auto tolerance = catalogue.tolerance(row.reading);
    assert(tolerance);
    Gauge gauge{row.id, tolerance->absolute, tolerance->absolute / 4, {}, {}};
    std::vector<NoteTarget> notes;
    bool asked = false;
    double least = 1e9;
    for (int i = 0; i < compass.count(); ++i) {
      const Key key = compass.at(i);
      if (!equipment.asks(row.reading, key)) continue;
      asked = true;
      const auto mm = measured_at(row.id, targets, key);
      if (!mm) continue;
      least = std::min(least, *mm);
      notes.push_back({key, *mm});
      gauge.asked.push_back(key);
    }
    if (notes.empty()) {
      const bool without_height = row.id == sharp_dip;
      set.left_out.push_back({!asked           ? no_note
                              : without_height ? no_sharps_height
                                               : no_target,
                              row.id});
      continue;
    }
    // A laser or a saw cannot make less, nor stock be bought.
    constexpr double thinnest = 0.02;
    if (least < thinnest) {
      set.left_out.push_back({row.id == sharp_dip ? sharp_goes_under : nothing_thick, row.id});
      continue;
    }
    gauge.sizes = sizes_of(std::move(notes), gauge.within, row.of_stock ? 0.01 : 0.05);
    set.gauges.push_back(std::move(gauge));
  }
  return set;
}

}  // namespace batten
