#include "core/action/prepare.hpp"

namespace batten::action {

Result<PreparedNote> prepare_note(const Profile& profile, Key key, const Wanted* wanted) {
  if (auto ok = check(profile); !ok) return tl::unexpected(ok.error());
  const auto at_note = [&](Problem p) {
    p.happened = note_name(key) + ": " + p.happened;
    return tl::unexpected(std::move(p));
  };
  const Anchor anchor = note_of(profile, key);
  PreparedNote out;
  out.key = key;
  out.wanted = wanted != nullptr ? *wanted : anchor.wanted;
  out.balance_weight = anchor.balance_weight;
  out.note.dimensions = anchor.dimensions;
  auto lead = solve_lead(out.note, anchor.balance_weight);
  if (!lead) return at_note(lead.error());
  out.note.dimensions.lead_mass = *lead;
  auto regulated = solve_regulation(out.note.dimensions, out.wanted);
  if (!regulated) return at_note(regulated.error());
  out.note.adjustments = regulated->adjustments;
  out.regulated = std::move(*regulated);
  return out;
}

}  // namespace batten::action
