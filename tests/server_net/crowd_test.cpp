// Many at once, and slow ones: others are served meanwhile, and what is held is bounded.
#include "tests/server_net/served.hpp"

#include <fmt/format.h>

#include <atomic>
#include <thread>
#include <vector>

namespace batten::server::tests {
namespace {

using std::chrono::milliseconds;

class CrowdTest : public ServedTest {};

TEST_F(CrowdTest, SlowClientsAreEndedWhileOthersAreServed) {
  options_.limits.header_time = milliseconds(1500);
  options_.limits.body_time = milliseconds(1500);
  // However slow this test's own machine is, an answer is not overtaken by the connection's end.
  options_.limits.drain_time = std::chrono::minutes(5);
  serve();
  const std::string token = token_line();
  std::vector<Client> heads, bodies;
  for (int i = 0; i < 200; ++i) {
    heads.push_back(client());
    ASSERT_TRUE(heads.back().send("GET /api/small HTT")) << i;
    bodies.push_back(client());
    const std::string whole = post(port(), "/api/size", "{\"a\":1}", token);
    ASSERT_TRUE(bodies.back().send(whole.substr(0, whole.size() - 3))) << i;
  }
  for (int i = 0; i < 50; ++i) ASSERT_EQ(get_answer("/api/small").status, 200) << i;
  // A drop now and then does not help: the whole head has its time.
  for (Client& one : heads) one.send("P");
  for (Client& one : heads) EXPECT_THAT(one.read(), RefusedWith(408));
  for (Client& one : bodies) EXPECT_THAT(one.read(), RefusedWith(408));
  EXPECT_EQ(get_answer("/api/small").status, 200);
  heads.clear();
  bodies.clear();
  EXPECT_TRUE(wait_for_connections(0));
}

TEST_F(CrowdTest, BodiesTogetherAreBounded) {
  options_.limits.bodies = 5000;
  serve();
  const std::string token = token_line();
  const std::string whole = post(port(), "/api/size", std::string(1000, ' '), token);
  std::vector<Client> slow;
  for (int i = 0; i < 5; ++i) {
    slow.push_back(client());
    ASSERT_TRUE(slow.back().send(whole.substr(0, whole.size() - 1)));
  }
  ASSERT_TRUE(wait_for_connections(5));
  EXPECT_THAT(post_answer("/api/size", std::string(1000, ' '), token), RefusedWith(503));
  EXPECT_EQ(get_answer("/api/small").status, 200);
  for (Client& one : slow) {
    one.send(" ");
    EXPECT_EQ(one.read().body, "1000");
  }
  EXPECT_EQ(post_answer("/api/size", std::string(1000, ' '), token).body, "1000");
}

TEST_F(CrowdTest, WhoSaysNothingIsLetGo) {
  options_.limits.header_time = milliseconds(100);
  options_.limits.idle_time = milliseconds(100);
  serve();
  Client silent = client();
  Client once = client();
  once.send(get(port(), "/api/small"));
  EXPECT_EQ(once.read().status, 200);
  EXPECT_TRUE(silent.is_closed_by_server());
  EXPECT_TRUE(once.is_closed_by_server());
  EXPECT_TRUE(wait_for_connections(0));
}

TEST_F(CrowdTest, WhoTakesNothingIsLetGo) {
  options_.limits.write_time = milliseconds(200);
  serve();
  std::vector<Client> greedy;
  for (int i = 0; i < 5; ++i) {
    greedy.push_back(client());
    // Answers of 2 MB that nobody reads: more than the system keeps for a connection.
    for (int k = 0; k < 20; ++k) greedy.back().send(get(port(), "/api/long"));
  }
  EXPECT_EQ(get_answer("/api/small").status, 200);
  EXPECT_TRUE(wait_for_connections(0));
}

TEST_F(CrowdTest, OneTooManyIsTurnedAwayAndLetInLater) {
  options_.limits.connections_here = 10;
  serve();
  std::vector<Client> all;
  for (int i = 0; i < 10; ++i) all.push_back(client());
  ASSERT_TRUE(wait_for_connections(10));
  Client more = client();
  EXPECT_THAT(more.read(), RefusedWith(503));
  all.clear();
  ASSERT_TRUE(wait_for_connections(0));
  EXPECT_EQ(get_answer("/api/small").status, 200);
}

TEST_F(CrowdTest, ABusyLaneRefusesAndTheOthersAnswer) {
  options_.limits.queue = 3;
  serve();
  Gate::close();
  std::vector<Client> waiting;
  int refused = 0;
  for (int i = 0; i < 12; ++i) {
    waiting.push_back(client());
    waiting.back().send(get(port(), "/api/gate"));
  }
  // Of twelve, one is at the gate and three wait; the others are told so.
  EXPECT_EQ(get_answer("/api/small").status, 200);
  const std::string token = token_line();
  EXPECT_EQ(post_answer("/api/size", "{}", token).status, 200);
  Gate::open();
  for (Client& one : waiting) {
    const Answer answer = one.read();
    if (answer.status == 200) continue;
    EXPECT_THAT(answer, RefusedWith(503));
    EXPECT_EQ(answer.headers.at("retry-after"), "1");
    ++refused;
  }
  EXPECT_GE(refused, 1);
  EXPECT_LE(refused, 9);
  EXPECT_EQ(get_answer("/api/gate").status, 200);
}

TEST_F(CrowdTest, EndsCleanlyUnderLoad) {
  serve();
  const std::string token = token_line();
  const std::uint16_t at = port();
  std::atomic<bool> go = true;
  std::atomic<int> kept = 0;
  std::vector<std::thread> crowd;
  for (int i = 0; i < 8; ++i)
    crowd.emplace_back([&, i] {
      while (go) {
        Client one(at);
        const std::string request =
            i % 2 == 0 ? post(at, "/api/remark", "{}", token) : get(at, "/api/small");
        for (int k = 0; k < 10 && one.send(request); ++k) {
          const Answer answer = one.read();
          if (answer.status == 0) break;
          EXPECT_TRUE(answer.status == 200 || answer.status == 503) << answer.status;
          ++kept;
        }
      }
    });
  std::vector<Client> streams;
  for (int i = 0; i < 20; ++i) {
    streams.push_back(client());
    streams.back().send(get(port(), "/api/events"));
  }
  ASSERT_TRUE(wait_for_streams(20));
  while (kept < 100) std::this_thread::yield();
  server_->stop();
  go = false;
  for (std::thread& one : crowd) one.join();
  for (Client& one : streams) EXPECT_TRUE(one.is_closed_by_server());
  EXPECT_FALSE(Client(at).is_open());
  server_->stop();  // again is nothing
}

TEST_F(CrowdTest, WhatIsBeingWrittenDownIsAnsweredBeforeItEnds) {
  serve();
  const std::string token = token_line();
  std::vector<Client> all;
  for (int i = 0; i < 20; ++i) {
    all.push_back(client());
    all.back().send(post(port(), "/api/remark", "{}", token));
  }
  // The first has been answered: all of them have been sent before it.
  ASSERT_EQ(all.front().read().status, 200);
  server_->stop();
  int answered = 0;
  for (std::size_t i = 1; i < all.size(); ++i) answered += all[i].read().status == 200;
  EXPECT_GE(answered, 1);
}

}  // namespace
}  // namespace batten::server::tests
