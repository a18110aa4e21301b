#include "server/serve.hpp"

#include "app/backups.hpp"
#include "server/certificate.hpp"
#include "server/connection.hpp"
#include "server/watch.hpp"

#include <fmt/format.h>

#include <boost/asio/executor_work_guard.hpp>
#include <boost/asio/ip/v6_only.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/ssl/context.hpp>
#include <boost/asio/steady_timer.hpp>
#include <chrono>
#include <future>
#include <list>
#include <optional>
#include <thread>
#include <utility>

namespace batten::server {

namespace {

namespace asio = boost::asio;
using asio::ip::tcp;
using boost::system::error_code;

// Accepts until it is closed.
class Listener {
 public:
  Listener(Network& network, std::vector<std::string> names, asio::ssl::context* tls)
      : network_(network), acceptor_(network.io), pause_(network.io), tls_(tls) {
    door_.names = std::move(names);
    door_.tls = tls != nullptr;
  }

  error_code listen(const tcp::endpoint& at, bool only_v6 = true) {
    error_code error;
    acceptor_.open(at.protocol(), error);
    if (!error) acceptor_.set_option(tcp::acceptor::reuse_address(true), error);
    if (!error && at.protocol() == tcp::v6())
      acceptor_.set_option(asio::ip::v6_only(only_v6), error);
    if (!error) acceptor_.bind(at, error);
    if (!error) acceptor_.listen(256, error);
    if (!error) door_.port = acceptor_.local_endpoint(error).port();
    if (error) {
      error_code ignored;
      acceptor_.close(ignored);
    }
    return error;
  }
  std::uint16_t port() const { return door_.port; }

  void accept() {
    acceptor_.async_accept([this](error_code error, tcp::socket socket) {
      if (error == asio::error::operation_aborted || network_.stopping) return;
      if (!error) {
        if (tls_ == nullptr) {
          serve_plain(network_, door_, std::move(socket));
        } else {
          serve_tls(network_, door_, std::move(socket), *tls_);
        }
        return accept();
      }
      // Out of file handles, say: it passes.
      pause_.expires_after(std::chrono::milliseconds(50));
      pause_.async_wait([this](error_code ended) {
        if (!ended) accept();
      });
    });
  }
  void close() {
    error_code ignored;
    acceptor_.close(ignored);
    pause_.cancel();
  }

 private:
  Network& network_;
  tcp::acceptor acceptor_;
  asio::steady_timer pause_;
  asio::ssl::context* tls_;
  Door door_;
};

}  // namespace

class Server::Work {
 public:
  explicit Work(const ServeOptions& options)
      : options_(options),
        site_(options.compiled, options.web),
        cache_(options.limits.cache),
        streams_(options.limits.streams),
        beat_(io_),
        poll_(io_),
        backup_(io_) {
    if (!options_.now_ms)
      options_.now_ms = [] {
        return std::chrono::duration_cast<std::chrono::milliseconds>(
                   std::chrono::system_clock::now().time_since_epoch())
            .count();
      };
  }

  Result<void> begin() {
    auto lanes = Lanes::open(
        options_.store, options_.who, cache_, [this](Event event) { tell(std::move(event)); },
        options_.limits.queue);
    if (!lanes) return tl::unexpected(lanes.error());
    lanes_ = std::move(*lanes);
    OwnNames names;
    if (options_.lan) {
      names = own_names();
      if (auto opened = open_tls(names); !opened) return opened;
    }
    // Listening first: the addresses told are those there are.
    network_ = std::make_unique<Network>(Network{io_, options_.limits, nullptr, streams_});
    if (auto listening = listen_here(); !listening) return listening;
    if (options_.lan)
      if (auto listening = listen_there(names); !listening) return listening;
    reception_ = std::make_unique<Reception>(Reception::Parts{
        options_.limits, options_.routes, site_, *lanes_, streams_, guests_, options_.who,
        options_.version, lan_url_, certificate_.fingerprint, options_.now_ms,
        [this](std::function<void()> what) { asio::post(io_, std::move(what)); }});
    network_->reception = reception_.get();
    for (Listener& listener : listeners_) listener.accept();
    look();
    beat();
    if (options_.backups) back_up();
    thread_ = std::thread([this] { io_.run(); });
    return {};
  }

