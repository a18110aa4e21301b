// Fontconfig keeps patterns it found to the end of the process and loses sight of a few; its memory
// does not grow from sheet to sheet. Told to the leak sanitizer here, so that every program which
// prints may be run under it. Anything else that leaks is still reported.
#include "reports/leak_exceptions.hpp"

namespace batten::paper {

void know_leak_exceptions() {}

}  // namespace batten::paper

#if defined(__has_feature)
#if __has_feature(address_sanitizer)
#define BATTEN_LEAKS_ARE_LOOKED_FOR
#endif
#endif
#if defined(__SANITIZE_ADDRESS__)
#define BATTEN_LEAKS_ARE_LOOKED_FOR
#endif

#if defined(BATTEN_LEAKS_ARE_LOOKED_FOR)
// NOLINTBEGIN(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp): the sanitizer's own names
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_options();
extern "C" const char* __lsan_default_suppressions() { return "leak:libfontconfig\n"; }
extern "C" const char* __lsan_default_options() { return "print_suppressions=0"; }
// NOLINTEND(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp)
#endif
