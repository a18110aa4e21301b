#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <string>

// The bytes of a table in tests/exchange/tables.
inline std::string table_file(const std::string& name) {
  const std::string path = BATTEN_SOURCE_DIR "/tests/exchange/tables/" + name;
  std::ifstream file(path, std::ios::binary);
  EXPECT_TRUE(file) << path;
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}
