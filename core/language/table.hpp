// The tables that cmake/words.cmake makes of data/words. Internal to core/language.
#pragma once

#include <span>
#include <string_view>

namespace batten::language {

struct Row {
  std::string_view key, text;
};

std::span<const Row> english_rows();
std::span<const Row> german_rows();

}  // namespace batten::language
