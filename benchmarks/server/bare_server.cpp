#include "benchmarks/server/bare_server.hpp"

#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/post.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/http.hpp>
#include <thread>
#include <utility>

namespace batten::benchmarks {

namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using asio::ip::tcp;

class Session : public std::enable_shared_from_this<Session> {
 public:
  Session(tcp::socket socket, const std::string& body) : socket_(std::move(socket)) {
    response_.set(http::field::content_type, "application/json");
    response_.body() = body;
    response_.prepare_payload();
  }
  void read() {
    request_ = {};
    http::async_read(socket_, buffer_, request_,
                     [me = shared_from_this()](beast::error_code error, std::size_t) {
                       if (!error) me->write();
                     });
  }

 private:
  void write() {
    http::async_write(socket_, response_,
                      [me = shared_from_this()](beast::error_code error, std::size_t) {
                        if (!error) me->read();
                      });
  }

  tcp::socket socket_;
  beast::flat_buffer buffer_;
  http::request<http::string_body> request_;
  http::response<http::string_body> response_;
};

}  // namespace

class BareServer::Work {
 public:
  explicit Work(std::string body) : body_(std::move(body)) {
    accept();
    thread_ = std::thread([this] { io_.run(); });
  }
  ~Work() {
    io_.stop();
    thread_.join();
  }
  std::uint16_t port() const { return acceptor_.local_endpoint().port(); }

 private:
  void accept() {
    acceptor_.async_accept([this](beast::error_code error, tcp::socket socket) {
      if (error) return;
      socket.set_option(tcp::no_delay(true));
      std::make_shared<Session>(std::move(socket), body_)->read();
      accept();
    });
  }

  std::string body_;
  asio::io_context io_{1};
  tcp::acceptor acceptor_{io_, {asio::ip::address_v4::loopback(), 0}};
  std::thread thread_;
};

BareServer::BareServer(std::string body) : work_(std::make_unique<Work>(std::move(body))) {}
BareServer::~BareServer() = default;
std::uint16_t BareServer::port() const { return work_->port(); }

}  // namespace batten::benchmarks
