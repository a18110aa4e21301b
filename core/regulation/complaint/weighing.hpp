// How likely an entry of the table makes what was felt and read. Internal to
// core/regulation/complaint.
#pragma once

#include "core/regulation/complaint/complaint.hpp"

namespace batten::complaint {

// What a hand that regulates well leaves at every note, and what one note's friction and lead
// differ from its neighbours': standard deviation in the look's unit (estimates, no source).
double leftover(Look look);

// Chance (of a grade or of being unreadable) or density (of a figure) of a sighting; > 0 always,
// because anybody may misread. The sighting's value is already beside the table's sound note.
struct Seen {
  Look look = Look::blow;
  bool readable = true;
  double value = 0, uncertainty = 1;
};
double calc_likelihood(const ComplaintTable& table, const ComplaintTable::Entry& entry,
                       const Seen& seen);
// log of the chance of just these complaints and no others.
double calc_log_mention(const ComplaintTable::Entry& entry,
                        const std::array<bool, complaint_count>& felt);

// Bins of a look's outcomes: `bins` figures and, last, "cannot be read".
inline constexpr std::size_t bins = 24;
// Fills table.outcomes, look by look, bin by bin, entry by entry; its entries must be complete.
void fill_outcomes(ComplaintTable& table);
// bits. Expected entropy over causes after the looks, from the entries' chances now. What one look
// tells is taken to be independent of what another does once the entry is given.
double calc_entropy_after(const ComplaintTable& table, std::span<const Look> looks,
                          std::span<const double> chances);
// bits, over causes.
double calc_entropy(const ComplaintTable& table, std::span<const double> chances);

}  // namespace batten::complaint
