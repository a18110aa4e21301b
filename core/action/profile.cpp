#include "core/action/profile.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace batten::action {

namespace {

// No damper: Dimensions::damper_start above one.
constexpr double no_damper = 99;

double between(double a, double b, double share) { return a + share * (b - a); }

constexpr double Wanted::*wanted_members[] = {
    &Wanted::blow,           &Wanted::let_off,      &Wanted::drop,           &Wanted::dip,
    &Wanted::check_distance, &Wanted::key_height,   &Wanted::jack_clearance, &Wanted::jack_position,
    &Wanted::spring,         &Wanted::damper_start,
};

Anchor mix(const Anchor& a, const Anchor& b, double share) {
  Anchor out = a;
  for (const DimensionField& f : dimension_fields())
    out.dimensions.*f.member = between(a.dimensions.*f.member, b.dimensions.*f.member, share);
  // There is no string and a half.
  out.dimensions.string_count = std::round(out.dimensions.string_count);
  for (double Wanted::*member : wanted_members)
    out.wanted.*member = between(a.wanted.*member, b.wanted.*member, share);
  out.balance_weight = between(a.balance_weight, b.balance_weight, share);
  return out;
}

// A sharp is played nearer to its pin, and its pin lies farther back; what is fixed to the frame
// keeps its place, so it is nearer to the pin by as much.
void make_sharp(const Profile& p, Anchor& note) {
  Dimensions& d = note.dimensions;
  d.key_front -= p.sharp_shorter;
  d.front_rail -= p.sharp_shorter;
  for (double Dimensions::*behind : {&Dimensions::capstan_x, &Dimensions::wippen_x,
                                     &Dimensions::back_rail, &Dimensions::damper_x})
    d.*behind -= p.sharp_pin_back;
  d.design_dip += p.sharp_dip;
  note.wanted.dip += p.sharp_dip;
}

}  // namespace

Result<void> check(const Profile& profile) {
  if (profile.anchors.size() < 2)
    return problem("The profile \"" + profile.name + "\" gives fewer than two notes.",
                   "Give at least the lowest and the highest.");
  for (std::size_t i = 1; i < profile.anchors.size(); ++i)
    if (profile.anchors[i].key <= profile.anchors[i - 1].key)
      return problem("The profile's notes do not rise: " + note_name(profile.anchors[i].key) +
                         " stands behind " + note_name(profile.anchors[i - 1].key) + ".",
                     "Order them from bass to treble, each once.");
  // Wide spans again, for slips of the hand.
  if (!(profile.sharp_shorter >= 0 && profile.sharp_shorter <= 0.060) ||
      !(profile.sharp_pin_back >= 0 && profile.sharp_pin_back <= 0.030) ||
      !(profile.sharp_dip >= -0.002 && profile.sharp_dip <= 0.002))
    return problem("The profile's sharps cannot be so.",
                   "They are up to 60 mm shorter, their pin up to 30 mm farther back, their dip "
                   "within 2 mm of the naturals'.");
  for (const Anchor& a : profile.anchors)
    if (auto ok = check(a.dimensions); !ok) {
      Problem p = ok.error();
      p.happened = "At " + note_name(a.key) + ": " + p.happened;
      return tl::unexpected(p);
    }
  return {};
}

Anchor note_of(const Profile& profile, Key key) {
  const std::vector<Anchor>& all = profile.anchors;
  const auto above =
      std::find_if(all.begin(), all.end(), [&](const Anchor& a) { return a.key >= key; });
  Anchor note;
  if (above == all.begin()) {
    note = all.front();
  } else if (above == all.end()) {
    note = all.back();
  } else {
    const Anchor& below = *(above - 1);
    note = mix(below, *above,
               static_cast<double>(key.number - below.key.number) /
                   (above->key.number - below.key.number));
  }
  note.key = key;
  if (is_sharp(key)) make_sharp(profile, note);
  if (key >= profile.first_undamped) note.dimensions.damper_start = no_damper;
  return note;
}

}  // namespace batten::action
