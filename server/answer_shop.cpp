#include "app/backups.hpp"
#include "app/shop_settings.hpp"
#include "json/shop_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"
#include "server/body.hpp"

#include <nlohmann/json.hpp>

namespace batten::server {

namespace {

// All of it, as every one of these answers ends.
Response shop_now(Answering& with) {
  auto settings = shop_settings(with.desk);
  if (!settings) return refused(settings.error(), 503);
  auto made = backups(with.desk);
  if (!made) return refused(made.error(), 503);
  return ok(shop_to_json(*settings, with.desk.store.logo(), *made));
}

}  // namespace

Response get_shop(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {}); !known) return refused(known.error());
  return without_throwing([&] { return shop_now(with); });
}

Response post_shop(Answering& with, const Request& request) {
  return without_throwing([&] {
    auto body = body_object(request, {"name", "value"});
    if (!body) return refused(body.error());
    auto name = text_in(*body, "name");
    if (!name) return refused(name.error());
    auto value = text_in(*body, "value");
    if (!value) return refused(value.error());
    // Who comes over the network shall not choose where this machine writes files.
    if (*name == "backup-folder" && !request.device.empty())
      return refused({"Where backups are kept is chosen at the piano's machine.",
                      "What was set before holds.", "Open the page there."},
                     403);
    if (auto chosen = choose_for_shop(with.desk, *name, *value); !chosen)
      return refused(chosen.error(), 422);
    return shop_now(with);
  });
}

Response get_logo(Answering& with, const Request& request) {
  // ?turn=: so that a browser asks again.
  if (auto known = only_asks(request, {"turn"}); !known) return refused(known.error());
  return without_throwing([&] {
    const auto logo = with.desk.store.logo();
    if (!logo)
      return not_there({"There is no logo.", {}, "Choose one in the workshop's settings."});
    Response r = ok({logo->bytes.begin(), logo->bytes.end()});
    r.type = logo->media_type;
    return r;
  });
}

Response put_logo(Answering& with, const Request& request) {
  return without_throwing([&] {
    auto logo = check_logo(request.body);
    if (!logo) return refused(logo.error(), 422);
    if (auto kept = choose_logo(with.desk, *logo); !kept) return refused(kept.error(), 422);
    return shop_now(with);
  });
}

Response delete_logo(Answering& with, const Request& request) {
  if (auto known = only_asks(request, {}); !known) return refused(known.error());
  return without_throwing([&] {
    if (auto gone = choose_logo(with.desk, std::nullopt); !gone) return refused(gone.error(), 422);
    return shop_now(with);
  });
}

}  // namespace batten::server
