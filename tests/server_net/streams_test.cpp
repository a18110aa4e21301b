// Event streams (WHATWG HTML, 9.2).
#include "server/streams.hpp"

#include "records/store.hpp"
#include "tests/server_net/served.hpp"

#include <fmt/format.h>

#include <vector>

namespace batten::server::tests {
namespace {

using testing::HasSubstr;
using testing::Not;

class StreamsTest : public ServedTest {
 protected:
  Client listen(const std::string& query = "") const {
    Client one = client();
    one.send(get(port(), "/api/events" + query));
    EXPECT_THAT(one.read_until("\r\n\r\n"), HasSubstr("text/event-stream"));
    EXPECT_THAT(one.read_until("\n\n"), HasSubstr("retry: "));
    return one;
  }
};

TEST(PrintEvent, HasOneDataLineForEachLine) {
  EXPECT_EQ(print_event({"p", "entries", "{}"}), "event: entries\ndata: {}\n\n");
  EXPECT_EQ(print_event({"p", "x", "a\nb"}), "event: x\ndata: a\ndata: b\n\n");
}

TEST_F(StreamsTest, HearOfTheirPianoAndOfWhatConcernsAll) {
  serve();
  Client one = listen("?piano=1"), two = listen("?piano=2"), all = listen();
  server_->tell({"1", "entries", "{\"n\":1}"});
  server_->tell({"2", "entries", "{\"n\":2}"});
  server_->tell({"", "pianos", "{}"});
  const std::string first = one.read_until("event: pianos\n"),
                    second = two.read_until("event: pianos\n");
  EXPECT_THAT(first, testing::AllOf(HasSubstr("{\"n\":1}"), Not(HasSubstr("{\"n\":2}"))));
  EXPECT_THAT(second, testing::AllOf(HasSubstr("{\"n\":2}"), Not(HasSubstr("{\"n\":1}"))));
  EXPECT_THAT(all.read_until("event: pianos\n"),
              testing::AllOf(HasSubstr("{\"n\":1}"), HasSubstr("{\"n\":2}")));
}

TEST_F(StreamsTest, HearWhatAnAnswererTells) {
  serve();
  Client one = listen("?piano=p");
  EXPECT_EQ(post_answer("/api/remark", "{}", token_line()).status, 200);
  EXPECT_EQ(one.read_until("\n\n"), "event: entries\ndata: {\"a\":1}\n\n");
}

TEST_F(StreamsTest, BeatWhileNothingHappens) {
  options_.limits.beat = std::chrono::milliseconds(20);
  serve();
  Client one = listen();
  for (int i = 0; i < 3; ++i) EXPECT_EQ(one.read_until("\n\n"), ":\n\n");
}

TEST_F(StreamsTest, HearWhatAnotherProgramHasWritten) {
  Store other = Store::open(options_.store);
  const Piano piano = samples::piano();
  const Visit visit = samples::visit();
  ASSERT_TRUE(other.add_piano(piano));
  ASSERT_TRUE(other.add_visit(piano.id, visit));
  serve();
  Client one = listen("?piano=" + to_text(piano.id));
  ASSERT_TRUE(other.append(piano.id, std::vector{samples::reading(1, visit)}));
  EXPECT_EQ(one.read_until("\n\n"),
            fmt::format("event: changed\ndata: {{\"piano\":\"{}\",\"revision\":1}}\n\n",
                        to_text(piano.id)));
  ASSERT_TRUE(other.add_piano(samples::piano(2)));
  EXPECT_EQ(one.read_until("\n\n"), "event: pianos\ndata: {}\n\n");
}

TEST_F(StreamsTest, AreAtMostAHundred) {
  serve();
  std::vector<Client> all;
  for (int i = 0; i < 100; ++i) all.push_back(listen());
  for (int i = 0; i < 20; ++i) EXPECT_THAT(get_answer("/api/events"), RefusedWith(503));
  EXPECT_EQ(get_answer("/api/small").status, 200);
  server_->tell({"", "pianos", "{}"});
  for (Client& one : all) EXPECT_EQ(one.read_until("\n\n"), "event: pianos\ndata: {}\n\n");
  all.clear();
  ASSERT_TRUE(wait_for_streams(0));
  listen();
}

// A flood of events at readers that do not read: they are dropped, the one that reads gets all.
TEST_F(StreamsTest, DropReadersThatAreTooSlow) {
  options_.limits.stream_queue = 100'000;
  serve();
  std::vector<Client> slow;
  for (int i = 0; i < 20; ++i) slow.push_back(listen());
  ASSERT_TRUE(wait_for_streams(20));
  Client quick = listen();
  const std::string text(50'000, 'x');
  int told = 0;
  while (server_->counts().streams > 1 && told < 2000) {
    server_->tell({"", "entries", text});
    ASSERT_EQ(quick.read_until("\n\n").size(), text.size() + 23);
    ++told;
  }
  EXPECT_LT(told, 2000);
  EXPECT_EQ(server_->counts().streams, 1U);
  EXPECT_EQ(get_answer("/api/small").status, 200);
}

TEST_F(StreamsTest, AreForReadingOnly) {
  serve();
  Client one = listen();
  one.send(std::string(100'000, 'x'));
  server_->tell({"", "pianos", "{}"});
  EXPECT_EQ(one.read_until("\n\n"), "event: pianos\ndata: {}\n\n");
  EXPECT_EQ(post_answer("/api/events", "").status, 405);
  Client head = client();
  head.send(fmt::format("HEAD /api/events HTTP/1.1\r\nHost: localhost:{}\r\n\r\n", port()));
  EXPECT_EQ(head.read(true).status, 405);
}

}  // namespace
}  // namespace batten::server::tests
