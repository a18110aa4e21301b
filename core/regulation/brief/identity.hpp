// What blow, dip, let-off and aftertouch have to do with each other on any action, whatever its
// parts: (blow − let-off) / (dip − aftertouch) = R, the hammer's travel for the key's, mean up to
// let-off (trade list archives 2002, 2004). The solver knows R where the ratio changes over the
// stroke; where only readings are known, these are enough.
#pragma once

namespace batten {

// All mm, one positive ratio. No errors: the caller sees to dip > aftertouch.
constexpr double calc_ratio(double blow, double let_off, double dip, double aftertouch) {
  return (blow - let_off) / (dip - aftertouch);
}
// Key travel the hammer needs before it lets go; a shallower dip lets nothing go.
constexpr double calc_escape_depth(double blow, double let_off, double ratio) {
  return (blow - let_off) / ratio;
}
// Negative: how much the dip is short of letting go.
constexpr double calc_aftertouch(double blow, double let_off, double dip, double ratio) {
  return dip - calc_escape_depth(blow, let_off, ratio);
}
constexpr double calc_blow(double let_off, double dip, double aftertouch, double ratio) {
  return ratio * (dip - aftertouch) + let_off;
}

}  // namespace batten
