// Any text as a note or as a section layout: no crash, within the possible keys, and what is
// printed reads back the same.
#include "core/keyboard/compass.hpp"
#include "core/keyboard/key.hpp"
#include "tests/fuzz/require.hpp"

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  using namespace batten;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  if (const auto key = parse_key(text)) {
    BATTEN_REQUIRE(lowest_possible_key <= *key && *key <= highest_possible_key);
    BATTEN_REQUIRE(parse_key(note_name(*key)) == *key);
    BATTEN_REQUIRE(parse_key(note_name(*key, Spelling::flats)) == *key);
  }
  const Compass compass{};
  if (const auto sections = parse_sections(text, compass)) {
    BATTEN_REQUIRE(!sections->empty());
    BATTEN_REQUIRE(sections->front().first == compass.lowest);
    BATTEN_REQUIRE(sections->back().last == compass.highest);
    for (std::size_t i = 0; i + 1 < sections->size(); ++i)
      BATTEN_REQUIRE((*sections)[i].last.number + 1 == (*sections)[i + 1].first.number);
    BATTEN_REQUIRE(parse_sections(print_sections(*sections), compass) == *sections);
  }
  return 0;
}
