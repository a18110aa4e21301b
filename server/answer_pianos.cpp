#include "app/piano_page.hpp"
#include "app/pianos.hpp"
#include "json/catalogue_json.hpp"
#include "json/journal_json.hpp"
#include "json/piano_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"

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
  return without_throwing([&] { return ok(to_json(with.desk.store.pianos())); });
}

Response post_pianos(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response get_piano(Answering& with, const Request& request) {
  if (auto ok = only_asks(request, {}); !ok) return refused(ok.error());
  return at_piano(with, request, [&](const Asked& asked) {
    auto page = piano_page(with.desk, asked.piano);
    return page ? ok(to_json(*page)) : refused(page.error(), 422);
  });
}
Response post_visits(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}

}  // namespace batten::server
