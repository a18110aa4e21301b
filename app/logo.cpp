// The letterhead's picture, looked at before it is kept: what cannot be printed is refused while
// there is somebody to choose another.
#include "app/shop_settings.hpp"

#include <fmt/format.h>

#include <cstdint>

namespace batten {

namespace {

constexpr std::uint32_t most_pixels = 6000;

std::uint32_t byte(std::string_view bytes, std::size_t at) {
  return static_cast<unsigned char>(bytes[at]);
}
std::uint32_t pair(std::string_view bytes, std::size_t at) {
  return byte(bytes, at) << 8U | byte(bytes, at + 1);
}

struct Size {
  std::uint32_t across = 0, down = 0;
};

// The first chunk, IHDR (PNG, W3C, second edition, 5.2, 11.2.2).
std::optional<Size> png_size(std::string_view bytes) {
  constexpr std::string_view signature = "\x89PNG\r\n\x1a\n";
  if (!bytes.starts_with(signature) || bytes.size() < 24 || bytes.substr(12, 4) != "IHDR")
    return std::nullopt;
  return Size{pair(bytes, 16) << 16U | pair(bytes, 18), pair(bytes, 20) << 16U | pair(bytes, 22)};
}

// The frame header, any SOF but DHT, JPG and DAC (ITU-T T.81, table B.1 and B.2.2).
std::optional<Size> jpeg_size(std::string_view bytes) {
  if (!bytes.starts_with("\xff\xd8\xff")) return std::nullopt;
  for (std::size_t at = 2; at + 9 < bytes.size();) {
    if (byte(bytes, at) != 0xff) return std::nullopt;
    const std::uint32_t marker = byte(bytes, at + 1);
    if (marker == 0xff) {  // filling
      ++at;
      continue;
    }
    const bool frame =
        marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc;
    if (frame) return Size{pair(bytes, at + 7), pair(bytes, at + 5)};
    if (marker == 0xd9 || marker == 0xda) return std::nullopt;
    at += 2 + pair(bytes, at + 2);
  }
  return std::nullopt;
}

}  // namespace

Result<Logo> check_logo(std::string_view bytes) {
  constexpr const char* as_before = "The letterhead is as it was.";
  if (bytes.size() > most_logo_bytes)
    return problem("The file is larger than 1 MB.",
                   "Save the picture smaller: 1000 pixels across are plenty on paper.", as_before);
  const auto png = png_size(bytes), jpeg = jpeg_size(bytes);
  if (!png && !jpeg)
    return problem("The file is neither PNG nor JPEG, or it is damaged.",
                   "Save the picture as PNG or JPEG and choose it again.", as_before);
  const Size size = png ? *png : *jpeg;
  if (size.across < 1 || size.down < 1 || size.across > most_pixels || size.down > most_pixels)
    return problem(fmt::format("The picture is {} × {} pixels.", size.across, size.down),
                   fmt::format("Save it with at most {} on a side.", most_pixels), as_before);
  return Logo{png ? "image/png" : "image/jpeg", {bytes.begin(), bytes.end()}};
}

Result<void> choose_logo(Desk& desk, const std::optional<Logo>& logo) {
  return guarded([&]() -> Result<void> { return desk.store.set_logo(logo); });
}

}  // namespace batten
