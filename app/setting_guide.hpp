// The settings of a piano that a page for them offers: what each is, how it is written, what holds
// unless it is set. docs/manual/settings.md has the rest.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

struct SettingGuide {
  std::string name;
  std::string group;                 // "piano", "line", "targets", "work", "brief", "screws"
  std::string example;               // a value that is accepted on a piano with four sections
  std::string usual;                 // unless set; empty: nothing
  std::string unit;                  // of bare numbers: "mm", …; empty: none
  std::vector<std::string> choices;  // where only these are; else empty
  std::string what;                  // one sentence, English
};

// The order they are worth asking in.
std::span<const SettingGuide> setting_guide();

}  // namespace batten
