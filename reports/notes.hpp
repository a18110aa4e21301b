// What the sheet says in words: what to look at first, what is left alone, how sure it all is, what
// to mind, and what is missing while the gate is shut.
#pragma once

#include "core/regulation/catalogue/cautions.hpp"
#include "core/regulation/line/line.hpp"
#include "reports/flow.hpp"
#include "reports/wording.hpp"

#include <string>
#include <vector>

namespace batten::paper {

// Doubtful readings, unisons off level, hammers held, readings worth taking; nothing when there are
// none.
void flow_look_first(Flow& flow, const Line& line, Units units);
// Notes without a move and why; nothing when there are none.
void flow_left_alone(Flow& flow, const Line& line, Units units);
// One sentence: how far off the line is, and what the moves are to make of it.
void flow_summary(Flow& flow, const Line& line, Units units);
// Per section: readings, how sure the targets are, evenness today and to be expected.
void flow_surety(Flow& flow, const Line& line, Units units);
double surety_height(Flow& flow, const Line& line, Units units);
// The cautions that apply, the maker's instructions first, in a ruled box.
void flow_cautions(Flow& flow, const Line& line);
void flow_caution_box(Flow& flow, std::vector<Caution> cautions, const std::string& title);
// The gate's items while it is shut; or why there is no move though it is open.
void flow_gate(Flow& flow, const Line& line);
void flow_no_moves(Flow& flow, const Line& line);

}  // namespace batten::paper
