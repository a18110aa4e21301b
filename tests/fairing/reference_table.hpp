// The reference curves of data/reference/fairing: comma-separated, a line of headings, no quotes.
#pragma once

#include <gtest/gtest.h>

#include <cstddef>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace batten {

class ReferenceTable {
 public:
  explicit ReferenceTable(const std::string& name) {
    std::ifstream file(std::string(BATTEN_SOURCE_DIR "/data/reference/fairing/") + name);
    EXPECT_TRUE(file) << name;
    std::string line;
    while (std::getline(file, line)) {
      std::vector<std::string> cells;
      std::istringstream in(line);
      for (std::string cell; std::getline(in, cell, ',');) cells.push_back(cell);
      (headings_.empty() ? headings_ : rows_.emplace_back()) = cells;
    }
    EXPECT_FALSE(rows_.empty()) << name;
  }

  std::size_t size() const { return rows_.size(); }

  const std::string& text(std::size_t row, const std::string& heading) const {
    for (std::size_t c = 0; c < headings_.size(); ++c)
      if (headings_[c] == heading) return rows_[row].at(c);
    ADD_FAILURE() << "no column " << heading;
    return headings_.front();
  }
  double number(std::size_t row, const std::string& heading) const {
    return std::stod(text(row, heading));
  }

 private:
  std::vector<std::string> headings_;
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace batten
