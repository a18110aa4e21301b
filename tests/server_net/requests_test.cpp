// Requests as no browser sends them, over real sockets: the right status, a sentence, and the next
// request is served. Statuses: RFC 9110, section 15; RFC 6585.
#include "tests/server_net/served.hpp"

#include <fmt/format.h>

#include <fstream>

namespace batten::server::tests {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

class RequestsTest : public ServedTest {
 protected:
  void SetUp() override { serve(); }
};

TEST_F(RequestsTest, AreAnsweredOneAfterTheOtherOnOneConnection) {
  Client one = client();
  for (int i = 0; i < 3; ++i) {
    ASSERT_TRUE(one.send(get(port(), "/api/small?what=a%20b")));
    const Answer answer = one.read();
    EXPECT_EQ(answer.status, 200);
    EXPECT_EQ(answer.body, R"({"what":"a b","note":""})");
  }
  // Sent before the answers are there (RFC 9112, 9.3.2).
  ASSERT_TRUE(one.send(get(port(), "/api/small?what=1") + get(port(), "/api/notes/F%234")));
  EXPECT_EQ(one.read().body, R"({"what":"1","note":""})");
  EXPECT_EQ(one.read().body, R"({"what":"","note":"F#4"})");
}

TEST_F(RequestsTest, CarryTheSafetyLines) {
  const Answer api = get_answer("/api/small");
  EXPECT_EQ(api.headers.at("cache-control"), "no-store");
  EXPECT_EQ(api.headers.at("content-type"), "application/json");
  for (const Answer& answer : {api, get_answer("/"), get_answer("/nothing"), get_answer("/a//b")}) {
    EXPECT_THAT(answer.headers.at("content-security-policy"),
                testing::AllOf(HasSubstr("default-src 'self'"), HasSubstr("frame-ancestors 'none'"),
                               Not(HasSubstr("unsafe"))));
    EXPECT_EQ(answer.headers.at("x-content-type-options"), "nosniff");
    EXPECT_EQ(answer.headers.at("referrer-policy"), "no-referrer");
    EXPECT_FALSE(answer.headers.contains("access-control-allow-origin"));
  }
}

TEST_F(RequestsTest, ThePageIsSentOnceAndThenOnlyWhenItHasChanged) {
  const Answer page = get_answer("/");
  EXPECT_EQ(page.body, "<!doctype html><title>t</title>");
  EXPECT_EQ(page.headers.at("content-type"), "text/html; charset=utf-8");
  EXPECT_EQ(get_answer("/app.js").body, "1;");
  const Answer again = get_answer("/", "If-None-Match: " + page.headers.at("etag") + "\r\n");
  EXPECT_EQ(again.status, 304);
  EXPECT_THAT(again.body, IsEmpty());
}

TEST_F(RequestsTest, AFolderStandsInForThePage) {
  std::ofstream(folder_ / "index.html") << "<p>";
  std::ofstream(folder_ / "secret") << "s";
  std::filesystem::create_directory(folder_ / "web");
  std::ofstream(folder_ / "web/index.html") << "<b>";
  std::filesystem::create_symlink(folder_ / "secret", folder_ / "web/link");
  options_.web = folder_ / "web";
  serve();
  EXPECT_EQ(get_answer("/").body, "<b>");
  for (const char* path : {"/link", "/..", "/%2e%2e/secret", "/nothing"})
    EXPECT_GE(get_answer(path).status, 400) << path;
}

TEST_F(RequestsTest, HeadIsAnsweredWithoutTheBody) {
  Client one = client();
  one.send(fmt::format("HEAD /api/small HTTP/1.1\r\nHost: localhost:{}\r\n\r\n", port()));
  const Answer answer = one.read(true);
  EXPECT_EQ(answer.status, 200);
  EXPECT_EQ(answer.headers.at("content-length"), "21");
  one.send(get(port(), "/api/small"));
  EXPECT_EQ(one.read().status, 200);
}

TEST_F(RequestsTest, UnknownAddressesAndMethodsAreSaidToBe) {
  EXPECT_THAT(get_answer("/api/nothing"), RefusedWith(404));
  EXPECT_THAT(get_answer("/api"), RefusedWith(404));
  EXPECT_THAT(get_answer("/nothing"), RefusedWith(404));
  const Answer wrong = get_answer("/api/size");
  EXPECT_THAT(wrong, RefusedWith(405));
  EXPECT_EQ(wrong.headers.at("allow"), "POST, PUT");
  EXPECT_EQ(post_answer("/api/small", "{}").headers.at("allow"), "GET, HEAD");
  EXPECT_EQ(post_answer("/", "{}").headers.at("allow"), "GET, HEAD");
  EXPECT_EQ(post_answer("/api/session", "{}").status, 405);
  for (const char* method : {"OPTIONS", "TRACE", "PATCH", "CONNECT", "BREW"})
    EXPECT_EQ(
        ask(fmt::format("{} /api/small HTTP/1.1\r\nHost: localhost:{}\r\n\r\n", method, port()))
            .status,
        405)
        << method;
}

TEST_F(RequestsTest, WritingNeedsTheTokenAndJson) {
  const std::string token = token_line();
  EXPECT_EQ(post_answer("/api/size", "{}", token).body, "2");
  const Answer without = post_answer("/api/size", "{}");
  EXPECT_THAT(without, RefusedWith(403));
  EXPECT_EQ(without.headers.at("x-batten-why"), "token");
  EXPECT_THAT(post_answer("/api/size", "{}", "X-Batten-Token: \r\n"), RefusedWith(403));
  std::string other = token;
  other[20] = other[20] == '0' ? '1' : '0';
  EXPECT_THAT(post_answer("/api/size", "{}", other), RefusedWith(403));
  EXPECT_THAT(ask(fmt::format("POST /api/size HTTP/1.1\r\nHost: localhost:{}\r\n{}Content-Type: "
                              "text/plain\r\nContent-Length: 2\r\n\r\n{{}}",
                              port(), token)),
              RefusedWith(415));
}

TEST_F(RequestsTest, FromOtherPlacesAreRefused) {
  EXPECT_THAT(ask(fmt::format("GET / HTTP/1.1\r\nHost: evil.example:{}\r\n\r\n", port())),
              RefusedWith(421));
  EXPECT_THAT(ask("GET / HTTP/1.1\r\n\r\n"), RefusedWith(400));
  EXPECT_THAT(get_answer("/api/small", "Origin: http://evil.example\r\n"), RefusedWith(403));
  EXPECT_THAT(get_answer("/api/small", "Sec-Fetch-Site: cross-site\r\n"), RefusedWith(403));
  EXPECT_THAT(post_answer("/api/size", "{}", token_line() + "Origin: null\r\n"), RefusedWith(403));
  EXPECT_EQ(get_answer("/api/small", fmt::format("Origin: http://localhost:{}\r\n", port())).status,
            200);
}

TEST_F(RequestsTest, TricksWithThePathAreRefused) {
  for (const char* path :
       {"//api/small", "/api//small", "/api/../api/small", "/api/%2e%2e/x", "/api%2fsmall",
        "/api/small%00", "/api/notes/..%5c", "/api/small/", "http://localhost/api/small"})
    EXPECT_THAT(get_answer(path), RefusedWith(400)) << path;
  EXPECT_THAT(get_answer("/" + std::string(3000, 'a')), RefusedWith(414));
}

TEST_F(RequestsTest, ThatAreNoHttpAreSaidToBe) {
  for (const char* bytes :
       {"\r\n\r\nGET\r\n\r\n", "GET / HTTP/9.9\r\n\r\n", "\x16\x03\x01\x02\x01\x01\r\n\r\n",
        "GET / HTTP/1.1\r\nHost localhost\r\n\r\n", "GET  / HTTP/1.1\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: a\r\n folded\r\nX\x01: 1\r\n\r\n",
        "POST / HTTP/1.1\r\nContent-Length: -1\r\n\r\n",
        "POST / HTTP/1.1\r\nContent-Length: 99999999999999999999999\r\n\r\n"})
    EXPECT_THAT(ask(bytes), RefusedWith(400)) << bytes;
  // Two lengths, and a length beside chunks: request smuggling (RFC 9112, 6.3).
  for (const char* lines : {"Content-Length: 2\r\nContent-Length: 3\r\n",
                            "Content-Length: 2\r\nTransfer-Encoding: chunked\r\n"}) {
    const Answer answer =
        ask(fmt::format("POST /api/size HTTP/1.1\r\nHost: localhost:{}\r\n{}{}\r\n{{}}", port(),
                        token_line(), lines));
    EXPECT_THAT(answer, RefusedWith(400)) << lines;
  }
}

TEST_F(RequestsTest, HeadsThatAreTooLongAreRefused) {
  EXPECT_THAT(get_answer("/api/small", "X-Long: " + std::string(9000, 'x') + "\r\n"),
              RefusedWith(431));
  std::string lines;
  for (int i = 0; i < 2000; ++i) lines += fmt::format("X-{}: 1\r\n", i);
  EXPECT_THAT(get_answer("/api/small", lines), RefusedWith(431));
}

TEST_F(RequestsTest, BodiesThatAreTooLongAreRefusedAndTheAnswerSeen) {
  const std::string token = token_line();
  EXPECT_EQ(post_answer("/api/size", std::string(1000, ' '), token).body, "1000");
  EXPECT_THAT(post_answer("/api/size", std::string(1001, ' '), token), RefusedWith(413));
  // All 50 MB are sent before the answer is looked for.
  EXPECT_THAT(post_answer("/api/size", std::string(50'000'000, ' '), token), RefusedWith(413));
  EXPECT_THAT(ask(get(port(), "/api/small", "Content-Length: 1\r\n") + "x"), RefusedWith(413));
  EXPECT_EQ(get_answer("/api/small").status, 200);
}

std::string chunked(std::uint16_t port, const std::string& lines, const std::string& chunks) {
  return fmt::format(
      "POST /api/size HTTP/1.1\r\nHost: localhost:{}\r\nContent-Type: application/json\r\n"
      "Transfer-Encoding: chunked\r\n{}\r\n{}",
      port, lines, chunks);
}

TEST_F(RequestsTest, BodiesInChunksAreHeldToTheSameLimit) {
  const std::string token = token_line();
  const std::string half = "1f4\r\n" + std::string(500, ' ') + "\r\n";  // 500 bytes
  EXPECT_EQ(ask(chunked(port(), token, half + half + "0\r\n\r\n")).body, "1000");
  EXPECT_THAT(ask(chunked(port(), token, half + half + "1\r\n \r\n0\r\n\r\n")), RefusedWith(413));
  EXPECT_THAT(ask(chunked(port(), token, "ffffffffffffffff\r\n")), RefusedWith(413));
  EXPECT_THAT(ask(chunked(port(), token, "zz\r\n")), RefusedWith(400));
}

// RFC 9110, 10.1.1.
TEST_F(RequestsTest, WhoAsksFirstIsToldToGoOnOrNot) {
  const std::string token = token_line();
  Client one = client();
  const std::string whole = post(port(), "/api/size", "{}", token + "Expect: 100-continue\r\n");
  one.send(whole.substr(0, whole.size() - 2));
  EXPECT_EQ(one.read().status, 100);
  one.send("{}");
  EXPECT_EQ(one.read().body, "2");
  Client other = client();
  other.send(
      fmt::format("POST /api/size HTTP/1.1\r\nHost: localhost:{}\r\nContent-Type: "
                  "application/json\r\n{}Expect: 100-continue\r\nContent-Length: "
                  "50000000\r\n\r\n",
                  port(), token));
  EXPECT_EQ(other.read().status, 413);
}

TEST_F(RequestsTest, WhatAnAnswererThrowsIsAnAnswer) {
  EXPECT_THAT(get_answer("/api/thrown"), RefusedWith(500));
  options_.limits.answer = 1'000'000;
  serve();
  EXPECT_THAT(get_answer("/api/long"), RefusedWith(500));
  EXPECT_EQ(get_answer("/api/small").status, 200);
}

TEST_F(RequestsTest, TheSessionSaysWhoAsks) {
  EXPECT_THAT(get_answer("/api/session").body,
              testing::AllOf(HasSubstr("\"who\":\"Ada\""), HasSubstr("\"device\":null"),
                             HasSubstr("\"lan\":false")));
  EXPECT_THAT(get_answer("/api/hello").body, HasSubstr("\"paired\":true"));
  EXPECT_THAT(post_answer("/api/pairing", "{}", token_line()), RefusedWith(409));
  EXPECT_THAT(post_answer("/api/pair", "{}"), RefusedWith(409));
}

TEST(Starting, OnATakenPortIsRefusedWithTheWayOut) {
  samples::Folder folder;
  ServeOptions options;
  options.store = folder / "a.store";
  auto first = Server::start(options);
  ASSERT_TRUE(first);
  options.port = (*first)->port();
  const auto second = Server::start(options);
  ASSERT_FALSE(second);
  EXPECT_THAT(second.error().happened, HasSubstr("taken"));
  EXPECT_THAT(second.error().todo, HasSubstr("--port"));
  options.store = folder.path();
  EXPECT_FALSE(Server::start(options));
}

}  // namespace
}  // namespace batten::server::tests
