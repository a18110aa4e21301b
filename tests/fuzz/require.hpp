#pragma once

#include <cstdio>
#include <cstdlib>

// An invariant a fuzz target holds; unlike assert it stands in every build.
#define BATTEN_REQUIRE(condition)                                                         \
  do {                                                                                    \
    if (!(condition)) {                                                                   \
      std::fprintf(stderr, "%s:%d: does not hold: %s\n", __FILE__, __LINE__, #condition); \
      std::abort();                                                                       \
    }                                                                                     \
  } while (false)
