// The front end, compiled into the program.
#pragma once

#include <span>
#include <string_view>

namespace batten::server {

struct Asset {
  std::string_view path;  // "/app.js"; "/" is index.html
  std::string_view type;  // media type
  std::string_view bytes;
};

// All of them, for the program's life.
std::span<const Asset> assets();

}  // namespace batten::server
