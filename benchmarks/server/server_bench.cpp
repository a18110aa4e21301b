// The server over real sockets on this machine, 60 event streams open: reads of the demo piano's
// strip beside the same bytes from a bare server, entries written and shown on another stream, and
// the memory after a crowd of hostile clients. Client and servers share the process and its cores.
#include "app/desk.hpp"
#include "benchmarks/server/bare_server.hpp"
#include "server/serve.hpp"
#include "tests/records/samples.hpp"
#include "tests/server_net/client.hpp"
#include "workshop/demo.hpp"

#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <memory>
#include <string>
#include <vector>

namespace batten::benchmarks {
namespace {

using server::tests::Answer;
using server::tests::Client;
using server::tests::get;
using server::tests::post;

constexpr int streams = 60;

// One for the whole run.
class Served {
 public:
  static Served& the() {
    static Served one;
    return one;
  }
  std::uint16_t port() const { return server_->port(); }
  const std::string& piano() const { return piano_; }
  const std::string& strip() const { return strip_; }
  std::string path(const char* what) const { return "/api/pianos/" + piano_ + what; }
  const std::string& token() const { return token_; }
  Client& listener() { return streams_.front(); }
  // What is waiting on the other streams is taken, as browsers would.
  void drain(const std::string& end) {
    for (std::size_t i = 1; i < streams_.size(); ++i) streams_[i].read_until(end);
  }

 private:
  Served() {
    const auto file = folder_ / "demo.store";
    {
      auto desk = open_desk(file, "bench").value();
      piano_ = to_text(workshop::build_demo(desk).value().id);
    }
    server::ServeOptions options;
    options.store = file;
    options.routes = server::routes();
    server_ = std::move(server::Server::start(options).value());
    for (int i = 0; i < streams; ++i) {
      streams_.emplace_back(port());
      streams_.back().send(get(port(), "/api/events?piano=" + piano_));
      streams_.back().read_until("retry: 1000\n\n");
    }
    Client one(port());
    one.send(get(port(), path("/strip")));
    strip_ = one.read().body;
    one.send(get(port(), "/api/session"));
    const std::string session = one.read().body;
    token_ = "X-Batten-Token: " + session.substr(session.find(":\"") + 2, 64) + "\r\n";
  }

  samples::Folder folder_;
  std::string piano_, strip_, token_;
  std::unique_ptr<server::Server> server_;
  std::vector<Client> streams_;
};

// kB that are in memory now, of this process (proc(5)).
double resident_kb() {
  std::ifstream status("/proc/self/status");
  for (std::string line; std::getline(status, line);)
    if (line.starts_with("VmRSS:")) return std::atof(line.c_str() + 6);
  return 0;
}

void read_again_and_again(benchmark::State& state, std::uint16_t port, const std::string& path,
                          const std::string& expected) {
  Client one(port);
  const std::string request = get(port, path);
  for (auto _ : state) {
    if (!one.send(request)) return state.SkipWithError("not sent");
    const Answer answer = one.read();
    if (answer.status != 200 || (!expected.empty() && answer.body != expected))
      return state.SkipWithError("another answer");
  }
  state.SetItemsProcessed(state.iterations());
}

void read_strip_60_streams(benchmark::State& state) {
  Served& served = Served::the();
  read_again_and_again(state, served.port(), served.path("/strip"), served.strip());
}
BENCHMARK(read_strip_60_streams)->UseRealTime();

void reference_bare_beast_same_bytes(benchmark::State& state) {
  const BareServer bare(Served::the().strip());
  read_again_and_again(state, bare.port(), "/", Served::the().strip());
}
BENCHMARK(reference_bare_beast_same_bytes)->UseRealTime();

void read_pianos_60_streams(benchmark::State& state) {
  read_again_and_again(state, Served::the().port(), "/api/pianos", {});
}
BENCHMARK(read_pianos_60_streams)->UseRealTime();

// From the first byte sent to the event on another connection: checked, synced to the disk, told.
void entry_saved_and_shown(benchmark::State& state) {
  Served& served = Served::the();
  Client one(served.port());
  std::vector<double> all;
  static int number = 0;
  for (auto _ : state) {
    const std::string id = fmt::format("00000000-0000-4000-8000-{:012}", ++number);
    const std::string request =
        post(served.port(), served.path("/entries"),
             fmt::format(R"({{"entries":[{{"id":"{}","kind":"remark","text":"bench"}}]}})", id),
             served.token());
    const auto begin = std::chrono::steady_clock::now();
    one.send(request);
    const std::string shown = served.listener().read_until("event: entries\n");
    const std::string data = served.listener().read_until("\n\n");
    const auto end = std::chrono::steady_clock::now();
    all.push_back(std::chrono::duration<double, std::milli>(end - begin).count());
    state.SetIterationTime(all.back() / 1000);
    if (data.find(id) == std::string::npos) return state.SkipWithError("another entry shown");
    if (one.read().status != 200) return state.SkipWithError("not saved");
    served.drain(id);
  }
  std::sort(all.begin(), all.end());
  state.counters["median_ms"] = all[all.size() / 2];
  state.counters["p95_ms"] = all[all.size() * 95 / 100];
}
BENCHMARK(entry_saved_and_shown)->UseManualTime()->Unit(benchmark::kMillisecond)->Iterations(200);

// 200 slow heads, 200 slow bodies and a 50 MB body, over and above the streams.
void memory_after_a_hostile_crowd(benchmark::State& state) {
  Served& served = Served::the();
  for (auto _ : state) {
    std::vector<Client> crowd;
    for (int i = 0; i < 200; ++i) {
      crowd.emplace_back(served.port());
      crowd.back().send("GET / HT");
      crowd.emplace_back(served.port());
      const std::string whole =
          post(served.port(), served.path("/entries"), std::string(200'000, ' '), served.token());
      crowd.back().send(std::string_view(whole).substr(0, whole.size() - 1000));
    }
    Client big(served.port());
    big.send(
        post(served.port(), served.path("/entries"), std::string(50'000'000, ' '), served.token()));
    if (big.read().status != 413) return state.SkipWithError("taken");
    Client one(served.port());
    one.send(get(served.port(), served.path("/strip")));
    if (one.read().status != 200) return state.SkipWithError("not served meanwhile");
    state.counters["crowd_there_MB"] = resident_kb() / 1024;
  }
  state.counters["crowd_gone_MB"] = resident_kb() / 1024;
}
BENCHMARK(memory_after_a_hostile_crowd)->Iterations(1)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace batten::benchmarks

BENCHMARK_MAIN();
