#include "server/site.hpp"

#include "server/secrets.hpp"

#include <array>
#include <fstream>
#include <iterator>
#include <system_error>
#include <utility>

namespace batten::server {

namespace {

namespace fs = std::filesystem;

std::string tag_of(std::string_view bytes) {
  return '"' + to_hex(sha256(bytes)).substr(0, 20) + '"';
}

std::string type_of(const fs::path& file) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 8> types{{
      {".html", "text/html; charset=utf-8"},
      {".js", "text/javascript; charset=utf-8"},
      {".css", "text/css; charset=utf-8"},
      {".svg", "image/svg+xml"},
      {".json", "application/json"},
      {".webmanifest", "application/manifest+json"},
      {".png", "image/png"},
      {".woff2", "font/woff2"},
  }};
  for (const auto& [ending, type] : types)
    if (file.extension() == ending) return std::string(type);
  return "application/octet-stream";
}

}  // namespace

Site::Site(std::span<const Asset> compiled, fs::path folder) : folder_(std::move(folder)) {
  for (const Asset& asset : compiled) {
    files_[asset.path == "/" ? "/index.html" : std::string(asset.path)] = {
        std::make_shared<const std::string>(asset.bytes), std::string(asset.type),
        tag_of(asset.bytes)};
  }
}

std::optional<Site::File> Site::read(const std::string& path) const {
  std::error_code error;
  const fs::path root = fs::canonical(folder_, error);
  if (error) return std::nullopt;
  const fs::path file = fs::canonical(root / path.substr(1), error);
  // A link in the folder must not lead out of it.
  if (error || !fs::is_regular_file(file, error)) return std::nullopt;
  if (!file.string().starts_with(root.string() + "/")) return std::nullopt;
  std::ifstream in(file, std::ios::binary);
  if (!in) return std::nullopt;
  std::string bytes{std::istreambuf_iterator<char>(in), {}};
  File found{nullptr, type_of(file), tag_of(bytes)};
  found.bytes = std::make_shared<const std::string>(std::move(bytes));
  return found;
}

std::optional<Response> Site::find(const std::string& path, std::string_view known) const {
  const std::string wanted = path == "/" ? "/index.html" : path;
  std::optional<File> file;
  if (!folder_.empty()) {
    file = read(wanted);
  } else if (const auto found = files_.find(wanted); found != files_.end()) {
    file = found->second;
  }
  if (!file) return std::nullopt;
  Response r;
  r.type = file->type;
  // Asked for each time, sent only when it has changed: a new version is seen at once.
  r.headers = {{"Cache-Control", "no-cache"}, {"ETag", file->tag}};
  if (known == file->tag) {
    r.status = 304;
  } else {
    r.body = file->bytes;
  }
  return r;
}

}  // namespace batten::server
