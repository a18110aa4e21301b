#include "server/connection.hpp"

#include "server/wire.hpp"

#include <array>
#include <boost/asio/post.hpp>
#include <boost/asio/ssl/stream.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/core/stream_traits.hpp>
#include <boost/beast/http/error.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/read.hpp>
#include <boost/beast/http/string_body.hpp>
#include <chrono>
#include <deque>
#include <limits>
#include <optional>
#include <utility>

namespace batten::server {

namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using asio::ip::tcp;
using boost::system::error_code;
using std::chrono::milliseconds;
using TlsSocket = asio::ssl::stream<tcp::socket>;

template <class Socket>
constexpr bool is_tls = std::is_same_v<Socket, TlsSocket>;

// Read in steps, each with its own time: first byte, head, body, answer. Every handler runs in the
// network's thread and holds the connection alive.
template <class Socket>
class Connection final : public AnyConnection,
                         public EventStream,
                         public std::enable_shared_from_this<Connection<Socket>> {
 public:
  Connection(Network& network, const Door& door, std::string address, Socket socket)
      : network_(network),
        door_(door),
        address_(std::move(address)),
        socket_(std::move(socket)),
        timer_(network.io) {}

  void begin() {
    network_.open.insert(self());
    ++network_.by_address[address_];
    if constexpr (is_tls<Socket>) {
      arm(network_.limits.header_time);
      socket_.async_handshake(asio::ssl::stream_base::server, [me = self()](error_code error) {
        if (error || me->late_) return me->cut();
        me->await_request(me->network_.limits.header_time);
      });
    } else {
      await_request(network_.limits.header_time);
    }
  }

  void wind_down() override {
    closing_ = true;
    if (state_ != State::working && state_ != State::writing) cut();
  }

  void cut() override {
    if (state_ == State::closed) return;
    if (state_ == State::streaming) network_.streams.remove(this);
    state_ = State::closed;
    give_back();
    const auto me = self();
    error_code ignored;
    timer_.cancel();
    lowest().shutdown(tcp::socket::shutdown_both, ignored);
    lowest().close(ignored);
    network_.open.erase(me);
    if (const auto found = network_.by_address.find(address_);
        found != network_.by_address.end() && --found->second == 0)
      network_.by_address.erase(found);
  }

  void push(const std::shared_ptr<const std::string>& text) override {
    if (state_ != State::streaming) return;
    waiting_bytes_ += text->size();
    if (waiting_bytes_ > network_.limits.stream_queue) return cut();
    waiting_.push_back(text);
    if (waiting_.size() == 1) write_waiting();
  }

  void end_stream() override { cut(); }

 private:
  enum class State { waiting, reading, working, writing, streaming, draining, closed };
  using Parser = http::request_parser<http::string_body>;

  std::shared_ptr<Connection> self() { return this->shared_from_this(); }
  tcp::socket& lowest() { return beast::get_lowest_layer(socket_); }

  // What is being done ends in that time: with `late_` set, or with the connection where nothing
  // more can be said.
  void arm(milliseconds time) {
    late_ = false;
    timer_.expires_after(time);
    timer_.async_wait([me = self(), round = ++round_](error_code error) {
      if (error || round != me->round_ || me->state_ == State::closed) return;
      me->late_ = true;
      if (me->state_ != State::reading) return me->cut();
      error_code ignored;
      me->lowest().cancel(ignored);
    });
  }
  void disarm() {
    ++round_;
    timer_.cancel();
  }

  void await_request(milliseconds time) {
    if (closing_) return cut();
    state_ = State::waiting;
    if (buffer_.size() > 0) return read_head();
    // Nothing is kept ready for one who says nothing.
    buffer_ = beast::flat_buffer(buffer_most);
    arm(time);
    socket_.async_read_some(buffer_.prepare(2048),
                            [me = self()](error_code error, std::size_t count) {
                              if (error || me->state_ == State::closed) return me->cut();
                              me->buffer_.commit(count);
                              me->read_head();
                            });
  }

  void read_head() {
    state_ = State::reading;
    parser_.emplace();
    parser_->header_limit(static_cast<std::uint32_t>(network_.limits.header));
    // Decided when the address is known. Not boost::none: Beast 300 takes every length for more.
    parser_->body_limit(std::numeric_limits<std::uint64_t>::max());
    arm(network_.limits.header_time);
    http::async_read_header(socket_, buffer_, *parser_,
                            [me = self()](error_code error, std::size_t) {
                              if (me->state_ != State::closed) me->have_head(error);
                            });
  }

  void have_head(error_code error) {
    disarm();
    if (error) return cannot_read(error);
    const auto& m = parser_->get();
    const auto line = [&](auto name) { return std::string(m[name]); };
    Head head;
    head.method = std::string(m.method_string());
    head.target = std::string(m.target());
    head.hosts = m.count(http::field::host);
    head.host = line(http::field::host);
    head.origin = line(http::field::origin);
    head.fetch_site = line("Sec-Fetch-Site");
    head.fetch_mode = line("Sec-Fetch-Mode");
    head.token = line("X-Batten-Token");
    head.content_type = line(http::field::content_type);
    head.cookie = line(http::field::cookie);
    head.known_tag = line(http::field::if_none_match);
    head.chunked = m.chunked();
    if (const auto length = parser_->content_length()) head.length = *length;
    head.paired_only = door_.tls;
    head.address = address_;
    without_body_ = m.method() == http::verb::head;
    if (!m.keep_alive()) closing_ = true;
    expects_ = beast::iequals(m[http::field::expect], "100-continue");

    decision_ = network_.reception->decide(head, door_);
    if (decision_.answer) return send(*std::exchange(decision_.answer, std::nullopt));
    if (decision_.stream) return begin_stream();
    if (parser_->is_done()) return work();
    if (head.length.value_or(0) > decision_.most_body) return send(Reception::cannot_read(413));
    // Many bodies, each within its limit, must not fill the memory together.
    reserved_ = head.length ? static_cast<std::size_t>(*head.length) : decision_.most_body;
    network_.body_bytes += reserved_;
    if (network_.body_bytes > network_.limits.bodies) return send(Reception::cannot_read(503));
    parser_->body_limit(decision_.most_body);
    arm(network_.limits.body_time);
    if (!expects_) return read_body();
    asio::async_write(socket_, asio::buffer(go_on), [me = self()](error_code failed, std::size_t) {
      if (failed || me->late_) return me->cut();
      me->read_body();
    });
  }

  void read_body() {
    http::async_read(socket_, buffer_, *parser_, [me = self()](error_code error, std::size_t) {
      if (me->state_ == State::closed) return;
      me->disarm();
      if (error) return me->cannot_read(error);
      me->work();
    });
  }

  void cannot_read(error_code error) {
    int status = 0;
    if (late_) {
      status = 408;
    } else if (error == http::error::header_limit || error == http::error::buffer_overflow) {
      status = 431;
    } else if (error == http::error::body_limit) {
      status = 413;
    } else if (error.category() == make_error_code(http::error::bad_method).category() &&
               error != http::error::end_of_stream && error != http::error::partial_message) {
      status = 400;
    }
    if (status == 0) return cut();
    closing_ = true;
    send(Reception::cannot_read(status));
  }

  void work() {
    state_ = State::working;
    Request request = std::move(decision_.request);
    request.body = std::move(parser_->get().body());
    // The reply comes from another thread; what it touches is touched in this one.
    const Reply reply = [me = self(), io = &network_.io](Response response) {
      asio::post(*io, [me, answer = std::move(response)]() mutable {
        if (me->state_ == State::working) me->send(std::move(answer));
      });
    };
    const auto job = std::move(decision_.work);
    decision_ = {};
    job(std::move(request), reply);
  }

  void give_back() { network_.body_bytes -= std::exchange(reserved_, 0); }

  void send(Response response) {
    state_ = State::writing;
    give_back();
    // What is left of a request that was not read cannot be told from the next one.
    const bool left = !parser_ || !parser_->is_done();
    if (left || network_.stopping) closing_ = true;
    answer_ = std::move(response);
    head_ = print_head(answer_, closing_);
    const bool bare = without_body_ || answer_.status == 204 || answer_.status == 304;
    const std::array<asio::const_buffer, 2> bytes{
        asio::buffer(head_), bare ? asio::const_buffer() : asio::buffer(*answer_.body)};
    arm(network_.limits.write_time);
    asio::async_write(socket_, bytes, [me = self(), left](error_code error, std::size_t) {
      if (me->state_ == State::closed) return;
      me->disarm();
      me->answer_ = {};
      me->parser_.reset();
      if (error) return me->cut();
      if (!me->closing_) return me->await_request(me->network_.limits.idle_time);
      if (left) return me->drain();
      me->part();
    });
  }

  // A client that is still sending would see its connection reset and never the answer: what it
  // sends is taken and forgotten, within limits.
  void drain() {
    part_sending();
    state_ = State::draining;
    buffer_ = beast::flat_buffer(buffer_most);
    arm(network_.limits.drain_time);
    read_away(0);
  }
  void read_away(std::size_t so_far) {
    socket_.async_read_some(buffer_.prepare(buffer_most),
                            [me = self(), so_far](error_code error, std::size_t count) {
                              if (me->state_ == State::closed) return;
                              const std::size_t all = so_far + count;
                              if (error || all > me->network_.limits.drain) return me->cut();
                              me->read_away(all);
                            });
  }

  void part_sending() {
    error_code ignored;
    lowest().shutdown(tcp::socket::shutdown_send, ignored);
  }
  void part() {
    if constexpr (is_tls<Socket>) {
      state_ = State::draining;
      arm(network_.limits.drain_time);
      socket_.async_shutdown([me = self()](error_code) { me->cut(); });
    } else {
      // The client closes when it has read the answer; a reset might overtake it.
      drain();
    }
  }

  void begin_stream() {
    state_ = State::streaming;
    EventStream::piano = decision_.request.asked("piano");
    EventStream::device = decision_.device;
    decision_ = {};
    parser_.reset();
    // The queue is ours to bound, not the system's.
    error_code ignored;
    lowest().set_option(tcp::socket::send_buffer_size(64 * 1024), ignored);
    network_.streams.add(self());
    push(std::make_shared<const std::string>(print_stream_head()));
    read_end();
  }
  // A listener has nothing to say; that it hangs up is seen by reading.
  void read_end() {
    buffer_.clear();
    socket_.async_read_some(buffer_.prepare(512), [me = self()](error_code error, std::size_t) {
      if (me->state_ == State::closed) return;
      if (error) return me->cut();
      me->read_end();
    });
  }
  void write_waiting() {
    arm(network_.limits.write_time);
    asio::async_write(socket_, asio::buffer(*waiting_.front()),
                      [me = self()](error_code error, std::size_t) {
                        if (me->state_ == State::closed) return;
                        if (error) return me->cut();
                        me->disarm();
                        me->waiting_bytes_ -= me->waiting_.front()->size();
                        me->waiting_.pop_front();
                        if (!me->waiting_.empty()) me->write_waiting();
                      });
  }

  // Twice the longest head; bodies pass through it.
  static constexpr std::size_t buffer_most = std::size_t{16} * 1024;
  static constexpr std::string_view go_on = "HTTP/1.1 100 Continue\r\n\r\n";

  Network& network_;
  const Door& door_;
  std::string address_;
  Socket socket_;
  asio::steady_timer timer_;
  unsigned round_ = 0;
  State state_ = State::waiting;
  bool late_ = false, closing_ = false, without_body_ = false, expects_ = false;
  beast::flat_buffer buffer_{buffer_most};
  std::optional<Parser> parser_;
  Decision decision_;
  Response answer_;
  std::string head_;
  std::deque<std::shared_ptr<const std::string>> waiting_;
  std::size_t waiting_bytes_ = 0;
  std::size_t reserved_ = 0;  // of network_.body_bytes
};

// Too many connections: said at once, without reading.
void turn_away(tcp::socket socket) {
  Response busy = Reception::cannot_read(503);
  const std::string text = print_head(busy, true) + *busy.body;
  error_code ignored;
  socket.non_blocking(true, ignored);
  socket.write_some(asio::buffer(text), ignored);
  socket.shutdown(tcp::socket::shutdown_both, ignored);
}

// The address if there is room for one more from there.
std::optional<std::string> admit(const Network& network, const tcp::socket& socket) {
  error_code error;
  auto from = socket.remote_endpoint(error).address();
  if (error || network.stopping) return std::nullopt;
  if (from.is_v6() && from.to_v6().is_v4_mapped())
    from = asio::ip::make_address_v4(asio::ip::v4_mapped, from.to_v6());
  const auto known = network.by_address.find(from.to_string());
  const std::size_t there = known == network.by_address.end() ? 0 : known->second;
  const std::size_t most =
      from.is_loopback() ? network.limits.connections_here : network.limits.connections_there;
  if (there >= most || network.open.size() >= network.limits.connections) return std::nullopt;
  return from.to_string();
}

}  // namespace

void serve_plain(Network& network, const Door& door, tcp::socket socket) {
  const auto address = admit(network, socket);
  if (!address) return turn_away(std::move(socket));
  error_code ignored;
  socket.set_option(tcp::no_delay(true), ignored);
  std::make_shared<Connection<tcp::socket>>(network, door, *address, std::move(socket))->begin();
}

void serve_tls(Network& network, const Door& door, tcp::socket socket, asio::ssl::context& tls) {
  const auto address = admit(network, socket);
  if (!address) return;  // without a handshake nothing can be said
  error_code ignored;
  socket.set_option(tcp::no_delay(true), ignored);
  std::make_shared<Connection<TlsSocket>>(network, door, *address,
                                          TlsSocket(std::move(socket), tls))
      ->begin();
}

}  // namespace batten::server
