// Pictures from bytes. Internal to reports.
#pragma once

#include <cairomm/surface.h>

#include <string>

namespace batten::paper {

inline constexpr int most_pixels = 6000;  // a side

// PNG or JPEG (grey, RGB, CMYK). Throws std::runtime_error, what() a sentence for the user:
// neither, damaged, too large.
Cairo::RefPtr<Cairo::ImageSurface> picture_of(const std::string& bytes);

}  // namespace batten::paper
