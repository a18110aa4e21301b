#include "tests/server_net/served.hpp"

#include <fmt/format.h>

#include <array>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <stdexcept>
#include <thread>

namespace batten::server::tests {

namespace {

std::mutex gate_lock;
std::condition_variable gate_opened;
bool gate_closed = false;

Response get_small(Answering&, const Request& request) {
  return ok("{\"what\":\"" + request.asked("what") + "\",\"note\":\"" + request.part("note") +
            "\"}");
}
Response post_size(Answering&, const Request& request) {
  return ok(std::to_string(request.body.size()));
}
Response get_thrown(Answering&, const Request&) { throw std::runtime_error("a test"); }
Response get_long(Answering&, const Request&) { return ok(std::string(2'000'000, '1')); }
Response get_gate(Answering&, const Request&) {
  std::unique_lock hold(gate_lock);
  gate_opened.wait(hold, [] { return !gate_closed; });
  return ok("{}");
}
Response post_remark(Answering& with, const Request&) {
  // As long as writing to a disk may take.
  std::this_thread::sleep_for(std::chrono::milliseconds(5));
  with.tell({"p", "entries", "{\"a\":1}"});
  return ok("{}");
}

constexpr std::array test_routes{
    Route{Method::get, "/api/small", Lane::desk, get_small, 0},
    Route{Method::get, "/api/notes/{note}", Lane::desk, get_small, 0},
    Route{Method::post, "/api/size", Lane::desk, post_size, 1000},
    Route{Method::put, "/api/size", Lane::desk, post_size, 1000},
    Route{Method::get, "/api/thrown", Lane::model, get_thrown, 0},
    Route{Method::get, "/api/long", Lane::model, get_long, 0},
    Route{Method::get, "/api/gate", Lane::plan, get_gate, 0},
    Route{Method::post, "/api/remark", Lane::desk, post_remark, 1000},
};

constexpr std::array test_files{
    Asset{"/", "text/html; charset=utf-8", "<!doctype html><title>t</title>"},
    Asset{"/app.js", "text/javascript; charset=utf-8", "1;"},
};

bool wait_until(const std::function<bool()>& holds) {
  const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(30);
  while (!holds()) {
    if (std::chrono::steady_clock::now() > end) return false;
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  }
  return true;
}

}  // namespace

void Gate::close() {
  const std::lock_guard hold(gate_lock);
  gate_closed = true;
}
void Gate::open() {
  {
    const std::lock_guard hold(gate_lock);
    gate_closed = false;
  }
  gate_opened.notify_all();
}

ServeOptions ServedTest::options() {
  ServeOptions o;
  o.store = folder_ / "pianos.store";
  o.who = "Ada";
  o.version = "0";
  o.compiled = test_files;
  o.routes = test_routes;
  o.limits.poll = std::chrono::milliseconds(20);
  return o;
}

void ServedTest::serve() {
  server_.reset();
  auto started = Server::start(options_);
  ASSERT_TRUE(started) << started.error().sentence();
  server_ = std::move(*started);
}

Answer ServedTest::ask(const std::string& request) const {
  Client one = client();
  one.send(request);
  return one.read();
}
Answer ServedTest::get_answer(const std::string& target, const std::string& lines) const {
  return ask(get(port(), target, lines));
}
Answer ServedTest::post_answer(const std::string& target, const std::string& body,
                               const std::string& lines) const {
  return ask(post(port(), target, body, lines));
}

std::string ServedTest::token_line() const {
  const std::string body = get_answer("/api/session").body;
  return "X-Batten-Token: " + body.substr(body.find(":\"") + 2, 64) + "\r\n";
}

bool ServedTest::wait_for_connections(std::size_t count) const {
  return wait_until([&] { return server_->counts().connections == count; });
}
bool ServedTest::wait_for_streams(std::size_t count) const {
  return wait_until([&] { return server_->counts().streams == count; });
}

}  // namespace batten::server::tests
