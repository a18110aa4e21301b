#include "app/backups.hpp"
#include "app/bundle_job.hpp"
#include "json/piano_json.hpp"
#include "json/shop_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"

namespace batten::server {

Response get_bundle(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {}); !known) return refused(known.error());
  return at_piano(with, request, [&](const Asked& asked) {
    auto text = bundle_of(with.desk, asked.piano);
    if (!text) return refused(text.error(), 422);
    return file_response(std::move(*text), "application/json",
                         bundle_name(asked.piano, with.desk.now_ms()));
  });
}

Response post_bundle(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {"as"}); !known) return refused(known.error());
  return without_throwing([&] {
    auto taken = take_bundle(with.desk, request.body, request.asked("as"), !request.device.empty());
    if (!taken) return refused(taken.error(), 422);
    const MergeOutcome& m = taken->merged;
    if (m.piano_added) with.tell({{}, "pianos", "{}"});
    if (m.entries_added > 0 || m.visits_added > 0 || m.moved_back > 0)
      with.tell({to_text(m.piano.id), "changed", changed_to_json(m.piano, taken->revision)});
    return ok(to_json(*taken));
  });
}

Response get_backups(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {}); !known) return refused(known.error());
  return without_throwing([&] {
    auto made = backups(with.desk);
    return made ? ok(to_json(*made)) : refused(made.error(), 503);
  });
}

Response post_backups(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {}); !known) return refused(known.error());
  return without_throwing([&] {
    if (auto made = make_backup_now(with.desk); !made) return refused(made.error(), 503);
    auto all = backups(with.desk);
    return all ? ok(to_json(*all)) : refused(all.error(), 503);
  });
}

}  // namespace batten::server
