#include "cli/drift_commands.hpp"

#include "cli/desk_work.hpp"
#include "json/drift_json.hpp"

#include <memory>

namespace batten::cli {

namespace {

struct DriftWords {
  std::string limit, months, after;
};

Result<DriftRequest> asked(const DriftWords& words) {
  DriftRequest request;
  if (!words.limit.empty()) {
    auto limit = parse_share(words.limit);
    if (!limit) return tl::unexpected(limit.error());
    request.limit = *limit;
  }
  if (!words.months.empty()) {
    auto months = parse_months(words.months);
    if (!months) return tl::unexpected(months.error());
    request.months = *months;
  }
  return request;
}

int drift(const Common& common, const DriftWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto revision = desk.store.revision(piano.id);
    if (!revision) return fail(common, revision.error());
    if (!words.after.empty()) {
      auto checks = first_checks(desk, piano, words.after);
      if (!checks) return fail(common, checks.error());
      say(common.json ? to_json(*checks, *revision) : checks_text(*checks, common.inches));
      return done;
    }
    auto request = asked(words);
    if (!request) return fail(common, request.error());
    auto outlook = look_ahead(desk, piano, *request);
    if (!outlook) return fail(common, outlook.error());
    say(common.json ? to_json(piano, *outlook, *revision)
                    : drift_text(piano, *outlook, common.inches));
    return done;
  });
}

}  // namespace

void add_drift_commands(CLI::App& app, const Common& common, Command& chosen) {
  auto w = std::make_shared<DriftWords>();
  auto* d = command(app, chosen, "drift", "how it will wander, and when to come back",
                    "  batten drift\n"
                    "  batten drift --limit 15 --months 36\n"
                    "  batten drift --after dry                    what to look at first",
                    [w, &common] { return drift(common, *w); });
  d->add_option("--limit", w->limit,
                "percent of readings outside tolerance at which to come back (20, or as set)");
  d->add_option("--months", w->months, "how far to look ahead, 1 to 60 (24)");
  d->add_option("--after", w->after,
                "first things to check: dry, wet, heavy-use, new-felt, transport, new-hammers");
}

}  // namespace batten::cli
