#include "app/piano_page.hpp"

#include "app/action_job.hpp"
#include "app/entries.hpp"
#include "app/plan_job.hpp"

#include <utility>

namespace batten {

Result<PianoPage> piano_page(Desk& desk, const Piano& piano) {
  return guarded([&]() -> Result<PianoPage> {
    PianoPage page;
    page.piano = piano;
    auto visits = desk.store.visits(piano.id);
    if (!visits) return tl::unexpected(visits.error());
    page.visits = std::move(*visits);
    auto entries = desk.store.entries(piano.id);
    if (!entries) return tl::unexpected(entries.error());
    page.revision = static_cast<std::int64_t>(entries->size());
    page.standing = fold(*entries);
    page.gate = preparation_gate(page.standing);
    const auto set = page.standing.settings.find(action_profile_setting);
    page.profile_chosen = set != page.standing.settings.end();
    page.profile = page.profile_chosen ? set->second : stand_in_profile;
    return page;
  });
}

}  // namespace batten
