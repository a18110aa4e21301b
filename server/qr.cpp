#include "server/qr.hpp"

#include <fmt/format.h>

#include <memory>
#include <qrencode.h>

namespace batten::server {

namespace {

constexpr int margin = 4;  // modules

struct Free {
  void operator()(QRcode* code) const { QRcode_free(code); }
};
using Code = std::unique_ptr<QRcode, Free>;

Code encode(const std::string& text) {
  return Code(QRcode_encodeString(text.c_str(), 0, QR_ECLEVEL_M, QR_MODE_8, 1));
}

// Outside the code: white.
bool is_black(const QRcode& code, int x, int y) {
  if (x < 0 || y < 0 || x >= code.width || y >= code.width) return false;
  return (code.data[y * code.width + x] & 1U) != 0;
}

}  // namespace

std::string qr_svg(const std::string& text) {
  const Code code = encode(text);
  if (!code) return {};
  const int side = code->width + 2 * margin;
  std::string path;
  for (int y = 0; y < code->width; ++y) {
    for (int x = 0; x < code->width; ++x) {
      if (!is_black(*code, x, y)) continue;
      int run = 1;
      while (is_black(*code, x + run, y)) ++run;
      path += fmt::format("M{} {}h{}v1h-{}z", x + margin, y + margin, run, run);
      x += run;
    }
  }
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {0}\" "
      "shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h{0}v{0}H0z\"/>"
      "<path fill=\"#000\" d=\"{1}\"/></svg>",
      side, path);
}

std::string qr_terminal(const std::string& text) {
  const Code code = encode(text);
  if (!code) return {};
  std::string lines;
  for (int y = -margin; y < code->width + margin; y += 2) {
    lines += "\x1b[30;107m";
    for (int x = -margin; x < code->width + margin; ++x) {
      const bool upper = is_black(*code, x, y), lower = is_black(*code, x, y + 1);
      lines += upper ? (lower ? "█" : "▀") : (lower ? "▄" : " ");
    }
    lines += "\x1b[0m\n";
  }
  return lines;
}

}  // namespace batten::server