  ~Work() { stop(); }

  void stop() {
    if (!thread_.joinable()) {
      if (lanes_) lanes_->stop();
      return;
    }
    in_network([this] {
      network_->stopping = true;
      beat_.cancel();
      poll_.cancel();
      backup_.cancel();
      for (Listener& listener : listeners_) listener.close();
      for_each_connection([](AnyConnection& one) { one.wind_down(); });
    });
    lanes_->stop();
    // Answers made are still being sent.
    const auto end = std::chrono::steady_clock::now() + options_.limits.stop_time;
    while (counts().connections > 0 && std::chrono::steady_clock::now() < end)
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    in_network([this] { for_each_connection([](AnyConnection& one) { one.cut(); }); });
    guard_.reset();
    thread_.join();
  }

  void tell(Event event) {
    asio::post(io_, [this, told = std::move(event)] { streams_.tell(told); });
  }

  Counts counts() {
    if (!thread_.joinable()) return {};
    Counts counts;
    in_network([&] { counts = {network_->open.size(), streams_.count()}; });
    return counts;
  }

  Invitation invite() {
    if (!options_.lan) return {};
    Pairing::Code code;
    in_network([&] { code = reception_->new_code(); });
    return {lan_url_, code.code, lan_url_ + "?code=" + code.code, certificate_.fingerprint};
  }

  std::uint16_t port() const { return listeners_.front().port(); }
  std::uint16_t lan_port() const { return options_.lan ? listeners_.back().port() : 0; }

 private:
  // Both of the machine's own addresses, where there are two.
  Result<void> listen_here() {
    const std::vector<std::string> names{"localhost", "127.0.0.1", "[::1]"};
    Listener& four = listeners_.emplace_back(*network_, names, nullptr);
    const tcp::endpoint at(asio::ip::address_v4::loopback(), options_.port);
    if (const error_code error = four.listen(at)) {
      if (error == asio::error::address_in_use)
        return problem(fmt::format("Port {} is taken by another program.", options_.port),
                       "Choose another with --port, or let the system choose with --port 0.",
                       "Nothing was started.");
      return problem(
          fmt::format("Port {} could not be opened: {}.", options_.port, error.message()),
          "Choose another with --port.", "Nothing was started.");
    }
    Listener& six = listeners_.emplace_back(*network_, names, nullptr);
    if (six.listen({asio::ip::address_v6::loopback(), four.port()})) listeners_.pop_back();
    return {};
  }

  Result<void> open_tls(const OwnNames& names) {
    auto certificate = certificate_beside(options_.store, names);
    if (!certificate) return tl::unexpected(certificate.error());
    certificate_ = std::move(*certificate);
    error_code error;
    tls_.set_options(asio::ssl::context::default_workarounds | asio::ssl::context::no_tlsv1 |
                         asio::ssl::context::no_tlsv1_1 | asio::ssl::context::no_compression,
                     error);
    tls_.use_certificate(asio::buffer(certificate_.certificate_pem), asio::ssl::context::pem,
                         error);
    if (!error)
      tls_.use_private_key(asio::buffer(certificate_.key_pem), asio::ssl::context::pem, error);
    if (error)
      return problem("The certificate for the network cannot be used: " + error.message() + ".",
                     "Move the .tls-cert.pem beside the store away; a new one is made then.",
                     "Nothing was started.");
    // A renegotiating client costs more than it is worth.
    SSL_CTX_set_options(tls_.native_handle(), SSL_OP_NO_RENEGOTIATION);
    return {};
  }

