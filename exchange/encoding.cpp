#include "exchange/encoding.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <iconv.h>

namespace batten {
namespace {

using namespace std::string_view_literals;

constexpr auto save_as_utf8 =
    "Open the table in the spreadsheet and save it again as CSV in the encoding UTF-8.";

// The C library's converter for one pair of encodings.
class Converter {
 public:
  Converter(const char* to, const char* from) : handle_(iconv_open(to, from)) {}
  ~Converter() {
    if (usable()) iconv_close(handle_);
  }
  Converter(const Converter&) = delete;
  Converter& operator=(const Converter&) = delete;

  // iconv_open answers (iconv_t)-1 for an encoding it does not have.
  // NOLINTNEXTLINE(performance-no-int-to-ptr): POSIX has it so.
  bool usable() const { return handle_ != reinterpret_cast<iconv_t>(-1); }

  // Feeds all of `bytes`; `take` gets the output piece by piece. Returns how many bytes were sound.
  template <class Take>
  std::size_t convert(std::string_view bytes, Take take) {
    std::array<char, 16384> piece;
    // iconv does not write through its input pointer; its signature is older than const.
    char* in = const_cast<char*>(bytes.data());
    std::size_t left = bytes.size();
    while (left > 0) {
      char* out = piece.data();
      std::size_t room = piece.size();
      const std::size_t outcome = iconv(handle_, &in, &left, &out, &room);
      take(std::string_view(piece.data(), piece.size() - room));
      if (outcome == static_cast<std::size_t>(-1) && errno != E2BIG) break;
    }
    return bytes.size() - left;
  }

 private:
  iconv_t handle_;
};

int line_of(std::string_view text, std::size_t place) {
  return 1 +
         static_cast<int>(std::count(text.begin(), text.begin() + static_cast<long>(place), '\n'));
}

// glibc also converts code points above U+10FFFF, which RFC 3629 excludes: in sound UTF-8
// otherwise, those that begin with F5…FF, or with F4 and a second byte of 90…BF.
std::size_t place_above_unicode(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    if (byte > 0xF4 ||
        (byte == 0xF4 && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) > 0x8F))
      return i;
  }
  return text.size();
}

Result<std::string_view> from_utf16(std::string_view bytes, std::string& storage) {
  Converter converter("UTF-8", "UTF-16");
  if (!converter.usable()) return problem("The table is in the encoding UTF-16.", save_as_utf8);
  storage.clear();
  storage.reserve(bytes.size());
  const auto sound =
      converter.convert(bytes, [&](std::string_view piece) { storage.append(piece); });
  if (sound != bytes.size() || storage.find('\0') != std::string::npos)
    return problem("The table says it is in the encoding UTF-16 but is not sound.", save_as_utf8);
  return std::string_view(storage);
}

}  // namespace

Result<std::string_view> as_utf8(std::string_view bytes, std::string& storage) {
  if (bytes.starts_with("\xFF\xFE"sv) || bytes.starts_with("\xFE\xFF"sv))
    return from_utf16(bytes, storage);
  if (bytes.starts_with("\xEF\xBB\xBF"sv)) bytes.remove_prefix(3);
  if (bytes.find('\0') != std::string_view::npos)
    return problem("The table holds bytes that no text has; it may be UTF-16, or no table at all.",
                   save_as_utf8);
  Converter converter("UTF-8", "UTF-8");
  const auto sound =
      std::min(converter.convert(bytes, [](std::string_view) {}), place_above_unicode(bytes));
  if (sound != bytes.size())
    return problem(fmt::format("The table is not in the encoding UTF-8: line {} holds a character "
                               "in another one.",
                               line_of(bytes, sound)),
                   save_as_utf8);
  return bytes;
}

std::string shown(std::string_view text, std::size_t limit) {
  const bool cut = text.size() > limit;
  if (cut) {
    constexpr std::size_t ellipsis_bytes = 3;
    std::size_t end = limit > ellipsis_bytes ? limit - ellipsis_bytes : 0;
    // Bytes 10xxxxxx continue a character.
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end;
    text = text.substr(0, end);
  }
  std::string result;
  result.reserve(limit);
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '\n' || c == '\r' || c == '\t')
      result += ' ';
    else if (byte < 0x20 || byte == 0x7F)
      result += '?';
    else
      result += c;
  }
  if (cut) result += "…";
  return result;
}

}  // namespace batten
