#include "app/studio_job.hpp"

#include "app/drift_job.hpp"
#include "app/entries.hpp"
#include "app/pianos.hpp"
#include "app/shop_settings.hpp"
#include "app/studio_memo.hpp"
#include "core/regulation/planning/pace.hpp"
#include "core/regulation/studio/next_visit.hpp"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>

namespace batten {

namespace {

constexpr std::int64_t day_ms = 86'400'000, kept_ms = 31 * day_ms;
// Outlooks are kept in such portions, so that what was reckoned stays when the rest is broken off.
constexpr std::size_t portion = 25;
// As the outlook's own where nothing is set (common practice, no source).
constexpr double usual_limit = 0.2;

Result<StudioMemo> remember(Desk& desk, const Piano& piano, std::int64_t now,
                            const std::optional<double>& shop_limit) {
  auto held = standing(desk, piano);
  if (!held) return tl::unexpected(held.error());
  const Compass compass = compass_of(piano);
  auto outlook = look_ahead(piano, *held, now, shop_limit);
  if (!outlook) return tl::unexpected(outlook.error());
  StudioMemo memo;
  memo.from_ms = now;
  memo.last_done_ms = outlook->last_work_ms;
  memo.due = outlook->due.state;
  memo.due_ms = outlook->due.at_ms;
  memo.low_ms = outlook->due.low_ms;
  memo.high_ms = outlook->due.high_ms;
  memo.known = outlook->known;
  for (const OutlookPoint& p : outlook->points) memo.shares.emplace_back(p.at_ms, p.share);
  if (memo.known == 0) return memo;
  auto catalogue = working_catalogue(held->settings);
  if (!catalogue) return tl::unexpected(catalogue.error());
  auto equipment = equipment_on_record(compass, held->settings);
  if (!equipment) return tl::unexpected(equipment.error());
  const NextVisit visit =
      calc_next_visit(*outlook, compass, *equipment, *catalogue, learn_paces(*held, *catalogue));
  memo.worst = visit.worst;
  memo.minutes_now = visit.minutes_now;
  memo.minutes_at_return = visit.minutes_at_return;
  memo.worth = visit.worth;
  return memo;
}

StudioPiano of_memo(const PianoSummary& summary, const StudioMemo& memo, std::int64_t now) {
  StudioPiano p;
  p.piano = summary.piano;
  p.visits = summary.visit_count;
  p.last_done_ms = memo.last_done_ms;
  p.due = memo.due;
  p.due_ms = memo.due_ms;
  p.low_ms = memo.low_ms;
  p.high_ms = memo.high_ms;
  // The day has come since it was reckoned.
  if (p.due == DueState::due_at && p.due_ms && *p.due_ms <= now) p.due = DueState::overdue;
  if (memo.known == 0) return p;
  p.share_now = memo.share_at(now);
  const bool overdue = p.due == DueState::overdue;
  if (overdue)
    p.share_at_return = p.share_now;
  else if (p.due == DueState::due_at && p.due_ms)
    p.share_at_return = memo.share_at(*p.due_ms);
  p.worst = memo.worst;
  p.minutes = overdue ? memo.minutes_now : memo.minutes_at_return;
  p.worth = memo.worth;
  return p;
}

int rank(DueState state) {
  switch (state) {
    case DueState::overdue:
      return 0;
    case DueState::due_at:
      return 1;
    case DueState::beyond:
      return 2;
    case DueState::unknown:
      break;
  }
  return 3;
}

auto order_of(const StudioPiano& p) {
  const bool dated = p.due == DueState::due_at;
  return std::tuple(rank(p.due), dated ? p.due_ms.value_or(0) : 0, -p.share_now.value_or(0),
                    p.piano.name);
}

// Whether what is kept still says how it is.
bool holds(const StudioMemo& memo, std::int64_t now) {
  return memo.from_ms <= now && now - memo.from_ms <= kept_ms;
}

Result<StudioList> make_list(Desk& desk, bool reckon) {
  StudioList list;
  list.now_ms = desk.now_ms();
  const std::optional<double> limit = return_limit_of(desk.store.shop());
  list.limit = limit.value_or(usual_limit);
  const std::string model = memo_model(limit);
  std::map<Uuid, KeptOutlook> kept;
  for (KeptOutlook& k : desk.store.kept_outlooks())
    if (k.model == model) kept.emplace(k.piano, std::move(k));
  std::vector<KeptOutlook> anew;
  for (const PianoSummary& summary : desk.store.pianos()) {
    const auto known = kept.find(summary.piano.id);
    std::optional<StudioMemo> memo;
    if (known != kept.end() && known->second.revision == summary.entry_count)
      memo = parse_memo(known->second.text);
    if (memo && !holds(*memo, list.now_ms)) memo.reset();
    if (!memo && reckon) {
      auto made = remember(desk, summary.piano, list.now_ms, limit);
      // Settings that cannot be read: nothing is known, and said so until they are set right.
      memo = made ? std::move(*made) : StudioMemo();
      memo->from_ms = list.now_ms;
      anew.push_back({summary.piano.id, summary.entry_count, model, print_memo(*memo)});
      ++list.reckoned;
      if (anew.size() >= portion) {
        desk.store.keep_outlooks(anew);
        anew.clear();
      }
    }
    if (memo) list.pianos.push_back(of_memo(summary, *memo, list.now_ms));
  }
  desk.store.keep_outlooks(anew);
  std::ranges::stable_sort(list.pianos, {}, order_of);
  return list;
}

}  // namespace

Result<StudioList> studio_list(Desk& desk) {
  return guarded([&] { return make_list(desk, true); });
}

Result<StudioList> studio_list_kept(Desk& desk) {
  return guarded([&] { return make_list(desk, false); });
}

}  // namespace batten
