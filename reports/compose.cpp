#include "reports/compose.hpp"

#include "reports/flow.hpp"
#include "reports/notes.hpp"
#include "reports/strip.hpp"
#include "reports/worklist.hpp"

namespace batten::paper {

std::vector<std::unique_ptr<Page>> compose_line_sheet(const Line& line, const SheetHeading& heading,
                                                      const SheetOptions& options) {
  const Units units{options.inches, options.decimal_comma};
  Flow flow(options.paper, heading, "Hammer line");
  flow_summary(flow, line, units);
  flow.y += draw_strip(flow.page(), line, units, flow.left(), flow.y, flow.width()) + 12;
  // What keeps the hand off the capstans stands before everything else, what is to be minded
  // before the first move.
  flow_gate(flow, line);
  flow_no_moves(flow, line);
  flow_look_first(flow, line, units);
  // How sure it all is fills what is left of the first page, or else comes last.
  const bool early = surety_height(flow, line, units) <= flow.room();
  if (early) flow_surety(flow, line, units);
  flow_cautions(flow, line);
  flow_worklist(flow, line, units);
  flow_left_alone(flow, line, units);
  if (!early) flow_surety(flow, line, units);
  return flow.finish();
}

}  // namespace batten::paper
