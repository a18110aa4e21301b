// The blocks of a plan's sheet.
#pragma once

#include "reports/page.hpp"
#include "reports/plan_sheet.hpp"
#include "reports/wording.hpp"

#include <memory>
#include <vector>

namespace batten::paper {

std::vector<std::unique_ptr<Page>> compose_plan_sheet(const Plan& plan, const PlanSheetWords& words,
                                                      const SheetHeading& heading,
                                                      const SheetOptions& options);

// "raise", "take out", "toward player": what the hand does, as short as a row allows.
std::string short_direction(Adjuster adjuster, double amount);
// "3/64", "0.25 + 0.08", "2": in the unit `amount_unit` heads the column with.
std::string short_amount(const Instruction& step, Units units);
std::string amount_unit(Adjuster adjuster, Units units);

}  // namespace batten::paper
