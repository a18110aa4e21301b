// Writes the bundle of one entry of every kind, for python_bundle.py; or reads one from standard
// input and writes it again.
#include "exchange/bundle.hpp"
#include "tests/records/samples.hpp"

#include <iostream>
#include <iterator>

int main(int argc, char**) {
  using namespace batten;
  if (argc > 1) {
    const std::string text(std::istreambuf_iterator<char>(std::cin), {});
    const auto read = read_bundle(text);
    if (!read) {
      std::cerr << read.error().sentence() << "\n";
      return 1;
    }
    std::cout << write_bundle(*read);
    return 0;
  }
  WholeJournal journal{samples::piano(), {samples::visit()}, {}};
  std::int64_t stamp = 0;
  for (const Entry& e : samples::every_kind(samples::visit()))
    journal.entries.push_back({e, stamp = next_stamp(stamp, e.at_ms)});
  std::cout << write_bundle(journal);
  return 0;
}
