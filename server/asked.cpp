#include "server/asked.hpp"

#include "app/pianos.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <exception>

namespace batten::server {

Response without_throwing(const std::function<Response()>& answer) {
  try {
    return answer();
  } catch (const std::exception& failure) {
    return refused(explain(failure), 503);
  }
}

Response at_piano(Answering& with, const Request& request,
                  const std::function<Response(const Asked&)>& answer) {
  return without_throwing([&] {
    const std::string& id = request.part("piano");
    // By identity only: a name may be another piano's tomorrow.
    const auto known = parse_uuid(id);
    if (!known) return not_there(known.error());
    auto piano = with.desk.store.find_piano(id);
    if (!piano || piano->id != *known)
      return not_there({fmt::format("There is no piano {} here.", id),
                        {},
                        "Go back to the list of pianos and choose one."});
    auto revision = with.desk.store.revision(piano->id);
    if (!revision) return not_there(revision.error());
    return answer({*piano, *revision});
  });
}

Response at_revision(Answering& with, const Request& request,
                     const std::function<Result<std::string>(const Asked&)>& make) {
  return at_piano(with, request, [&](const Asked& asked) {
    std::string key = fmt::format("{} {}", asked.revision, request.path);
    // Pages are as the workshop has them.
    for (const auto& [name, value] : with.desk.store.shop())
      key += fmt::format("@{}:{}={}:{}", name.size(), name, value.size(), value);
    for (const auto& [name, value] : request.query)
      key += fmt::format("&{}:{}={}:{}", name.size(), name, value.size(), value);
    if (auto kept = with.cache.find(key)) {
      Response again;
      again.body = std::move(kept);
      return again;
    }
    auto text = make(asked);
    if (!text) return refused(text.error(), 422);
    Response first;
    first.body = with.cache.keep(key, std::move(*text));
    return first;
  });
}

Result<std::shared_ptr<const PianoPlan>> plan_for(Answering& with, const Piano& piano,
                                                  std::optional<double> minutes) {
  return with.cache.plans.plan(with.desk, piano, {minutes});
}

Result<void> only_asks(const Request& request, std::initializer_list<std::string_view> known) {
  for (const auto& [name, value] : request.query) {
    if (std::ranges::find(known, name) != known.end()) continue;
    std::string there;
    for (const std::string_view k : known)
      there += fmt::format("{}{}", there.empty() ? "" : ", ", k);
    return problem(fmt::format("\"{}\" cannot be asked for here.", name),
                   there.empty() ? "Ask without anything behind the \"?\"."
                                 : fmt::format("There is: {}.", there));
  }
  return {};
}

Result<std::optional<double>> asked_minutes(const Request& request) {
  const std::string& text = request.asked("minutes");
  if (text.empty()) return std::optional<double>{};
  auto minutes = parse_minutes(text);
  if (!minutes) return tl::unexpected(minutes.error());
  return std::optional<double>{*minutes};
}

Result<Key> key_at(const Piano& piano, std::string_view note) {
  auto key = parse_key(note);
  if (key && !compass_of(piano).contains(*key))
    return problem(note_name(*key) + " is not on this keyboard.", "Check the note.");
  return key;
}

}  // namespace batten::server
