// The server's own addresses: session, pairing, devices, and the door of the event streams.
#include "app/line_job.hpp"
#include "json/device_json.hpp"
#include "server/bodies.hpp"
#include "server/qr.hpp"
#include "server/reception.hpp"
#include "server/secrets.hpp"

#include <nlohmann/json.hpp>

#include <array>
#include <exception>
#include <utility>

namespace batten::server {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::array table{
    // clang-format off
    Route{Method::get,  "/api/hello",               Lane::desk, nullptr, 0,    "whether this is Batten, and whether it knows the device"},
    Route{Method::get,  "/api/session",             Lane::desk, nullptr, 0,    "who is asking, and the token that writing needs"},
    Route{Method::get,  "/api/events",              Lane::desk, nullptr, 0,    "what is written down, as it is, of ?piano="},
    Route{Method::post, "/api/pair",                Lane::desk, nullptr, 1024, "lets a device in for the code it was told"},
    Route{Method::post, "/api/pairing",             Lane::desk, nullptr, 1024, "a new pairing code (this machine only)"},
    Route{Method::get,  "/api/devices",             Lane::desk, nullptr, 0,    "devices paired and revoked (this machine only)"},
    Route{Method::post, "/api/devices/{id}/revoke", Lane::desk, nullptr, 1024, "shuts a device out (this machine only)"},
    // clang-format on
};

std::string seconds(std::int64_t ms) { return std::to_string((ms + 999) / 1000); }

Response pairing_refused(const Pairing::Answer& answer) {
  switch (answer.outcome) {
    case Pairing::Outcome::no_code: {
      return refused(
          {"No pairing code is open: none was made, or it has been used, has expired, or "
           "was tried too often.",
           "This device was not paired.", "Have the piano's machine show a new code."},
          403);
    }
    case Pairing::Outcome::too_soon: {
      Response r = refused({"The last try was too short a time ago.", "This one was not looked at.",
                            "Try again in " + seconds(answer.wait_ms) + " s."},
                           429);
      r.headers["Retry-After"] = seconds(answer.wait_ms);
      return r;
    }
    default: {
      Response r = refused({"That is not the code.", "This device was not paired.",
                            "Look at the code again; the next try is looked at in " +
                                seconds(answer.wait_ms) + " s."},
                           403);
      r.headers["Retry-After"] = seconds(answer.wait_ms);
      return r;
    }
  }
}

}  // namespace

std::optional<PairingAsked> pairing_in(const std::string& body) {
  const Json json = Json::parse(body, nullptr, false);
  if (!json.is_object() || !json.contains("code") || !json.contains("name")) return std::nullopt;
  const Json &code = json["code"], &name = json["name"];
  if (!code.is_string() || !name.is_string()) return std::nullopt;
  return PairingAsked{code.get<std::string>(), name.get<std::string>()};
}

std::span<const Route> own_routes() { return table; }

Response Reception::session(const std::string& device) const {
  return ok(Json{{"token", token_},
                 {"who", parts_.who},
                 {"device", device.empty() ? Json(nullptr) : Json(device)},
                 {"lan", !parts_.lan_url.empty()},
                 {"version", parts_.version}}
                .dump());
}

Decision Reception::own(const Head& head, const Route& route, Request request) {
  Decision d;
  d.request = std::move(request);
  const std::string_view path = route.pattern;
  const bool only_here = path == "/api/pairing" || path.starts_with("/api/devices");
  if (only_here && head.paired_only) {
    d.answer = refused({"Devices are let in and shut out at the piano's machine only.",
                        "Nothing was changed.", "Do it there."},
                       403);
  } else if (path == "/api/hello") {
    const bool known =
        !head.paired_only || parts_.guests.find(cookie(head.cookie, device_cookie)).has_value();
    d.answer = ok(Json{{"app", "batten"}, {"paired", known}, {"version", parts_.version}}.dump());
  } else if (path == "/api/session") {
    d.answer = session(d.request.device);
  } else if (path == "/api/events") {
    if (head.method == "HEAD") {
      d.answer = refused({"A stream of events has no head alone.", {}, "Ask with GET."}, 405);
      d.answer->headers["Allow"] = "GET";
    } else if (parts_.streams.is_full()) {
      d.answer = cannot_read(503);
      d.answer->headers["Retry-After"] = "5";
    } else {
      d.stream = true;
    }
  } else if (path == "/api/pair") {
    d.work = [this, address = head.address, lan = head.paired_only](Request&& whole,
                                                                    const Reply& reply) {
      if (lan) return pair(address, whole, reply);
      reply(refused({"This machine needs no pairing.", {}, "Go on."}, 409));
    };
  } else if (path == "/api/pairing") {
    d.work = [this](Request&&, const Reply& reply) { reply(pairing()); };
  } else if (path == "/api/devices") {
    d.work = [this](Request&&, const Reply& reply) { list_devices(reply); };
  } else {
    d.work = [this](Request&& whole, const Reply& reply) { revoke(whole, reply); };
  }
  return d;
}

