// Enters readings one by one until it is killed. After each append has returned, the reading's
// identity goes to standard output: that is the acknowledgement.
//   kill_child STORE ROUND
#include "records/store.hpp"
#include "tests/records/samples.hpp"

#include <cstdio>
#include <cstdlib>
#include <unistd.h>

namespace batten {
namespace {

void tell(const Uuid& id) {
  // One write of 16 bytes into a pipe is whole or nothing (POSIX, PIPE_BUF).
  if (write(STDOUT_FILENO, id.bytes.data(), id.bytes.size()) != 16) _exit(3);
}

int run(const char* file, std::uint32_t round) {
  tell({});  // running: the parent may begin to count
  Store store = Store::open(file, {.checkpoint_pages = 20});
  const Piano piano = samples::piano();
  Visit visit = samples::visit(round);
  if (!store.add_piano(piano)) return 2;
  tell(piano.id);
  if (!store.add_visit(piano.id, visit)) return 2;
  tell(visit.id);
  for (std::uint32_t n = 0; n < 10'000; ++n) {
    Entry entry = samples::reading(n, visit);
    entry.id = samples::identity(100 + round, n);
    if (!store.append(piano.id, std::span<const Entry>(&entry, 1))) return 2;
    tell(entry.id);
  }
  return 0;
}

}  // namespace
}  // namespace batten

int main(int argc, char** argv) {
  if (argc != 3) return 1;
  try {
    return batten::run(argv[1], static_cast<std::uint32_t>(std::atoi(argv[2])));
  } catch (const batten::StoreFailure& failure) {
    std::fprintf(stderr, "%s %s\n", failure.what(), failure.detail().c_str());
    return 4;
  }
}
