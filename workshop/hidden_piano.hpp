// A piano whose true state nobody at it knows: screws turn it, readings are taken of it, and at the
// end it is judged by the truth. None of its laws is the planner's own.
#pragma once

#include "core/keyboard/compass.hpp"
#include "core/regulation/aims/aim.hpp"
#include "workshop/chance.hpp"
#include "workshop/string_line.hpp"

#include <array>
#include <memory>
#include <span>
#include <string_view>
#include <vector>

namespace batten::workshop {

// Key fronts of naturals over the key bed and sharps over the naturals beside them, as built; mm.
inline constexpr double natural_height = 65.0, sharp_height = 12.2;

// What one note does, were it read without error and with its parts settled.
struct NoteTruth {
  // Catalogue units (key height of a sharp: over the naturals beside it). NaN where the note has no
  // such reading (damper start without damper) or a fault leaves it without one; a blocked hammer's
  // let-off is 0.
  std::array<double, aim_count> aim{};
  // Hammer travel to key travel, integrated to where the hammer falls, by the truth's own account
  // and not by the end points (R1 in docs/theory/action-checks.md).
  double ratio = 0;
  bool blocked = false;        // pressed slowly, the hammer comes to the string
  bool carried = false;        // the lever carries the hammer on: it does not fall
  bool no_escapement = false;  // the key bottoms first
  bool touches_check = false;  // the tail rubs on the way up

  double operator[](Aim a) const { return aim[index_of(a)]; }
  bool harmful() const { return blocked || carried || no_escapement; }
};

class HiddenPiano {
 public:
  virtual ~HiddenPiano() = default;
  HiddenPiano& operator=(const HiddenPiano&) = delete;
  // The same piano in the same state, for another technician.
  virtual std::unique_ptr<HiddenPiano> copy() const = 0;
  // The stored profile that anybody who stands before it would begin from.
  virtual std::string_view looks_like() const = 0;

  const Compass& compass() const { return strings_.compass; }
  const std::vector<Section>& sections() const { return strings_.sections; }
  const StringLine& strings() const { return strings_; }
  // Only the damper wire is ever wanting: where there is no damper.
  bool has(Key key, Adjuster adjuster) const;
  Key first_undamped() const { return first_undamped_; }

  // What the screw really did, catalogue unit and sign.
  void turn(Key key, Adjuster adjuster, double amount);
  // Settles the hammer on its parts.
  void tap(Key key);
  // mm the crown rests nearer the string than it will once tapped: play in the centres, and felt
  // that follows late. What is left after a tap is small but not nothing.
  double unsettled(Key key) const { return unsettled_[place(key)]; }
  // The night passes: centres and leather rub differently.
  void next_day();

  // In the order asked. Only notes touched since are calculated anew, those of one call side by
  // side.
  std::vector<NoteTruth> truth(std::span<const Key> keys);
  std::vector<NoteTruth> truth();

 protected:
  HiddenPiano(StringLine strings, Key first_undamped, std::uint64_t seed);
  HiddenPiano(const HiddenPiano&) = default;

  std::size_t place(Key key) const { return static_cast<std::size_t>(compass().position(key)); }
  Chance& chance() { return chance_; }

  // Key height as the rise of the note's own front over the design, mm.
  virtual std::vector<NoteTruth> calc(std::span<const Key> keys) = 0;
  // Catalogue unit.
  virtual void move(Key key, Adjuster adjuster, double amount) = 0;
  virtual void change_friction() = 0;

 private:
  StringLine strings_;
  Key first_undamped_;
  Chance chance_;
  std::vector<double> unsettled_;
  std::vector<NoteTruth> known_;
  std::vector<bool> stale_;
};

}  // namespace batten::workshop
