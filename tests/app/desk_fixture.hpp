// A desk over a fresh store in a folder of its own, with a clock that moves a second at each look.
#pragma once

#include "app/desk.hpp"
#include "app/pianos.hpp"
#include "tests/records/samples.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace batten {

class DeskTest : public ::testing::Test {
 protected:
  DeskTest();

  // Entries of the piano's journal, undone ones included.
  std::size_t entries_kept(const Piano& piano);
  std::size_t entries_kept() { return entries_kept(piano_); }
  static void write(const std::filesystem::path& file, const std::string& text) {
    samples::write_bytes(file, text);
  }

  samples::Folder folder_;
  Desk desk_;
  Piano piano_;  // A0 to C8, four sections
};

}  // namespace batten
