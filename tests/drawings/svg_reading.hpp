// Reads an SVG as far as the tests need: that elements are closed in order, and the figures of its
// attributes.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace batten::testing {

// What breaks well-formedness (XML 1.0: tags nest, attributes are quoted, & only in entities), or
// empty. The root's name goes to `root`.
inline std::string broken(std::string_view svg, std::string& root) {
  std::vector<std::string> open;
  for (std::size_t at = 0; at < svg.size();) {
    const std::size_t begin = svg.find('<', at);
    const std::string_view between = svg.substr(at, begin - at);
    for (std::size_t amp = between.find('&'); amp != std::string_view::npos;
         amp = between.find('&', amp + 1))
      if (!between.substr(amp).starts_with("&amp;") && !between.substr(amp).starts_with("&lt;") &&
          !between.substr(amp).starts_with("&gt;") && !between.substr(amp).starts_with("&quot;"))
        return "bare & in: " + std::string(between.substr(amp, 20));
    if (between.find('>') != std::string_view::npos && (open.empty() || open.back() != "style"))
      return "bare >";
    if (begin == std::string_view::npos) break;
    const std::size_t end = svg.find('>', begin);
    if (end == std::string_view::npos) return "a tag does not end";
    const std::string_view tag = svg.substr(begin + 1, end - begin - 1);
    at = end + 1;
    const std::string name(tag.substr(0, tag.find_first_of(" /", 1)));
    if (tag.front() == '/') {
      if (open.empty() || "/" + open.back() != tag) return "closes " + std::string(tag);
      open.pop_back();
      continue;
    }
    if (open.empty()) {
      if (!root.empty()) return "two roots";
      root = name;
    }
    std::size_t quotes = 0;
    for (const char c : tag) quotes += c == '"';
    if (quotes % 2 != 0) return "odd quotes in " + std::string(tag);
    if (tag.back() != '/') open.push_back(name);
  }
  return open.empty() ? "" : "left open: " + open.back();
}

// Every value of an attribute.
inline std::vector<std::string> values(std::string_view svg, std::string_view attribute) {
  std::vector<std::string> list;
  const std::string key = " " + std::string(attribute) + "=\"";
  for (std::size_t at = svg.find(key); at != std::string_view::npos; at = svg.find(key, at + 1)) {
    const std::size_t begin = at + key.size();
    list.emplace_back(svg.substr(begin, svg.find('"', begin) - begin));
  }
  return list;
}

// Content of every <text>.
inline std::vector<std::string> texts(std::string_view svg) {
  std::vector<std::string> list;
  for (std::size_t at = svg.find("<text"); at != std::string_view::npos;
       at = svg.find("<text", at + 1)) {
    const std::size_t begin = svg.find('>', at) + 1;
    list.emplace_back(svg.substr(begin, svg.find("</text>", begin) - begin));
  }
  return list;
}

}  // namespace batten::testing
