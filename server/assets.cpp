#include "server/assets.hpp"

#include <array>
#include <cstddef>

// Defined by the assembler (cmake/web.cmake).
extern "C" {
extern const char batten_asset_index_html[], batten_asset_index_html_end[];
extern const char batten_asset_app_js[], batten_asset_app_js_end[];
extern const char batten_asset_app_css[], batten_asset_app_css_end[];
extern const char batten_asset_en_js[], batten_asset_en_js_end[];
extern const char batten_asset_de_js[], batten_asset_de_js_end[];
}

namespace batten::server {

namespace {

std::string_view between(const char* begin, const char* end) {
  return {begin, static_cast<std::size_t>(end - begin)};
}

}  // namespace

std::span<const Asset> assets() {
  constexpr std::string_view script = "text/javascript; charset=utf-8";
  static const std::array all{
      Asset{"/", "text/html; charset=utf-8",
            between(batten_asset_index_html, batten_asset_index_html_end)},
      Asset{"/app.js", script, between(batten_asset_app_js, batten_asset_app_js_end)},
      Asset{"/app.css", "text/css; charset=utf-8",
            between(batten_asset_app_css, batten_asset_app_css_end)},
      Asset{"/en.js", script, between(batten_asset_en_js, batten_asset_en_js_end)},
      Asset{"/de.js", script, between(batten_asset_de_js, batten_asset_de_js_end)}};
  return all;
}

}  // namespace batten::server
