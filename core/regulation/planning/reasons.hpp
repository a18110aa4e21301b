// Why something is asked for, or is not: the facts, so that every front end can say them in words
// of its own. words.hpp has the English ones.
#pragma once

#include "core/regulation/planning/plan.hpp"

#include <cstdint>
#include <optional>
#include <string_view>
#include <variant>
#include <vector>

namespace batten {

// Numbers are in the unit of the reading beside them unless said otherwise; spreads are one
// standard deviation.

// How an aim stands at the note.
struct StandsAt {
  Reading reading = Reading::blow;
  double value = 0, sd = 0;
  double target = 0, tolerance = 0;
  double chance = 0;  // to lie outside the tolerance, 0…1
  int readings = 0;   // since its adjuster was last moved
  bool read = false;  // ever
};
// Off, and to be set.
struct WhatIsOff {
  StandsAt stands;
};
// Known of what is to be read, or is left.
struct WhatIsKnown {
  StandsAt stands;
};
// It is moved from where it should be, within its tolerance, for the sake of others.
struct GivesWay {
  std::vector<Reading> sake;  // may be empty: of all together
};
// What the adjuster is for.
struct Purpose {
  Adjuster adjuster = Adjuster::capstan;
};
// What one unit (turn, mm, step) in the + direction does to the adjuster's own reading.
struct TurnDoes {
  Adjuster adjuster = Adjuster::capstan;
  Reading reading = Reading::blow;
  double change = 0;
  double share_sd = 0;          // spread as a share of the change
  int here = 0, elsewhere = 0;  // moves it was learned from, in this section and in the others
};
// Effects worth saying besides.
struct AlsoMoves {
  Key key;
  std::vector<Effect> effects;
};
// Later passes take it on from where this move leaves it.
struct LaterPasses {
  Reading reading = Reading::blow;
  double after = 0, at_the_end = 0;
};
// Why the pass stands where it stands. Amounts are shares of a tolerance, mean over the notes.
struct OrderPlace {
  struct Shift {
    Adjuster adjuster = Adjuster::capstan;
    double by = 0;
  };
  Adjuster adjuster = Adjuster::capstan;
  std::optional<Shift> spares;     // the pass that this one would undo most, came it later
  std::optional<Shift> disturbed;  // the later pass that undoes most of this one
};
// What is asked after the move.
struct Afterwards {
  Reading reading = Reading::blow;
  bool read_again = false;
};
struct WhyRead {
  enum class Cause : std::uint8_t {
    does_not_fit,
    never_read,
    moved_since,
    unsure
  } cause = Cause::unsure;
  Adjuster adjuster = Adjuster::capstan;
  std::vector<Hold> waiting;  // moves that the reading could release
};
// How it is read.
struct HowToRead {
  Reading reading = Reading::blow;
};
struct WhyNothing {
  enum class Cause : std::uint8_t {
    held,  // see holds
    out_of_service,
    left_knowingly,
    no_time,
    not_asked,
    gate_shut,
    doubted,
    not_read,
    inside,
  } cause = Cause::inside;
  std::vector<Hold> holds;
};

using Reason = std::variant<WhatIsOff, WhatIsKnown, GivesWay, Purpose, TurnDoes, AlsoMoves,
                            LaterPasses, OrderPlace, Afterwards, WhyRead, HowToRead, WhyNothing>;

// "off", "known", "gives-way", "purpose", "turn-does", "also-moves", "later-passes", "order",
// "afterwards", "why-read", "how", "why-nothing"
std::string_view code_of(const Reason& reason);

OrderPlace place_in_order(const OrderReport& order, Adjuster adjuster);
// All that may be asked of an instruction, in the order it is best told.
std::vector<Reason> reasons_for(const Plan& plan, const ActionModel& model,
                                const Instruction& step);
// The same of an adjuster at a note of which nothing is asked.
std::vector<Reason> reasons_for_nothing(const Plan& plan, const ActionModel& model, Key key,
                                        Adjuster adjuster);

}  // namespace batten
