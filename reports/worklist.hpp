// The moves in working order, to be ticked off with one hand.
#pragma once

#include "core/regulation/line/line.hpp"
#include "reports/flow.hpp"
#include "reports/wording.hpp"

namespace batten::paper {

// Nothing when no move is advised. Two columns a page, read down the left one first; the samples
// are a group of their own at the head, then each section.
void flow_worklist(Flow& flow, const Line& line, Units units);

}  // namespace batten::paper
