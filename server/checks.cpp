#include "server/checks.hpp"

#include <algorithm>
#include <array>
#include <charconv>

namespace batten::server {

namespace {

char small(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

std::string small(std::string_view text) {
  std::string result(text);
  std::transform(result.begin(), result.end(), result.begin(), [](char c) { return small(c); });
  return result;
}

int figure(char c) {
  c = small(c);
  if (c >= '0' && c <= '9') return c - '0';
  return c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
}

// `plus`: "+" is a blank, as forms write it (WHATWG URL, 5.1).
std::optional<std::string> decoded(std::string_view text, bool plus) {
  std::string result;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '%') {
      if (i + 2 >= text.size()) return std::nullopt;
      const int high = figure(text[i + 1]), low = figure(text[i + 2]);
      if (high < 0 || low < 0) return std::nullopt;
      result += static_cast<char>(high * 16 + low);
      i += 2;
    } else {
      // RFC 3986: an address is printable ASCII.
      if (c <= ' ' || c == '\x7f' || static_cast<unsigned char>(c) >= 0x80) return std::nullopt;
      result += plus && c == '+' ? ' ' : c;
    }
  }
  if (!is_plain_text(result)) return std::nullopt;
  return result;
}

bool parse_query(std::string_view text, std::map<std::string, std::string>& query) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('&'), text.size());
    const std::string_view pair = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (pair.empty()) continue;
    const std::size_t equals = std::min(pair.find('='), pair.size());
    const auto name = decoded(pair.substr(0, equals), true);
    const auto value = decoded(pair.substr(std::min(equals + 1, pair.size())), true);
    // The same name twice has no one meaning.
    if (!name || !value || !query.emplace(*name, *value).second) return false;
  }
  return true;
}

Response refuse(int status, const char* happened, const char* todo) {
  return refused({happened, "Nothing was changed.", todo}, status);
}

// "name:port"; without a port the protocol's own.
bool is_ours(std::string_view host, const Door& door) {
  const std::size_t colon = host.starts_with('[') ? host.find("]:") : host.rfind(':');
  std::string_view name = host;
  unsigned port = door.tls ? 443 : 80;
  if (colon != std::string_view::npos) {
    const std::size_t digits = host.starts_with('[') ? colon + 2 : colon + 1;
    name = host.substr(0, digits - 1);
    const std::string_view text = host.substr(digits);
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), port);
    if (error != std::errc{} || end != text.data() + text.size()) return false;
  }
  return port == door.port &&
         std::find(door.names.begin(), door.names.end(), small(name)) != door.names.end();
}

}  // namespace

bool is_plain_text(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  for (std::size_t i = 0; i < text.size();) {
    const unsigned first = byte(i);
    if (first < 0x20 || first == 0x7f) return false;
    if (first < 0x80) {
      ++i;
      continue;
    }
    const std::size_t more = first >= 0xf0 ? 3 : first >= 0xe0 ? 2 : 1;
    if (first < 0xc2 || first > 0xf4 || i + more >= text.size()) return false;
    unsigned low = 0x80, high = 0xbf;
    if (first == 0xe0) low = 0xa0;
    if (first == 0xed) high = 0x9f;
    if (first == 0xf0) low = 0x90;
    if (first == 0xf4) high = 0x8f;
    for (std::size_t k = 1; k <= more; ++k, low = 0x80, high = 0xbf)
      if (byte(i + k) < low || byte(i + k) > high) return false;
    // C1 control characters.
    if (first == 0xc2 && byte(i + 1) < 0xa0) return false;
    i += more + 1;
  }
  return true;
}

std::optional<Target> parse_target(std::string_view target) {
  if (!target.starts_with('/') || target.find('#') != std::string_view::npos) return std::nullopt;
  const std::size_t question = std::min(target.find('?'), target.size());
  const std::string_view raw = target.substr(0, question);
  // A slash that is not a slash to everyone who reads it.
  const std::string lower = small(raw);
  for (const std::string_view trick : {"%2f", "%5c", "\\", "//"})
    if (lower.find(trick) != std::string::npos) return std::nullopt;
  const auto path = decoded(raw, false);
  if (!path) return std::nullopt;
  for (std::size_t begin = 1; begin <= path->size();) {
    const std::size_t end = std::min(path->find('/', begin), path->size());
    const std::string_view part = std::string_view(*path).substr(begin, end - begin);
    if (part == "." || part == ".." || (part.empty() && path->size() > 1)) return std::nullopt;
    begin = end + 1;
  }
  Target result{*path, {}};
  if (!parse_query(target.substr(std::min(question + 1, target.size())), result.query))
    return std::nullopt;
  return result;
}

std::optional<Response> check_origin(const Head& head, const Door& door, bool is_api) {
  if (head.hosts != 1 || head.host.empty())
    return refuse(400, "The request does not say once which server it means.",
                  "Use a browser, or send one Host line.");
  if (!is_ours(head.host, door))
    return refuse(421, "The request calls this server by a name that is not its own.",
                  "Open the address that the program printed when it was started.");
  if (!head.origin.empty() &&
      small(head.origin) != (door.tls ? "https://" : "http://") + small(head.host))
    return refuse(403, "The request comes from a page of another site.",
                  "Open this server's own page.");
  // Fetch Metadata (W3C): following a link here is harmless, asking for data is not.
  const bool own =
      head.fetch_site.empty() || head.fetch_site == "same-origin" || head.fetch_site == "none";
  if (!own && (is_api || head.fetch_mode != "navigate"))
    return refuse(403, "The request comes from a page of another site.",
                  "Open this server's own page.");
  return std::nullopt;
}

bool is_json(std::string_view content_type) {
  std::string_view type = content_type.substr(0, content_type.find(';'));
  while (type.ends_with(' ')) type.remove_suffix(1);
  return small(type) == "application/json";
}

std::string cookie(std::string_view line, std::string_view name) {
  while (!line.empty()) {
    const std::size_t end = std::min(line.find(';'), line.size());
    std::string_view pair = line.substr(0, end);
    line.remove_prefix(std::min(end + 1, line.size()));
    while (pair.starts_with(' ')) pair.remove_prefix(1);
    if (pair.size() > name.size() && pair.starts_with(name) && pair[name.size()] == '=')
      return std::string(pair.substr(name.size() + 1));
  }
  return {};
}

}  // namespace batten::server
