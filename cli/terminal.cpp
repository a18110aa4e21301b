#include "cli/terminal.hpp"

#include "json/journal_json.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <unistd.h>

namespace batten::cli {

namespace {

bool set_and_not_empty(const char* name) {
  const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): one thread
  return value != nullptr && *value != '\0';
}

bool terminal_is_dumb() {
  const char* kind = std::getenv("TERM");  // NOLINT(concurrency-mt-unsafe): one thread
  return kind != nullptr && std::string_view(kind) == "dumb";
}

const char* escape(Ink ink) {
  switch (ink) {
    case Ink::plain:
      return "";
    case Ink::quiet:
      return "\x1b[2m";
    case Ink::strong:
      return "\x1b[1m";
    case Ink::move:
      return "\x1b[35m";
    case Ink::doubt:
      return "\x1b[33m";
    case Ink::stop:
      return "\x1b[31m";
  }
  return "";
}

std::size_t columns(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
}

}  // namespace

bool colour_wanted() {
  static const bool wanted = isatty(STDOUT_FILENO) != 0 && !set_and_not_empty("NO_COLOR") &&
                             set_and_not_empty("TERM") && !terminal_is_dumb();
  return wanted;
}

bool input_is_terminal() { return isatty(STDIN_FILENO) != 0; }

std::string inked(std::string_view text, Ink ink) {
  if (!colour_wanted() || ink == Ink::plain) return std::string(text);
  return escape(ink) + std::string(text) + "\x1b[0m";
}

namespace {

// Length of one of our own colour sequences at the beginning of the text, ESC [ digits m; 0 for any
// other.
std::size_t own_escape(std::string_view text) {
  if (!text.starts_with("\x1b[")) return 0;
  std::size_t end = 2;
  while (end < text.size() && text[end] >= '0' && text[end] <= '9') ++end;
  return end < text.size() && text[end] == 'm' ? end + 1 : 0;
}

// Names and gauges come from tables and typing: a control character in them must not steer a
// terminal.
std::string harmless(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const auto c = static_cast<unsigned char>(text[i]);
    const std::size_t escape = own_escape(text.substr(i));
    if (escape > 0) {
      out += text.substr(i, escape);
      i += escape;
      continue;
    }
    const bool control = (c < 0x20 && c != '\n' && c != '\t') || c == 0x7f;
    // C1 controls are U+0080…U+009F: in UTF-8 a C2 before 80…9F.
    const bool c1 =
        c == 0xc2 && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) < 0xa0;
    if (control || c1) {
      out += "\uFFFD";
      i += c1 ? 2 : 1;
    } else {
      out += text[i++];
    }
  }
  return out;
}

}  // namespace

void say(std::string_view text) {
  const std::string shown = harmless(text);
  std::fwrite(shown.data(), 1, shown.size(), stdout);
  if (!shown.ends_with('\n')) std::fputc('\n', stdout);
  std::fflush(stdout);
}

void say_aside(std::string_view text) {
  const std::string shown = harmless(text);
  std::fwrite(shown.data(), 1, shown.size(), stderr);
  std::fputc('\n', stderr);
}

void tell(const Problem& problem, bool json) {
  if (json)
    say(to_json(problem));
  else
    say_aside(problem.sentence());
}

std::string padded(std::string_view text, std::size_t width) {
  std::string out(text);
  const std::size_t used = columns(text);
  if (used < width) out.append(width - used, ' ');
  return out;
}

std::string right(std::string_view text, std::size_t width) {
  const std::size_t used = columns(text);
  return (used < width ? std::string(width - used, ' ') : std::string()) + std::string(text);
}

std::string wrapped(std::string_view text, std::string_view indent) {
  constexpr std::size_t most = 98;
  std::string out, row(indent);
  bool empty = true;
  while (!text.empty()) {
    const auto gap = text.find(' ');
    const std::string_view word = text.substr(0, gap);
    text.remove_prefix(gap == std::string_view::npos ? text.size() : gap + 1);
    if (!empty && columns(row) + 1 + columns(word) > most) {
      out += row + "\n";
      row = std::string(indent) + "    ";
      empty = true;
    }
    row += empty ? "" : " ";
    row += word;
    empty = false;
  }
  return out + row + "\n";
}

ProgressBar::ProgressBar(std::string_view title)
    : title_(title), shown_(isatty(STDERR_FILENO) != 0) {}

ProgressBar::~ProgressBar() {
  if (shown_ && last_ >= 0) std::fputs("\r\x1b[K", stderr);
}

void ProgressBar::at(double share) {
  constexpr int width = 30;
  const int filled = static_cast<int>(std::clamp(share, 0.0, 1.0) * width);
  if (!shown_ || filled == last_) return;
  last_ = filled;
  const std::string bar = std::string(static_cast<std::size_t>(filled), '#') +
                          std::string(static_cast<std::size_t>(width - filled), '.');
  std::fprintf(stderr, "\r%s [%s] %d %%", title_.c_str(), bar.c_str(), filled * 100 / width);
  std::fflush(stderr);
}

}  // namespace batten::cli
