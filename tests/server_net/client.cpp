#include "tests/server_net/client.hpp"

#include <fmt/format.h>

#include <arpa/inet.h>
#include <array>
#include <cerrno>
#include <netinet/in.h>
#include <openssl/ssl.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <unistd.h>
#include <utility>

namespace batten::server::tests {

namespace {

SSL_CTX* client_tls() {
  // The server's certificate is its own; that it is the right one is what the fingerprint is for.
  static SSL_CTX* const context = SSL_CTX_new(TLS_client_method());
  return context;
}

}  // namespace

Client::Client(std::uint16_t port, bool tls) : socket_(socket(AF_INET, SOCK_STREAM, 0)) {
  sockaddr_in to{};
  to.sin_family = AF_INET;
  to.sin_port = htons(port);
  to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  const timeval wait{30, 0};
  setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &wait, sizeof wait);
  setsockopt(socket_, SOL_SOCKET, SO_SNDTIMEO, &wait, sizeof wait);
  if (connect(socket_, reinterpret_cast<const sockaddr*>(&to), sizeof to) != 0) {
    close(std::exchange(socket_, -1));
    return;
  }
  if (!tls) return;
  tls_ = SSL_new(client_tls());
  SSL_set_fd(tls_, socket_);
  if (SSL_connect(tls_) != 1) {
    SSL_free(std::exchange(tls_, nullptr));
    close(std::exchange(socket_, -1));
  }
}

Client::~Client() {
  if (tls_ != nullptr) SSL_free(tls_);
  if (socket_ >= 0) close(socket_);
}

Client::Client(Client&& other) noexcept
    : socket_(std::exchange(other.socket_, -1)),
      tls_(std::exchange(other.tls_, nullptr)),
      rest_(std::move(other.rest_)) {}

bool Client::send(std::string_view bytes) {
  while (!bytes.empty() && socket_ >= 0) {
    const ssize_t count = tls_ != nullptr
                              ? SSL_write(tls_, bytes.data(), static_cast<int>(bytes.size()))
                              : ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
    if (count <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(count));
  }
  return bytes.empty();
}

bool Client::more() {
  std::array<char, 65536> block{};
  if (socket_ < 0) return false;
  errno = 0;  // so that a time that ran out can be told from an end
  const ssize_t count = tls_ != nullptr
                            ? SSL_read(tls_, block.data(), static_cast<int>(block.size()))
                            : recv(socket_, block.data(), block.size(), 0);
  if (count <= 0) return false;
  rest_.append(block.data(), static_cast<std::size_t>(count));
  return true;
}

Answer Client::read(bool bare) {
  while (rest_.find("\r\n\r\n") == std::string::npos)
    if (!more()) return {};
  const std::size_t end = rest_.find("\r\n\r\n");
  const std::string head = rest_.substr(0, end + 2);
  rest_.erase(0, end + 4);
  Answer answer;
  answer.status = std::stoi(head.substr(9, 3));
  for (std::size_t at = head.find("\r\n") + 2; at < head.size();) {
    const std::size_t line_end = head.find("\r\n", at);
    const std::string line = head.substr(at, line_end - at);
    at = line_end + 2;
    const std::size_t colon = line.find(": ");
    if (colon == std::string::npos) continue;
    std::string name = line.substr(0, colon);
    for (char& c : name) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    answer.headers[name] = line.substr(colon + 2);
  }
  if (bare || !answer.headers.contains("content-length")) return answer;
  const std::size_t size = std::stoul(answer.headers["content-length"]);
  while (rest_.size() < size)
    if (!more()) return {};
  answer.body = rest_.substr(0, size);
  rest_.erase(0, size);
  return answer;
}

std::string Client::read_until(std::string_view end) {
  while (rest_.find(end) == std::string::npos)
    if (!more()) return std::exchange(rest_, {});
  const std::size_t at = rest_.find(end) + end.size();
  std::string text = rest_.substr(0, at);
  rest_.erase(0, at);
  return text;
}

bool Client::is_closed_by_server() {
  while (more()) continue;
  return errno != EAGAIN;
}

std::string get(std::uint16_t port, std::string_view target, std::string_view lines) {
  return fmt::format("GET {} HTTP/1.1\r\nHost: localhost:{}\r\n{}\r\n", target, port, lines);
}

std::string post(std::uint16_t port, std::string_view target, std::string_view body,
                 std::string_view lines) {
  return fmt::format(
      "POST {} HTTP/1.1\r\nHost: localhost:{}\r\nContent-Type: application/json\r\n"
      "Content-Length: {}\r\n{}\r\n{}",
      target, port, body.size(), lines, body);
}

}  // namespace batten::server::tests
