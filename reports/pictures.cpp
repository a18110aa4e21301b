#include "reports/pictures.hpp"

#include "reports/letterhead.hpp"

#include <algorithm>
#include <csetjmp>
#include <cstddef>
#include <cstdio>
#include <cstring>
#include <stdexcept>
#include <vector>

// It wants FILE and size_t declared before.
#include <jpeglib.h>

namespace batten {
namespace paper {
namespace {

constexpr const char* damaged = "The logo is damaged: it cannot be read to its end.";
constexpr const char* too_large = "The logo is larger than 6000 pixels a side.";

bool begins(const std::string& bytes, const char* with, std::size_t length) {
  return bytes.size() > length && std::memcmp(bytes.data(), with, length) == 0;
}

// PNG (ISO/IEC 15948), 11.2.2: width and height stand in the first chunk, the highest byte first.
unsigned big_endian(const std::string& bytes, std::size_t at) {
  unsigned value = 0;
  for (std::size_t i = 0; i < 4; ++i)
    value = value << 8U | static_cast<unsigned char>(bytes[at + i]);
  return value;
}

struct Unread {
  const std::string& bytes;
  std::size_t at = 0;
};

cairo_status_t read_on(void* closure, unsigned char* out, unsigned length) {
  auto& rest = *static_cast<Unread*>(closure);
  if (rest.bytes.size() - rest.at < length) return CAIRO_STATUS_READ_ERROR;
  std::memcpy(out, rest.bytes.data() + rest.at, length);
  rest.at += length;
  return CAIRO_STATUS_SUCCESS;
}

Cairo::RefPtr<Cairo::ImageSurface> png(const std::string& bytes) {
  if (bytes.size() < 33) throw std::runtime_error(damaged);
  if (big_endian(bytes, 16) > most_pixels || big_endian(bytes, 20) > most_pixels)
    throw std::runtime_error(too_large);
  // Not cairomm's own, which keeps its reader for ever when the picture is damaged.
  Unread rest{bytes};
  cairo_surface_t* surface = cairo_image_surface_create_from_png_stream(read_on, &rest);
  if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS) {
    cairo_surface_destroy(surface);
    throw std::runtime_error(damaged);
  }
  return Cairo::make_refptr_for_instance(new Cairo::ImageSurface(surface, true));
}

struct Failure {
  jpeg_error_mgr base;  // first: the library hands this back
  std::jmp_buf back;
};

// The library tells of errors by a function that may not return.
[[noreturn]] void give_up(j_common_ptr info) {
  std::longjmp(reinterpret_cast<Failure*>(info->err)->back, 1);
}
void say_nothing(j_common_ptr /*info*/) {}

struct Pixels {
  int width = 0, height = 0, channels = 0;
  bool inverted = false;  // CMYK as some programs write it: 255 is no ink
  std::vector<unsigned char> bytes;
};

// No object with a destructor lives between setjmp and longjmp.
bool decode(const std::string& bytes, Pixels& out) {
  jpeg_decompress_struct info;
  Failure failure;
  info.err = jpeg_std_error(&failure.base);
  failure.base.error_exit = give_up;
  failure.base.output_message = say_nothing;
  jpeg_create_decompress(&info);
  if (setjmp(failure.back) != 0) {
    jpeg_destroy_decompress(&info);
    return false;
  }
  jpeg_mem_src(&info, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  jpeg_read_header(&info, TRUE);
  out.width = static_cast<int>(info.image_width);
  out.height = static_cast<int>(info.image_height);
  if (out.width > most_pixels || out.height > most_pixels) {
    jpeg_destroy_decompress(&info);
    return true;
  }
  if (info.num_components == 4) {
    info.out_color_space = JCS_CMYK;
    out.inverted = info.saw_Adobe_marker != 0;
  } else {
    info.out_color_space = JCS_RGB;
  }
  jpeg_start_decompress(&info);
  out.channels = info.output_components;
  out.bytes.resize(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height) *
                   static_cast<std::size_t>(out.channels));
  const std::size_t row =
      static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.channels);
  while (info.output_scanline < info.output_height) {
    JSAMPROW line = out.bytes.data() + row * info.output_scanline;
    jpeg_read_scanlines(&info, &line, 1);
  }
  jpeg_finish_decompress(&info);
  const bool whole = failure.base.num_warnings == 0;
  jpeg_destroy_decompress(&info);
  return whole;
}

Cairo::RefPtr<Cairo::ImageSurface> jpeg(const std::string& bytes) {
  Pixels p;
  if (!decode(bytes, p)) throw std::runtime_error(damaged);
  if (p.bytes.empty()) throw std::runtime_error(too_large);
  auto surface = Cairo::ImageSurface::create(Cairo::ImageSurface::Format::RGB24, p.width, p.height);
  surface->flush();
  unsigned char* const data = surface->get_data();
  const int stride = surface->get_stride();
  for (int y = 0; y < p.height; ++y)
    for (int x = 0; x < p.width; ++x) {
      const unsigned char* from =
          p.bytes.data() + (static_cast<std::ptrdiff_t>(y) * p.width + x) * p.channels;
      unsigned red = from[0], green = from[1], blue = from[2];
      if (p.channels == 4) {
        const auto light = [&](unsigned c) { return p.inverted ? c : 255 - c; };
        red = light(red) * light(from[3]) / 255;
        green = light(green) * light(from[3]) / 255;
        blue = light(blue) * light(from[3]) / 255;
      }
      const unsigned pixel = red << 16U | green << 8U | blue;
      std::memcpy(
          data + static_cast<std::ptrdiff_t>(y) * stride + 4 * static_cast<std::ptrdiff_t>(x),
          &pixel, 4);
    }
  surface->mark_dirty();
  return surface;
}

}  // namespace

Cairo::RefPtr<Cairo::ImageSurface> picture_of(const std::string& bytes) {
  if (begins(bytes, "\x89PNG\r\n\x1a\n", 8)) return png(bytes);
  if (begins(bytes, "\xff\xd8\xff", 3)) return jpeg(bytes);
  throw std::runtime_error("The logo is neither a PNG nor a JPEG picture.");
}

}  // namespace paper

Result<void> check_picture(const std::string& bytes) {
  try {
    const auto picture = paper::picture_of(bytes);
    if (picture->get_width() > 0 && picture->get_height() > 0) return {};
    return problem("The logo has no size.", "Choose another picture, PNG or JPEG.");
  } catch (const std::exception& failure) {
    return problem(failure.what(), "Choose another picture, PNG or JPEG.");
  }
}

}  // namespace batten
