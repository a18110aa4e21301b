#include "tests/numerics/nist_dataset.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <optional>
#include <sstream>
#include <utility>
#include <vector>

namespace batten::tests {
namespace {

// Every number on a line, in order, words between them skipped.
std::vector<double> numbers_of(const std::string& line) {
  std::vector<double> numbers;
  std::istringstream words(line);
  std::string word;
  while (words >> word) {
    std::size_t used = 0;
    if (word.find_first_of("0123456789") == std::string::npos ||
        word.find_first_not_of("+-.0123456789E") != std::string::npos)
      continue;
    const double number = std::stod(word, &used);
    if (used == word.size()) numbers.push_back(number);
  }
  return numbers;
}

// Whole numbers of a text, whatever stands between them.
std::vector<std::size_t> counts_of(std::string text) {
  for (char& c : text)
    if (c < '0' || c > '9') c = ' ';
  std::istringstream words(text);
  std::vector<std::size_t> counts;
  for (std::size_t count = 0; words >> count;) counts.push_back(count);
  return counts;
}

// "Data (lines 61 to 96)" and the like in the head of the file tell where things stand.
std::pair<std::size_t, std::size_t> range_of(const std::vector<std::string>& lines,
                                             const std::string& part) {
  for (std::size_t i = 0; i < std::min<std::size_t>(lines.size(), 10); ++i) {
    if (lines[i].find(part) == std::string::npos || lines[i].find("(lines") == std::string::npos)
      continue;
    const std::vector<std::size_t> counts = counts_of(lines[i]);
    if (counts.size() == 2) return {counts[0], counts[1]};
  }
  ADD_FAILURE() << "no lines given for " << part;
  return {1, 0};
}

// The rest of a line that gives a parameter: "B0  -0.26  0.23" or "b1 = 500 250 238.9 2.7".
std::optional<std::string> parameter_line(const std::string& line) {
  const std::size_t at = line.find_first_not_of(' ');
  if (at == std::string::npos || (line[at] != 'B' && line[at] != 'b')) return std::nullopt;
  const std::size_t end = line.find_first_not_of("0123456789", at + 1);
  if (end == at + 1 || end == std::string::npos || line[end] != ' ') return std::nullopt;
  return line.substr(end);
}

Eigen::VectorXd vector_of(const std::vector<double>& values) {
  return Eigen::Map<const Eigen::VectorXd>(values.data(), static_cast<Eigen::Index>(values.size()));
}

void read_certified(const std::vector<std::string>& lines, NistDataset& set) {
  const auto [first, last] = range_of(lines, "Certified Values");
  std::vector<double> values, sds, start1, start2;
  for (std::size_t i = first - 1; i < last; ++i) {
    if (const std::optional<std::string> rest = parameter_line(lines[i])) {
      const std::vector<double> numbers = numbers_of(*rest);
      if (numbers.size() == 4) {
        start1.push_back(numbers[0]);
        start2.push_back(numbers[1]);
      } else {
        ASSERT_EQ(numbers.size(), 2U) << lines[i];
      }
      values.push_back(numbers[numbers.size() - 2]);
      sds.push_back(numbers[numbers.size() - 1]);
    } else if (lines[i].find("Standard Deviation ") != std::string::npos ||
               lines[i].find("Residual Standard Deviation:") != std::string::npos) {
      if (const std::vector<double> numbers = numbers_of(lines[i]); numbers.size() == 1)
        set.certified_residual_sd = numbers[0];
    }
  }
  set.certified = vector_of(values);
  set.certified_sd = vector_of(sds);
  set.starts.resize(static_cast<Eigen::Index>(start1.size()), 2);
  set.starts << vector_of(start1), vector_of(start2);
}

}  // namespace

NistDataset read_nist(const std::string& kind, const std::string& name) {
  NistDataset set;
  std::ifstream file(std::string(BATTEN_SOURCE_DIR) + "/data/reference/nist/" + kind + "/" + name +
                     ".dat");
  std::vector<std::string> lines;
  for (std::string line; std::getline(file, line);) {
    if (!line.empty() && line.back() == '\r') line.pop_back();
    lines.push_back(line);
  }
  if (lines.size() < 60) {
    ADD_FAILURE() << name << " cannot be read";
    return set;
  }
  read_certified(lines, set);
  const auto [first, last] = range_of(lines, "Data");
  const auto rows = static_cast<Eigen::Index>(last - first + 1);
  set.y.resize(rows);
  for (std::size_t i = first - 1; i < last; ++i) {
    const std::vector<double> numbers = numbers_of(lines[i]);
    const auto row = static_cast<Eigen::Index>(i + 1 - first);
    if (row == 0) set.x.resize(rows, static_cast<Eigen::Index>(numbers.size()) - 1);
    EXPECT_EQ(static_cast<Eigen::Index>(numbers.size()), set.x.cols() + 1)
        << name << ": " << lines[i];
    set.y[row] = numbers[0];
    set.x.row(row) = vector_of(numbers).tail(set.x.cols()).transpose();
  }
  return set;
}

double correct_digits(double value, double certified) {
  const double error = std::abs(value - certified) / (certified == 0 ? 1.0 : std::abs(certified));
  if (std::isnan(error)) return -1;
  return std::min(15.0, -std::log10(error));
}

double fewest_correct_digits(const Eigen::VectorXd& values, const Eigen::VectorXd& certified) {
  double fewest = 15;
  for (Eigen::Index i = 0; i < certified.size(); ++i)
    fewest = std::min(fewest, correct_digits(values[i], certified[i]));
  return fewest;
}

}  // namespace batten::tests
