// What the leak sanitizer is told of the libraries that print.
#pragma once

namespace batten::paper {

// Does nothing; a call makes the linker take the exceptions in.
void know_leak_exceptions();

}  // namespace batten::paper
