#include "core/regulation/line/string_plane.hpp"

#include "core/regulation/line/gather.hpp"
#include "core/regulation/line/order.hpp"
#include "core/regulation/line/transfer.hpp"

namespace batten {

Result<StringPlane> calc_string_plane(Compass compass, const LineSettings& settings,
                                      const Standing& standing) {
  const line::Readings readings = line::gather(compass, standing);
  auto strings = fair(settings.sections, readings.strings);
  if (!strings) return tl::unexpected(strings.error());
  const line::Transfer transfer(compass, readings.transfers);
  StringPlane plane;
  plane.transfer =
      line::estimate_transfer(compass, settings.hammers_on_bench, readings.transfers, transfer);
  plane.gate = line::make_gate(standing);
  for (int i = 0; i < compass.count(); ++i) {
    const Key key = compass.at(i);
    const FairPoint& point = *strings->at(key);
    plane.height.push_back(point.height);
    plane.sd.push_back(point.sd);
    const bool bench = settings.hammers_on_bench;
    plane.offset.push_back(bench ? transfer.offset(key) : Length());
    plane.offset_sd.push_back(bench ? transfer.sd(key) : Length());
  }
  return plane;
}

}  // namespace batten
