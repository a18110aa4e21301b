// The door to the network: TLS, pairing, devices.
#include "records/store.hpp"
#include "server/certificate.hpp"
#include "tests/server_net/served.hpp"

#include <fmt/format.h>

#include <atomic>
#include <sys/stat.h>

namespace batten::server::tests {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::SizeIs;

class NetworkTest : public ServedTest {
 protected:
  void SetUp() override {
    options_.lan = true;
    options_.now_ms = [this] { return now_ms_.load(); };
    serve();
  }
  Client device() const { return Client(server_->lan_port(), true); }
  Answer by_network(const std::string& request) const {
    Client one = device();
    EXPECT_TRUE(one.is_open());
    one.send(request);
    return one.read();
  }
  Answer get_there(const std::string& target, const std::string& lines = {}) const {
    return by_network(get(server_->lan_port(), target, lines));
  }
  Answer pair(const std::string& code, const std::string& name = "Tablet") const {
    return by_network(post(server_->lan_port(), "/api/pair",
                           fmt::format(R"({{"code":"{}","name":"{}"}})", code, name)));
  }
  static std::string cookie_line(const Answer& paired) {
    const std::string cookie = paired.headers.at("set-cookie");
    return "Cookie: " + cookie.substr(0, cookie.find(';')) + "\r\n";
  }
  // The other digits, certainly wrong.
  static std::string wrong(std::string code) {
    code[0] = code[0] == '0' ? '1' : '0';
    return code;
  }

