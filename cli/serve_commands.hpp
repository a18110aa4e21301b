// "serve" and "devices": the app in a browser, and who may use it over the network.
#pragma once

#include "cli/command_line.hpp"

#include <cstdint>
#include <string>

namespace batten::cli {

struct ServeWords {
  std::uint16_t port = 8137;  // free in IANA's list of 2022; from memory
  std::string web;            // folder with the front end's files instead of those compiled in
  bool lan = false;           // a second door, for the network
  std::uint16_t lan_port = 8138;
};

// Returns when the program is interrupted or told to end (SIGINT, SIGTERM).
int serve(const Common& common, const ServeWords& words);

int devices(const Common& common);
int revoke_device(const Common& common, const std::string& name);

}  // namespace batten::cli
