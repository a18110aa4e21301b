#include "app/visits_job.hpp"

#include "core/quantities/text.hpp"

#include <algorithm>
#include <map>

namespace batten {

namespace {

void count_entry(const Entry& e, std::map<Uuid, VisitOnRecord*>& of) {
  const auto found = of.find(e.visit);
  if (found == of.end()) return;
  VisitOnRecord& v = *found->second;
  v.last_ms = std::max(v.last_ms.value_or(e.at_ms), e.at_ms);
  if (!e.who.empty() && std::ranges::find(v.who, e.who) == v.who.end()) v.who.push_back(e.who);
  const auto* r = std::get_if<ReadingTaken>(&e.content);
  ++(r != nullptr ? v.readings : v.moves);
  if (r == nullptr) return;
  if (r->reading == Reading::humidity && !v.humidity) v.humidity = r->value;
  if (r->reading == Reading::temperature && !v.temperature) v.temperature = r->value;
}

Problem no_such_visit(std::string_view text, std::size_t count) {
  return {"There is no visit \"" + std::string(text) + "\".", "",
          "Name one by its number, 1 (the oldest) to " + std::to_string(count) +
              ", as \"batten visits\" lists them."};
}

Result<std::size_t> find_visit(const std::vector<VisitOnRecord>& visits, std::string_view text) {
  if (text.size() <= 3) {
    auto number = parse_number(text);
    const double n = number ? *number : 0;
    for (std::size_t i = 0; i < visits.size(); ++i)
      if (n == static_cast<double>(i + 1)) return i;
    return tl::unexpected(no_such_visit(text, visits.size()));
  }
  std::optional<std::size_t> found;
  for (std::size_t i = 0; i < visits.size(); ++i) {
    if (!to_text(visits[i].visit.id).starts_with(text)) continue;
    if (found)
      return problem("Several visits begin with \"" + std::string(text) + "\".",
                     "Give more of its identity, or its number.");
    found = i;
  }
  if (!found) return tl::unexpected(no_such_visit(text, visits.size()));
  return *found;
}

// The last before `end` in which notes were read.
std::optional<std::size_t> last_read(const std::vector<VisitOnRecord>& visits, std::size_t end) {
  for (std::size_t i = end; i-- > 0;)
    if (visits[i].readings > 0) return i;
  return std::nullopt;
}

}  // namespace

Result<std::vector<VisitOnRecord>> visits_on_record(Desk& desk, const Piano& piano,
                                                    const Standing& standing) {
  return guarded([&]() -> Result<std::vector<VisitOnRecord>> {
    auto all = desk.store.visits(piano.id);
    if (!all) return tl::unexpected(all.error());
    std::ranges::stable_sort(*all, {}, &Visit::begun_ms);
    std::vector<VisitOnRecord> out;
    out.reserve(all->size());
    std::map<Uuid, VisitOnRecord*> of;
    for (Visit& v : *all) {
      out.push_back({std::move(v), {}, {}, 0, 0, {}, {}});
      of[out.back().visit.id] = &out.back();
    }
    for (const Entry& e : standing.readings) count_entry(e, of);
    for (const Entry& e : standing.moves) count_entry(e, of);
    return out;
  });
}

Result<ComparedVisits> compare_two_visits(Desk& desk, const Piano& piano, const PianoPlan& plan,
                                          std::string_view from, std::string_view to) {
  return guarded([&]() -> Result<ComparedVisits> {
    auto visits = visits_on_record(desk, piano, plan.standing);
    if (!visits) return tl::unexpected(visits.error());
    if (visits->size() < 2)
      return problem("There is only one visit; nothing to compare it with.",
                     "Begin another with \"batten visit TITLE\" when you come back.");
    std::optional<std::size_t> second = last_read(*visits, visits->size());
    if (!to.empty()) {
      auto named = find_visit(*visits, to);
      if (!named) return tl::unexpected(named.error());
      second = *named;
    }
    std::optional<std::size_t> first = second ? last_read(*visits, *second) : std::nullopt;
    if (!from.empty()) {
      auto named = find_visit(*visits, from);
      if (!named) return tl::unexpected(named.error());
      first = *named;
    }
    if (!first || !second)
      return problem("Fewer than two visits have readings.", "Read, and come back.");
    if (*first == *second) return problem("A visit cannot be compared with itself.", "Name two.");
    if (*first > *second) std::swap(*first, *second);
    std::vector<Uuid> order;
    for (const VisitOnRecord& v : *visits) order.push_back(v.visit.id);
    ComparedVisits out{
        (*visits)[*first], (*visits)[*second], static_cast<int>(*second - *first) - 1, {}};
    out.compared = compare_visits(plan.standing, plan.plan.situation, plan.model, order,
                                  out.from.visit.id, out.to.visit.id);
    return out;
  });
}

}  // namespace batten
