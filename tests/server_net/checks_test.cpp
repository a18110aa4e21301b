#include "server/checks.hpp"

#include <gmock/gmock.h>

namespace batten::server {
namespace {

using testing::ElementsAre;
using testing::Pair;

TEST(Targets, AreDecoded) {
  const Target target = parse_target("/api/notes/F%234?minutes=2%20h+30&x=%C3%A9").value();
  EXPECT_EQ(target.path, "/api/notes/F#4");
  EXPECT_THAT(target.query, ElementsAre(Pair("minutes", "2 h 30"), Pair("x", "é")));
  EXPECT_EQ(parse_target("/").value().path, "/");
}

// The ways round a check of paths that OWASP lists (Path Traversal; Testing for HTTP Splitting).
TEST(Targets, ThatAreTricksAreRefused) {
  for (const char* trick : {"",
                            "*",
                            "api",
                            "http://localhost/",
                            "//etc/passwd",
                            "/a//b",
                            "/a/",
                            "/..",
                            "/a/../b",
                            "/./a",
                            "/%2e%2e/a",
                            "/a/%2E%2E",
                            "/a%2fb",
                            "/a%2Fb",
                            "/a%5cb",
                            "/a\\b",
                            "/a%00",
                            "/a%0d%0aX",
                            "/a\r\nb",
                            "/a b",
                            "/a%",
                            "/a%4",
                            "/a%zz",
                            "/a#b",
                            "/\xc3\xa9",
                            "/%ff",
                            "/%c0%ae%c0%ae/",
                            "/%e0%80%af",
                            "/%ed%a0%80",
                            "/%f5%80%80%80",
                            "/%c2%85",
                            "/a?x=%00",
                            "/a?x=1&x=2",
                            "/a?x=%ff"})
    EXPECT_FALSE(parse_target(trick)) << trick;
}

// Unicode 15, table 3-7.
TEST(PlainText, IsUtf8WithoutControlCharacters) {
  for (const char* good :
       {"", "Tablet", "Handy für Öl", "\u00a0", "\u07ff\u0800\uffff", "\U00010000\U0010ffff"})
    EXPECT_TRUE(is_plain_text(good)) << good;
  for (const char* bad :
       {"\n", "\x7f", "\x80", "\xc1\xbf", "\xc3", "\xe0\x9f\xbf", "\xed\xa0\x80", "\xef\xbf",
        "\xf0\x8f\xbf\xbf", "\xf4\x90\x80\x80", "\xf8\x88\x80\x80\x80"})
    EXPECT_FALSE(is_plain_text(bad)) << bad;
}

class OriginTest : public testing::Test {
 protected:
  int status(bool api = true) const {
    const auto refusal = check_origin(head_, door_, api);
    return refusal ? refusal->status : 200;
  }
  Head head_ = [] {
    Head h;
    h.hosts = 1;
    h.host = "localhost:8137";
    return h;
  }();
  Door door_{{"localhost", "127.0.0.1", "[::1]"}, 8137, false};
};

TEST_F(OriginTest, OurOwnNamesAreTaken) {
  for (const char* host : {"localhost:8137", "LocalHost:8137", "127.0.0.1:8137", "[::1]:8137"}) {
    head_.host = host;
    EXPECT_EQ(status(), 200) << host;
  }
}

// A name of another's that has been made to mean 127.0.0.1: what DNS rebinding is.
TEST_F(OriginTest, OtherNamesAreNot) {
  for (const char* host : {"localhost", "localhost:80", "localhost:08137x", "localhost:",
                           "evil.example:8137", "localhost.evil.example:8137", "127.0.0.2:8137",
                           "[::1]", "[::2]:8137", "localhost:8137:8137", "@localhost:8137"}) {
    head_.host = host;
    EXPECT_EQ(status(), 421) << host;
  }
  head_.host.clear();
  EXPECT_EQ(status(), 400);
  head_.host = "localhost:8137";
  head_.hosts = 2;
  EXPECT_EQ(status(), 400);
}

TEST_F(OriginTest, PagesOfOtherSitesAreRefused) {
  head_.origin = "http://localhost:8137";
  EXPECT_EQ(status(), 200);
  for (const char* origin : {"null", "https://localhost:8137", "http://localhost:3000",
                             "http://127.0.0.1:8137", "http://evil.example"}) {
    head_.origin = origin;
    EXPECT_EQ(status(), 403) << origin;
  }
}

// W3C Fetch Metadata: a link followed from elsewhere may show the page, and ask for nothing more.
TEST_F(OriginTest, FetchMetadataIsHeeded) {
  for (const char* site : {"", "same-origin", "none"}) {
    head_.fetch_site = site;
    EXPECT_EQ(status(), 200) << site;
  }
  for (const char* site : {"cross-site", "same-site"}) {
    head_.fetch_site = site;
    head_.fetch_mode = "navigate";
    EXPECT_EQ(status(true), 403);
    EXPECT_EQ(status(false), 200);
    head_.fetch_mode = "no-cors";
    EXPECT_EQ(status(false), 403);
  }
}

TEST(JsonType, IsKnownWithItsParameters) {
  EXPECT_TRUE(is_json("application/json"));
  EXPECT_TRUE(is_json("Application/JSON ; charset=utf-8"));
  for (const char* other :
       {"", "text/plain", "application/jsonx", "application/x-www-form-urlencoded"})
    EXPECT_FALSE(is_json(other)) << other;
}

TEST(Cookies, AreFoundByTheirWholeName) {
  EXPECT_EQ(cookie("a=1; __Host-batten=xyz; b=2", "__Host-batten"), "xyz");
  EXPECT_EQ(cookie("x__Host-batten=1", "__Host-batten"), "");
  EXPECT_EQ(cookie("__Host-battenx=1", "__Host-batten"), "");
  EXPECT_EQ(cookie("", "__Host-batten"), "");
}

}  // namespace
}  // namespace batten::server