  std::atomic<std::int64_t> now_ms_ = 1'800'000'000'000;
};

TEST_F(NetworkTest, TheDoorIsShutWithoutACookie) {
  EXPECT_EQ(get_there("/").status, 200);
  EXPECT_THAT(get_there("/api/hello").body, HasSubstr("\"paired\":false"));
  for (const char* path :
       {"/api/small", "/api/session", "/api/events", "/api/devices", "/api/nothing"})
    EXPECT_THAT(get_there(path), RefusedWith(401)) << path;
  EXPECT_THAT(get_there("/api/small", "Cookie: __Host-batten=" + std::string(64, '0') + "\r\n"),
              RefusedWith(401));
  EXPECT_THAT(get_there("/api/small", "Cookie: __Host-batten=\r\n"), RefusedWith(401));
}

// RFC 6265bis, 4.1.3 and 5.5; OWASP, Session Management.
TEST_F(NetworkTest, TheCodeLetsADeviceInOnce) {
  const auto invitation = server_->invite();
  EXPECT_EQ(invitation.link, invitation.url + "?code=" + invitation.code);
  const Answer paired = pair(invitation.code);
  ASSERT_EQ(paired.status, 200) << paired.body;
  EXPECT_THAT(paired.headers.at("set-cookie"),
              AllOf(HasSubstr("HttpOnly"), HasSubstr("Secure"), HasSubstr("SameSite=Strict"),
                    HasSubstr("Path=/"), Not(HasSubstr("Domain"))));
  const std::string cookie = cookie_line(paired);
  EXPECT_EQ(get_there("/api/small", cookie).status, 200);
  EXPECT_THAT(get_there("/api/session", cookie).body, HasSubstr("\"device\":\"Tablet\""));
  EXPECT_THAT(get_there("/api/hello", cookie).body, HasSubstr("\"paired\":true"));
  EXPECT_THAT(pair(invitation.code, "Thief"), RefusedWith(403));
  // On this machine the cookie is worth nothing and not needed.
  EXPECT_THAT(get_answer("/api/session", cookie).body, HasSubstr("\"device\":null"));
}

TEST_F(NetworkTest, TheStoreHasOnlyTheTokensDigest) {
  const std::string cookie = cookie_line(pair(server_->invite().code));
  const std::string token = cookie.substr(cookie.find('=') + 1, 64);
  serve();  // which closes the store and so moves its log into the file
  EXPECT_EQ(get_there("/api/small", cookie).status, 200);
  EXPECT_EQ(samples::bytes_of(options_.store).find(token), std::string::npos);
  EXPECT_THAT(Store::open(options_.store).devices(), SizeIs(1));
}

TEST_F(NetworkTest, WhatIsNoRequestToPairIsRefused) {
  const std::string code = server_->invite().code;
  for (const std::string& body :
       {std::string(), std::string("{"), std::string("[]"),
        std::string("{\"code\":1,\"name\":\"a\"}"), std::string("{\"code\":\"1\"}"),
        std::string("{\"code\":\"1\",\"name\":\"\"}"),
        std::string("{\"code\":\"1\",\"name\":\"a\\nb\"}"), std::string(900, '['),
        "{\"code\":\"1\",\"name\":\"" + std::string(81, 'x') + "\"}"})
    EXPECT_THAT(by_network(post(server_->lan_port(), "/api/pair", body)), RefusedWith(400)) << body;
  EXPECT_THAT(by_network(post(server_->lan_port(), "/api/pair", std::string(2000, '['))),
              RefusedWith(413));
  EXPECT_EQ(pair(code).status, 200);  // none of them was a try
}

TEST_F(NetworkTest, TenThousandTriesAreRefusedWhileOthersAreServed) {
  const std::string code = server_->invite().code;
  Client one = device();
  const std::string tried = post(server_->lan_port(), "/api/pair",
                                 fmt::format(R"({{"code":"{}","name":"Thief"}})", wrong(code)));
  int looked_at = 0, too_soon = 0;
  for (int i = 0; i < 10'000; ++i) {
    ASSERT_TRUE(one.send(tried));
    const Answer answer = one.read();
    ASSERT_TRUE(answer.status == 403 || answer.status == 429) << answer.status;
    looked_at += answer.body.find("not the code") != std::string::npos;
    too_soon += answer.status == 429;
    if (answer.status == 429) {
      EXPECT_GE(std::stoi(answer.headers.at("retry-after")), 1);
    }
    now_ms_ += 40;
    if (i % 1000 == 0) {
      EXPECT_EQ(get_answer("/api/small").status, 200);
    }
  }
  EXPECT_EQ(looked_at, 10);
  EXPECT_GT(too_soon, 1000);
  now_ms_ += 60'000;
  EXPECT_THAT(pair(code), RefusedWith(403));  // it has ended
  EXPECT_THAT(Store::open(options_.store).devices(), IsEmpty());
  now_ms_ += 3'600'000;
  EXPECT_EQ(pair(server_->invite().code).status, 200);
}

TEST_F(NetworkTest, OnlyThisMachineInvitesListsAndRevokes) {
  const std::string cookie = cookie_line(pair(server_->invite().code));
  const std::string session = get_there("/api/session", cookie).body;
  const std::string token =
      "X-Batten-Token: " + session.substr(session.find(":\"") + 2, 64) + "\r\n" + cookie;
  EXPECT_EQ(by_network(post(server_->lan_port(), "/api/size", "{}", token)).body, "2");
  EXPECT_THAT(get_there("/api/devices", cookie), RefusedWith(403));
  EXPECT_THAT(by_network(post(server_->lan_port(), "/api/pairing", "{}", token)), RefusedWith(403));
  EXPECT_THAT(by_network(post(server_->lan_port(), "/api/devices/x/revoke", "{}", token)),
              RefusedWith(403));
  const std::string pairing = post_answer("/api/pairing", "{}", token_line()).body;
  for (const char* field : {"\"code\":", "\"url\":\"https://", "\"qr\":\"<svg",
                            "\"fingerprint\":", "\"expires_at\":\"2027-01-15T08:10:00Z\""})
    EXPECT_THAT(pairing, HasSubstr(field));
}

TEST_F(NetworkTest, ARevokedDeviceIsOutAndItsStreamsEnd) {
  const std::string cookie = cookie_line(pair(server_->invite().code));
  const std::string other = cookie_line(pair(server_->invite().code, "Phone"));
  Client stream = device(), stays = device();
  stream.send(get(server_->lan_port(), "/api/events", cookie));
  stays.send(get(server_->lan_port(), "/api/events", other));
  ASSERT_TRUE(wait_for_streams(2));
  const std::string list = get_answer("/api/devices").body;
  EXPECT_THAT(list, AllOf(HasSubstr("Tablet"), HasSubstr("Phone"), Not(HasSubstr("sha256"))));
  const std::string id = list.substr(list.find("\"id\": \"") + 7, 36);
  EXPECT_EQ(post_answer("/api/devices/" + id + "/revoke", "{}", token_line()).status, 200);
  EXPECT_TRUE(stream.is_closed_by_server());
  EXPECT_THAT(get_there("/api/small", cookie), RefusedWith(401));
  EXPECT_EQ(get_there("/api/small", other).status, 200);
  EXPECT_EQ(server_->counts().streams, 1U);
  EXPECT_THAT(post_answer("/api/devices/nobody/revoke", "{}", token_line()), RefusedWith(404));
}

TEST_F(NetworkTest, ARevocationByAnotherProgramHoldsToo) {
  const std::string cookie = cookie_line(pair(server_->invite().code));
  Client stream = device();
  stream.send(get(server_->lan_port(), "/api/events", cookie));
  ASSERT_TRUE(wait_for_streams(1));
  Store other = Store::open(options_.store);
  ASSERT_TRUE(other.revoke_device(other.devices().front().id, 1));
  EXPECT_TRUE(stream.is_closed_by_server());
  EXPECT_THAT(get_there("/api/small", cookie), RefusedWith(401));
}

TEST_F(NetworkTest, WhoDoesNotSpeakTlsGetsNothing) {
  Client plain(server_->lan_port());
  plain.send(get(server_->lan_port(), "/"));
  EXPECT_TRUE(plain.is_closed_by_server());
  Client secret(port(), true);
  EXPECT_FALSE(secret.is_open());
  EXPECT_EQ(get_there("/").status, 200);
}

TEST_F(NetworkTest, WhoNeverShakesHandsIsLetGo) {
  options_.limits.header_time = std::chrono::milliseconds(200);
  serve();
  Client silent(server_->lan_port());
  EXPECT_TRUE(silent.is_closed_by_server());
  EXPECT_TRUE(wait_for_connections(0));
}

TEST_F(NetworkTest, TheCertificateIsMadeOnceAndItsKeyIsTheOwnersOnly) {
  const std::string before = server_->invite().fingerprint;
  EXPECT_THAT(before, testing::MatchesRegex("([0-9A-F][0-9A-F]:)+[0-9A-F][0-9A-F]"));
  EXPECT_EQ(before.size(), 32U * 3 - 1);
  struct stat about {};
  ASSERT_EQ(stat((options_.store.string() + ".tls-key.pem").c_str(), &about), 0);
  EXPECT_EQ(about.st_mode & 0777U, 0600U);
  serve();
  EXPECT_EQ(server_->invite().fingerprint, before);
}

TEST(Certificates, ThatCannotBeReadAreSaidToBe) {
  samples::Folder folder;
  samples::write_bytes(folder / "a.store.tls-key.pem", "no key");
  const auto refused = certificate_beside(folder / "a.store", own_names());
  ASSERT_FALSE(refused);
  EXPECT_THAT(refused.error().happened, HasSubstr("no key"));
  EXPECT_FALSE(certificate_beside(folder / "nowhere" / "a.store", own_names()));
  // A certificate alone is made anew, for the key there is.
  const auto made = certificate_beside(folder / "b.store", own_names());
  ASSERT_TRUE(made);
  std::filesystem::remove(folder / "b.store.tls-cert.pem");
  const auto again = certificate_beside(folder / "b.store", own_names());
  ASSERT_TRUE(again);
  EXPECT_EQ(again->key_pem, made->key_pem);
  EXPECT_NE(again->fingerprint, made->fingerprint);
}

}  // namespace
}  // namespace batten::server::tests
