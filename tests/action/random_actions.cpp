#include "random_actions.hpp"

namespace batten::action::checks {

// SplitMix64 (Steele, Lea & Flood, OOPSLA 2014).
double Chance::between(double low, double high) {
  state_ += 0x9e3779b97f4a7c15U;
  std::uint64_t z = state_;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
  z ^= z >> 31;
  return low + (high - low) * (static_cast<double>(z >> 11) * 0x1p-53);
}

RandomActions random_actions(const Dimensions& middle, int count, double spread,
                             std::uint64_t seed) {
  Chance chance(seed);
  RandomActions out;
  for (int i = 0; i < count; ++i) {
    Dimensions d = middle;
    for (const DimensionField& f : dimension_fields()) {
      if (f.code.starts_with("string-") || f.code.starts_with("head-felt")) continue;
      d.*f.member *= 1 + chance.between(-spread, spread);
    }
    Wanted w;
    w.blow = chance.between(0.044, 0.048);
    w.dip = chance.between(0.0095, 0.0108);
    w.let_off = chance.between(0.001, 0.003);
    w.drop = chance.between(0.0008, 0.0016);
    w.check_distance = chance.between(0.012, 0.016);
    w.jack_clearance = chance.between(0.0001, 0.00025);
    w.jack_position = chance.between(-0.2e-3, 0.2e-3);
    w.damper_start = chance.between(0.42, 0.58);
    w.spring = chance.between(0, 0.15);
    w.key_height = chance.between(-0.3e-3, 0.3e-3);
    out.dimensions.push_back(d);
    out.wanted.push_back(w);
  }
  return out;
}

}  // namespace batten::action::checks
