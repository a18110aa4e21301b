// How many gauges of which size: against plain definitions, on targets drawn at random.
#include "core/regulation/gauges/gauges.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <gmock/gmock.h>
#include <map>
#include <string>

namespace batten {
namespace {

const Compass whole{};

GaugeSet gauges_with(const std::map<std::string, std::string>& settings,
                     std::vector<GaugeKind> wanted = {}) {
  const std::vector<Section> sections{{whole.lowest, Key{20}}, {Key{21}, whole.highest}};
  return calc_gauges(whole, targets_on_record(whole, sections, settings).value(),
                     working_catalogue(settings).value(),
                     equipment_on_record(whole, settings).value(), wanted);
}

const Gauge* gauge_of(const GaugeSet& set, GaugeKind kind) {
  const auto found = std::ranges::find(set.gauges, kind, &Gauge::kind);
  return found == set.gauges.end() ? nullptr : &*found;
}

// One target all over is one gauge, exactly of that size.
TEST(GaugeSizes, OneWhereTargetsAreEqual) {
  const auto set = gauges_with({{"dip-target", "10.05 mm"}}, {GaugeKind::dip});
  ASSERT_EQ(set.gauges.size(), 1U);
  ASSERT_EQ(set.gauges[0].sizes.size(), 1U);
  EXPECT_NEAR(set.gauges[0].sizes[0].mm, 10.05, 1e-12);
  EXPECT_EQ(set.gauges[0].sizes[0].notes.size(), 52U);  // the naturals of 88 keys
}

// Two sections half a tolerance apart are one gauge, a hair more are two: the issue's "more than a
// quarter tolerance" from the gauge on either side. Blow: tolerance 0.5 mm (catalogue).
TEST(GaugeSizes, TwoWhereAQuarterToleranceIsPassed) {
  const auto near = gauges_with({{"blow-target", "46 mm; 45.75 mm"}}, {GaugeKind::blow});
  ASSERT_EQ(near.gauges[0].sizes.size(), 1U);
  const auto far = gauges_with({{"blow-target", "46 mm; 45.74 mm"}}, {GaugeKind::blow});
  ASSERT_EQ(far.gauges[0].sizes.size(), 2U);
  EXPECT_EQ(far.gauges[0].sizes[0].notes.back(), Key{20});
}

TEST(GaugeSizes, LeftOutWithTheReason) {
  const auto set = gauges_with({{"jack-clearance-target", "0 mm"},
                                {"out-of-service", "A0"},
                                {"lacks", "lever-height-button"}});
  using enum GaugeLeftOut::Why;
  std::map<GaugeKind, GaugeLeftOut::Why> why;
  for (const auto& left : set.left_out) why[left.kind] = left.why;
  EXPECT_EQ(why.at(GaugeKind::key_height), no_target);
  EXPECT_EQ(why.at(GaugeKind::sharps_height), no_target);
  EXPECT_EQ(why.at(GaugeKind::aftertouch), no_target);
  EXPECT_EQ(why.at(GaugeKind::sharp_dip), no_sharps_height);
  EXPECT_EQ(why.at(GaugeKind::lever_height), no_note);
  EXPECT_EQ(gauge_of(set, GaugeKind::blow)->asked.front(), Key{2});
}

// 12.3 − 9.7 of a sharp is left above the naturals; nothing is where it goes under.
TEST(GaugeSizes, SharpPressedDown) {
  const auto set = gauges_with({{"sharps-height-target", "12.3 mm"}}, {GaugeKind::sharp_dip});
  ASSERT_EQ(set.gauges.size(), 1U);
  EXPECT_NEAR(set.gauges[0].sizes[0].mm, 2.6, 1e-12);
  const auto under = gauges_with({{"sharps-height-target", "9 mm"}, {"sharp-dip-target", "9.5 mm"}},
                                 {GaugeKind::sharp_dip});
  ASSERT_EQ(under.left_out.size(), 1U);
  EXPECT_EQ(under.left_out[0].why, GaugeLeftOut::Why::sharp_goes_under);
}

// Whatever the targets: each note has exactly one gauge, none is off by more than a quarter of the
// tolerance, and no smaller number would do: among the targets there are as many as there are sizes
// of which no two could share one (counted from below; points no interval of that length joins).
RC_GTEST_PROP(GaugeSizes, EveryNoteWithinAQuarterAndNoFewerWouldDo, ()) {
  const auto hundredths = [](int low, int high) {
    return *rc::gen::inRange(low, high + 1) / 100.0;
  };
  const auto taper = [&](int low, int high) {
    return std::to_string(hundredths(low, high)) + " to " + std::to_string(hundredths(low, high)) +
           " mm";
  };
  const std::map<std::string, std::string> settings{
      {"blow-target", taper(4400, 4800) + "; " + taper(4400, 4800)},
      {"let-off-target", taper(50, 300) + "; " + taper(50, 300)},
      {"dip-target", taper(900, 1100) + "; " + taper(900, 1100)},
      {"jack-clearance-target", taper(5, 60)},
      {"dip-tolerance", *rc::gen::element<std::string>("0.2, 0.1", "0.05, 0.05", "1, 0.5")}};
  const std::vector<Section> sections{{whole.lowest, Key{20}}, {Key{21}, whole.highest}};
  const auto targets = targets_on_record(whole, sections, settings).value();
  const auto set = gauges_with(settings);
  for (const GaugeKind kind :
       {GaugeKind::blow, GaugeKind::let_off, GaugeKind::dip, GaugeKind::lever_height}) {
    const Gauge* gauge = gauge_of(set, kind);
    RC_ASSERT(gauge != nullptr);
    RC_ASSERT(gauge->within == gauge->tolerance / 4);
    const Aim aim = *aim_of(kind_of(kind).reading);
    std::map<Key, int> times;
    std::vector<double> all;
    for (const GaugeSize& size : gauge->sizes) {
      for (const Key key : size.notes) {
        ++times[key];
        const double target = targets.at(aim, key).value();
        all.push_back(target);
        RC_ASSERT(std::abs(target - size.mm) <= gauge->within + 1e-6);
      }
    }
    RC_ASSERT(times.size() == gauge->asked.size());
    for (const auto& [key, count] : times) RC_ASSERT(count == 1);
    std::ranges::sort(all);
    std::size_t apart = 0;
    double last = -1e9;
    for (const double target : all)
      if (target - last > 2 * gauge->within + 1e-6) {
        last = target;
        ++apart;
      }
    RC_ASSERT(gauge->sizes.size() == apart);
  }
}

TEST(GaugeKinds, CodesAreFound) {
  for (const GaugeKindRow& row : gauge_kinds()) {
    EXPECT_EQ(gauge_by_code(row.code), row.id);
    EXPECT_EQ(kind_of(row.id).code, row.code);
  }
  EXPECT_EQ(gauge_by_code(" Key Height "), GaugeKind::key_height);
  EXPECT_FALSE(gauge_by_code("strike"));
}

}  // namespace
}  // namespace batten
