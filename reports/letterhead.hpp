// The user's own letterhead: name, lines, logo.
#pragma once

#include "core/outcome/outcome.hpp"

#include <string>
#include <vector>

namespace batten {

struct Letterhead {
  std::string name;
  std::vector<std::string> lines;  // address, telephone; each as long as it likes
  std::string logo;                // bytes of a PNG or JPEG; empty: none
};

// Whether the bytes are a picture that a page can show: PNG or JPEG, up to 6000 pixels a side.
// Error: neither, damaged, too large.
Result<void> check_picture(const std::string& bytes);

}  // namespace batten
