// The front end's files: those compiled in, or those of a folder while they are being worked on.
#pragma once

#include "server/assets.hpp"
#include "server/http.hpp"

#include <filesystem>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace batten::server {

class Site {
 public:
  // With a folder its files are served, read anew each time; else `compiled`.
  Site(std::span<const Asset> compiled, std::filesystem::path folder);

  // "/" is "/index.html". Nothing: no such file. 304 where `known` is the file's ETag already.
  std::optional<Response> find(const std::string& path, std::string_view known) const;

 private:
  struct File {
    std::shared_ptr<const std::string> bytes;
    std::string type, tag;
  };
  std::optional<File> read(const std::string& path) const;

  std::map<std::string, File> files_;
  std::filesystem::path folder_;
};

}  // namespace batten::server
