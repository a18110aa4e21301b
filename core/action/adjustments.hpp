// What the hand can set on one note, as displacements at the part, in SI units.
#pragma once

namespace batten::action {

// Zero everywhere is the design: blow, dip, lever height, jack position, check and damper start of
// the design; let-off button and drop screw are given from where they are out of the way.
struct Adjustments {
  double capstan = 0;            // m the capstan is raised
  double balance_punchings = 0;  // m the balance point is raised
  double front_punchings = 0;    // m the front punching is raised; dip less
  double jack_button = 0;        // m at the button, + moves the jack toward the player
  double lever_button = 0;       // m at the button, + lets the lever higher
  double spring = 0;             // share the repetition spring is strengthened: 0.1 is a tenth more
  double let_off_button = 0;     // m the button is lowered from clear of the toe: earlier let-off
  double drop_screw = 0;         // m the screw is lowered from clear of the lever: earlier stop
  double back_check = 0;         // m the check's face is moved toward the hammer
  double damper_wire = 0;        // m the damper is raised off the key: later start
};

inline constexpr int adjustment_count = 10;
// In the order above.
inline constexpr double Adjustments::*adjustment_members[adjustment_count] = {
    &Adjustments::capstan,        &Adjustments::balance_punchings, &Adjustments::front_punchings,
    &Adjustments::jack_button,    &Adjustments::lever_button,      &Adjustments::spring,
    &Adjustments::let_off_button, &Adjustments::drop_screw,        &Adjustments::back_check,
    &Adjustments::damper_wire,
};

}  // namespace batten::action
