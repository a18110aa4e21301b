# Compiler settings shared by every target.

set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)

find_program(BATTEN_CCACHE ccache)
if(BATTEN_CCACHE)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${BATTEN_CCACHE})
endif()
find_program(BATTEN_MOLD mold)
if(BATTEN_MOLD)
  add_link_options(-fuse-ld=mold)
endif()

# -ffp-contract=off: the same numbers from every compiler and optimisation level.
add_compile_options(-ffp-contract=off)

if(BATTEN_SANITIZE)
  add_compile_options(-fsanitize=${BATTEN_SANITIZE} -fno-sanitize-recover=all -fno-omit-frame-pointer)
  add_link_options(-fsanitize=${BATTEN_SANITIZE})
endif()

set(BATTEN_WARNINGS
    -Wall -Wextra -Wpedantic -Wconversion -Wsign-conversion -Wnon-virtual-dtor
    -Wold-style-cast -Wcast-align -Woverloaded-virtual -Wnull-dereference -Wimplicit-fallthrough
    -Wextra-semi -Werror)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  # =local: GCC takes an enumerator of a scoped enumeration for a shadow of a global name.
  list(APPEND BATTEN_WARNINGS -Wduplicated-cond -Wlogical-op -Wshadow=local)
  # GCC 12 sees overlapping copies in its own std::string (GCC bug 105651).
  list(APPEND BATTEN_WARNINGS -Wno-restrict)
  # At -O3 it takes members of braced aggregates for uninitialised; clang-tidy and the sanitizers look
  # for the real thing.
  list(APPEND BATTEN_WARNINGS -Wno-maybe-uninitialized)
  # GCC 12 reports null dereferences inside its own headers when sanitizers are on.
  list(REMOVE_ITEM BATTEN_WARNINGS -Wnull-dereference)
else()
  # libstdc++ 12's std::stable_sort uses a function the standard has deprecated.
  list(APPEND BATTEN_WARNINGS -Wshadow -Wno-deprecated-declarations)
endif()

if(BATTEN_TIDY)
  find_program(BATTEN_CLANG_TIDY NAMES clang-tidy-19 REQUIRED)
endif()