Response Reception::pairing() {
  if (parts_.lan_url.empty())
    return refused({"The server is not open to the network.", "No code was made.",
                    "Start it with: batten serve --lan"},
                   409);
  const Pairing::Code code = pairing_.make();
  return ok(Json{{"code", code.code},
                 {"url", parts_.lan_url},
                 {"expires_at", print_timestamp(code.expires_ms)},
                 {"qr", qr_svg(parts_.lan_url + "?code=" + code.code)},
                 {"fingerprint", parts_.fingerprint}}
                .dump());
}

void Reception::at_desk(const Reply& reply, std::function<Response(Answering&)> work) {
  const bool taken =
      parts_.lanes.submit(Lane::desk, [reply, asked = std::move(work)](Answering& with) {
        try {
          reply(asked(with));
        } catch (const std::exception& failure) {
          reply(refused(explain(failure), 500));
        }
      });
  if (!taken) reply(cannot_read(503));
}

void Reception::pair(const std::string& address, const Request& request, const Reply& reply) {
  const auto asked = pairing_in(request.body);
  if (!asked || asked->name.empty() || asked->name.size() > 80 || !is_plain_text(asked->name))
    return reply(
        refused({"The request names no code and no device.", "Nothing was changed.",
                 "Send {\"code\": \"12345678\", \"name\": \"Tablet\"}, the name of at most "
                 "80 bytes."},
                400));
  const Pairing::Answer answer = pairing_.attempt(asked->code, address);
  if (answer.outcome != Pairing::Outcome::right) return reply(pairing_refused(answer));
  at_desk(reply, [this, name = asked->name](Answering& with) {
    const std::string token = random_token();
    const std::int64_t now = with.desk.now_ms();
    const auto device =
        with.desk.store.add_device({with.desk.new_id(), name, sha256(token), now, now});
    if (!device) return refused(device.error());
    // Known before the answer is on its way: both are done by the network's thread, in this order.
    parts_.on_network([this, all = with.desk.store.devices()] { parts_.guests.know(all); });
    Response r = ok(Json{{"name", device->name}}.dump());
    r.headers["Set-Cookie"] = print_device_cookie(token);
    return r;
  });
}

void Reception::list_devices(const Reply& reply) {
  at_desk(reply, [](Answering& with) { return ok(to_json(with.desk.store.devices())); });
}

void Reception::revoke(const Request& request, const Reply& reply) {
  const auto id = parse_uuid(request.part("id"));
  if (!id) return reply(not_there(id.error()));
  at_desk(reply, [this, id = *id](Answering& with) {
    const auto device = with.desk.store.revoke_device(id, with.desk.now_ms());
    if (!device) return not_there(device.error());
    parts_.on_network([this, all = with.desk.store.devices(), gone = to_text(id)] {
      parts_.guests.know(all);
      parts_.streams.end_if([&](const std::string& one) { return one == gone; });
    });
    return ok(to_json({*device}));
  });
}

void Reception::note_seen(const Device& device) {
  const std::int64_t now = parts_.now_ms();
  if (!parts_.guests.is_news(device.token_sha256, now)) return;
  parts_.lanes.submit(Lane::desk, [id = device.id, now](Answering& with) {
    try {
      with.desk.store.touch_device(id, now);
    } catch (const std::exception&) {
      return;  // nothing hangs on it
    }
  });
}

}  // namespace batten::server
