// "serve": the app in a browser, until it is told to end.
#pragma once

#include "cli/command_line.hpp"

#include <cstdint>
#include <string>

namespace batten::cli {

struct ServeWords {
  std::uint16_t port = 8137;  // free in IANA's list of 2022; from memory
  std::string web;            // folder with the front end's files instead of those compiled in
  bool lan = false;
};

// Returns when the program is interrupted or told to end (SIGINT, SIGTERM).
int serve(const Common& common, const ServeWords& words);

}  // namespace batten::cli
