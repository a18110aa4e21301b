#include "app/piano_page.hpp"
#include "app/pianos.hpp"
#include "json/catalogue_json.hpp"
#include "json/journal_json.hpp"
#include "json/piano_json.hpp"
#include "json/studio_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"
#include "server/entry_body.hpp"

namespace batten::server {

Response get_catalogue(Answering& with, const Request& request) {
  if (auto ok = only_asks(request, {}); !ok) return refused(ok.error());
  return without_throwing([&] {
    Response r;
    r.body = with.cache.find("catalogue");
    if (!r.body) r.body = with.cache.keep("catalogue", catalogue_to_json());
    return r;
  });
}

Response get_pianos(Answering& with, const Request& request) {
  if (auto ok = only_asks(request, {}); !ok) return refused(ok.error());
  return without_throwing([&] {
    auto kept = studio_list_kept(with.desk);
    return kept ? ok(to_json(with.desk.store.pianos(), *kept)) : refused(kept.error(), 503);
  });
}

Response post_pianos(Answering& with, const Request& request) {
  return without_throwing([&] {
    auto wanted = piano_in(request);
    if (!wanted) return refused(wanted.error());
    auto piano = add_piano(with.desk, *wanted);
    if (!piano) return refused(piano.error(), 422);
    const std::string said = to_json(*piano);
    with.tell({{}, "pianos", "{}"});
    return ok(said);
  });
}

Response get_piano(Answering& with, const Request& request) {
  if (auto ok = only_asks(request, {}); !ok) return refused(ok.error());
  return at_piano(with, request, [&](const Asked& asked) {
    auto page = piano_page(with.desk, asked.piano);
    return page ? ok(to_json(*page)) : refused(page.error(), 422);
  });
}
Response post_visits(Answering& with, const Request& request) {
  return at_piano(with, request, [&](const Asked& asked) {
    auto wanted = visit_in(request);
    if (!wanted) return refused(wanted.error());
    auto visit = begin_visit(with.desk, asked.piano, wanted->title, wanted->id);
    if (!visit) return refused(visit.error(), 422);
    with.tell({to_text(asked.piano.id), "changed", changed_to_json(asked.piano, asked.revision)});
    return ok(to_json(*visit));
  });
}

}  // namespace batten::server
