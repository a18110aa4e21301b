// The server as a whole: doors, the network's thread, the lanes.
#pragma once

#include "core/outcome/outcome.hpp"
#include "server/assets.hpp"
#include "server/limits.hpp"
#include "server/routes.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <span>
#include <string>

namespace batten::server {

struct ServeOptions {
  std::filesystem::path store;
  std::string who;             // written into every entry; may be empty
  std::string version;         // as told to the page
  std::uint16_t port = 0;      // on this machine only; 0: any that is free
  std::filesystem::path web;   // folder to take the front end from; empty: `compiled`
  bool lan = false;            // a second door for the network, with TLS
  std::uint16_t lan_port = 0;  // 0: any that is free
  std::span<const Asset> compiled = {};
  std::span<const Route> routes = {};
  Limits limits = {};
  // Copies of the store by themselves (app/backups.hpp): at the start and every day, where due.
  bool backups = false;
  std::function<void(const Problem&)> no_backup = {};  // from a lane's thread
  std::function<std::int64_t()> now_ms = {};           // Unix time, UTC; empty: the system's
};

// From any thread, but one at a time.
class Server {
 public:
  // Listens and serves when it returns. Errors: the store cannot be opened, the port is taken.
  static Result<std::unique_ptr<Server>> start(const ServeOptions& options);
  ~Server();
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  std::uint16_t port() const;
  std::string url() const;  // "http://localhost:8137/"

  // With `lan`: what a device needs to come in. The code before ends; good for ten minutes and
  // once.
  struct Invitation {
    std::string url;          // "https://192.168.1.20:8138/"
    std::string code;         // eight digits
    std::string link;         // the address with the code, for the QR code
    std::string fingerprint;  // of the certificate, SHA-256
  };
  Invitation invite();
  std::uint16_t lan_port() const;

  // Tells event streams, as answerers do.
  void tell(Event event);

  // No new request; what is being written down is finished and answered; streams are closed.
  void stop();

  struct Counts {
    std::size_t connections = 0, streams = 0;
  };
  Counts counts();

 private:
  class Work;
  explicit Server(std::unique_ptr<Work> work);
  std::unique_ptr<Work> work_;
};

}  // namespace batten::server