  // Every address of the machine, in one listener where the system allows it.
  Result<void> listen_there(const OwnNames& own) {
    std::vector<std::string> names = own.names;
    std::string best = "localhost";
    for (const std::string& address : own.addresses) {
      const bool six = address.find(':') != std::string::npos;
      names.push_back(six ? "[" + address + "]" : address);
      if (!six && address != "127.0.0.1" && best == "localhost") best = address;
    }
    names.emplace_back("[::1]");
    Listener& all = listeners_.emplace_back(*network_, names, &tls_);
    error_code error = all.listen({asio::ip::address_v6::any(), options_.lan_port}, false);
    if (error && error != asio::error::address_in_use)
      error = all.listen({asio::ip::address_v4::any(), options_.lan_port});
    if (error)
      return problem(fmt::format("Port {} for the network could not be opened: {}.",
                                 options_.lan_port, error.message()),
                     "Choose another with --lan-port.", "Nothing was started.");
    lan_url_ = fmt::format("https://{}:{}/", best, all.port());
    return {};
  }

  // Whether another program has written, by the desk's lane; then again in a while.
  void look() {
    lanes_->submit(Lane::desk, [this](Answering& with) {
      std::optional<Watch::News> news;
      try {
        news = watch_.look(with.desk.store);
      } catch (const std::exception&) {
        news.reset();  // whoever asks for something is told what is wrong
      }
      if (!news) return;
      asio::post(io_, [this, told = std::move(*news)] {
        guests_.know(told.devices);
        streams_.end_if(
            [&](const std::string& device) { return !device.empty() && !guests_.knows(device); });
        for (const Event& event : told.events) streams_.tell(event);
      });
    });
    poll_.expires_after(options_.limits.poll);
    poll_.async_wait([this](error_code error) {
      if (!error && !network_->stopping) look();
    });
  }

  // The model's lane keeps nobody waiting who writes or reads a journal.
  void back_up() {
    lanes_->submit(Lane::model, [this](Answering& with) {
      auto made = make_backup_if_due(with.desk);
      if (!made && options_.no_backup) options_.no_backup(made.error());
    });
    backup_.expires_after(options_.limits.backup_look);
    backup_.async_wait([this](error_code error) {
      if (!error && !network_->stopping) back_up();
    });
  }

  void beat() {
    beat_.expires_after(options_.limits.beat);
    beat_.async_wait([this](error_code error) {
      if (error) return;
      streams_.beat();
      beat();
    });
  }

  // In the network's thread, and waits for it.
  void in_network(const std::function<void()>& what) {
    std::promise<void> done;
    asio::post(io_, [&] {
      what();
      done.set_value();
    });
    done.get_future().wait();
  }
  // Connections leave the list as they close.
  void for_each_connection(const std::function<void(AnyConnection&)>& what) {
    const auto all = network_->open;
    for (const auto& one : all) what(*one);
  }

  ServeOptions options_;
  asio::io_context io_{1};
  asio::executor_work_guard<asio::io_context::executor_type> guard_{io_.get_executor()};
  Site site_;
  Cache cache_;
  Streams streams_;
  Guests guests_;
  Watch watch_;  // the desk's lane's
  Certificate certificate_;
  std::string lan_url_;
  asio::ssl::context tls_{asio::ssl::context::tls_server};
  asio::steady_timer beat_, poll_, backup_;
  std::unique_ptr<Lanes> lanes_;
  std::unique_ptr<Reception> reception_;
  std::unique_ptr<Network> network_;
  std::list<Listener> listeners_;
  std::thread thread_;
};

Server::Server(std::unique_ptr<Work> work) : work_(std::move(work)) {}
Server::~Server() = default;

Result<std::unique_ptr<Server>> Server::start(const ServeOptions& options) {
  auto work = std::make_unique<Work>(options);
  if (auto begun = work->begin(); !begun) return tl::unexpected(begun.error());
  return std::unique_ptr<Server>(new Server(std::move(work)));
}

std::uint16_t Server::port() const { return work_->port(); }
std::string Server::url() const { return fmt::format("http://localhost:{}/", port()); }
std::uint16_t Server::lan_port() const { return work_->lan_port(); }
Server::Invitation Server::invite() { return work_->invite(); }
void Server::tell(Event event) { work_->tell(std::move(event)); }
void Server::stop() { work_->stop(); }
Server::Counts Server::counts() { return work_->counts(); }

}  // namespace batten::server
