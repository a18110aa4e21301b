// Any bytes as a bundle: no crash, and what is taken is written and read again as the same. The
// checksum is put right first, or nothing behind it would ever be tried.
#include "exchange/bundle.hpp"
#include "exchange/bundle_head.hpp"
#include "tests/fuzz/require.hpp"

#include <string>

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  using namespace batten;
  std::string text(reinterpret_cast<const char*>(data), size);
  if (const auto place = sha256_place(text))
    text.replace(*place, sha256_digits, sha256_without_digits(text, *place));
  const auto read = read_bundle(text);
  if (!read) {
    BATTEN_REQUIRE(!read.error().happened.empty() && !read.error().todo.empty());
    return 0;
  }
  const std::string again = write_bundle(*read);
  const auto same = read_bundle(again);
  BATTEN_REQUIRE(same && *same == *read);
  BATTEN_REQUIRE(write_bundle(*same) == again);
  return 0;
}
