#include "server/wire.hpp"

#include <fmt/format.h>

#include <array>
#include <ctime>
#include <string_view>

namespace batten::server {

namespace {

// Scripts, styles and connections from here only; nobody may put the page into a frame (W3C CSP 3).
// Drawings are SVG in the page, whose style attributes are set by script, which 'self' allows.
constexpr std::string_view on_every_answer =
    "Content-Security-Policy: default-src 'self'; img-src 'self' data: blob:; object-src 'none'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'\r\n"
    "X-Content-Type-Options: nosniff\r\n"
    "Referrer-Policy: no-referrer\r\n"
    "Cross-Origin-Opener-Policy: same-origin\r\n"
    "Cross-Origin-Resource-Policy: same-origin\r\n";

// RFC 9110, section 15; RFC 6585.
std::string_view reason(int status) {
  switch (status) {
    case 200:
      return "OK";
    case 201:
      return "Created";
    case 204:
      return "No Content";
    case 304:
      return "Not Modified";
    case 400:
      return "Bad Request";
    case 401:
      return "Unauthorized";
    case 403:
      return "Forbidden";
    case 404:
      return "Not Found";
    case 405:
      return "Method Not Allowed";
    case 408:
      return "Request Timeout";
    case 409:
      return "Conflict";
    case 410:
      return "Gone";
    case 413:
      return "Content Too Large";
    case 414:
      return "URI Too Long";
    case 415:
      return "Unsupported Media Type";
    case 421:
      return "Misdirected Request";
    case 422:
      return "Unprocessable Content";
    case 429:
      return "Too Many Requests";
    case 431:
      return "Request Header Fields Too Large";
    case 500:
      return "Internal Server Error";
    case 501:
      return "Not Implemented";
    case 503:
      return "Service Unavailable";
    default:
      return "Other";
  }
}

// RFC 9110, 5.6.7; not by strftime, whose names follow the locale.
std::string date_now() {
  constexpr std::array<std::string_view, 7> days{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  constexpr std::array<std::string_view, 12> months{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                    "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const std::time_t now = std::time(nullptr);
  std::tm t{};
  gmtime_r(&now, &t);
  return fmt::format("{}, {:02} {} {} {:02}:{:02}:{:02} GMT",
                     days.at(static_cast<std::size_t>(t.tm_wday)), t.tm_mday,
                     months.at(static_cast<std::size_t>(t.tm_mon)), t.tm_year + 1900, t.tm_hour,
                     t.tm_min, t.tm_sec);
}

}  // namespace

std::string print_head(const Response& response, bool closing) {
  std::string head = fmt::format("HTTP/1.1 {} {}\r\nDate: {}\r\n", response.status,
                                 reason(response.status), date_now());
  head += on_every_answer;
  const bool has_body = response.status != 204 && response.status != 304;
  if (has_body) {
    head += fmt::format("Content-Type: {}\r\nContent-Length: {}\r\n", response.type,
                        response.body->size());
  }
  if (!response.headers.contains("Cache-Control")) head += "Cache-Control: no-store\r\n";
  for (const auto& [name, value] : response.headers) head += fmt::format("{}: {}\r\n", name, value);
  if (closing) head += "Connection: close\r\n";
  return head + "\r\n";
}

std::string print_stream_head() {
  std::string head = fmt::format("HTTP/1.1 200 OK\r\nDate: {}\r\n", date_now());
  head += on_every_answer;
  head +=
      "Content-Type: text/event-stream\r\nCache-Control: no-store\r\nConnection: close\r\n\r\n"
      "retry: 1000\n\n";
  return head;
}

}  // namespace batten::server
