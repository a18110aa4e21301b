// Lets another program write tables for us and read ours. Its own format has one reading a line,
// all numbers hexadecimal and gauges as hex bytes, so that nothing of CSV is in it:
//   code key|- value uncertainty gauge|- line
//
//   table_echo read FILE…            prints "file GOOD BAD" and the readings of each
//   table_echo write FORM SEPARATOR COMMA MARK   readings from standard input to a table
#include "exchange/reading_table.hpp"

#include <charconv>
#include <cstdio>
#include <fstream>
#include <iostream>
#include <iterator>
#include <sstream>

namespace {

using namespace batten;

std::string to_hex(std::string_view bytes) {
  if (bytes.empty()) return "-";
  std::string text;
  for (const char c : bytes) {
    constexpr std::string_view digits = "0123456789abcdef";
    const auto byte = static_cast<unsigned char>(c);
    text += digits[byte >> 4];
    text += digits[byte & 15];
  }
  return text;
}

std::string from_hex(const std::string& text) {
  std::string bytes;
  if (text == "-") return bytes;
  for (std::size_t i = 0; i + 1 < text.size(); i += 2)
    bytes += static_cast<char>(std::stoi(text.substr(i, 2), nullptr, 16));
  return bytes;
}

int read(const char* path) {
  std::ifstream file(path, std::ios::binary);
  const std::string bytes{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  const auto table = read_table(bytes, Compass{});
  if (!table) {
    std::printf("refused %s\n", table.error().sentence().c_str());
    return 1;
  }
  std::printf("file %zu %d\n", table->good.size(), table->bad_rows);
  for (const TableReading& reading : table->good)
    std::printf("%s %s %a %a %s %d\n", std::string(kind_of(reading.reading).code).c_str(),
                reading.note ? std::to_string(reading.note->number).c_str() : "-", reading.value,
                reading.uncertainty, to_hex(reading.gauge).c_str(), reading.line);
  for (const BadRow& bad : table->bad)
    std::fprintf(stderr, "%s:%d: %s\n", path, bad.line, bad.reason.sentence().c_str());
  return 0;
}

int write(const std::string& form, char separator, bool comma, bool mark) {
  std::vector<TableReading> readings;
  for (std::string line; std::getline(std::cin, line);) {
    std::istringstream words(line);
    std::string code, key, value, uncertainty, gauge;
    words >> code >> key >> value >> uncertainty >> gauge;
    TableReading reading;
    reading.reading = reading_by_code(code).value();
    if (key != "-") reading.note = Key{std::stoi(key)};
    reading.value = std::stod(value);
    reading.uncertainty = std::stod(uncertainty);
    reading.gauge = from_hex(gauge);
    readings.push_back(reading);
  }
  const TableStyle style{separator, comma, mark};
  std::cout << (form == "long" ? write_long(readings, style) : write_wide(readings, style));
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string verb = argc > 1 ? argv[1] : "";
  if (verb == "read") {
    int failed = 0;
    for (int i = 2; i < argc; ++i) failed += read(argv[i]);
    return failed > 0 ? 1 : 0;
  }
  if (verb == "write" && argc == 6)
    return write(argv[2], argv[3][0], argv[4][0] == '1', argv[5][0] == '1');
  return 2;
}
