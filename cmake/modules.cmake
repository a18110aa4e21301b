# One verb per kind of target, so that each folder's CMakeLists reads as a table of contents.

define_property(GLOBAL PROPERTY BATTEN_MODULES BRIEF_DOCS "path:dep,dep of every module"
                FULL_DOCS "read by tests/architecture, which holds every #include to it")

function(batten_target_settings target)
  cmake_parse_arguments(S "NO_TIDY" "" "" ${ARGN})
  target_compile_options(${target} PRIVATE $<$<COMPILE_LANGUAGE:CXX>:${BATTEN_WARNINGS}>)
  if(BATTEN_TIDY AND NOT S_NO_TIDY)
    set_target_properties(${target} PROPERTIES CXX_CLANG_TIDY "${BATTEN_CLANG_TIDY};--quiet")
  endif()
endfunction()

# batten_module(core/keyboard SOURCES a.cpp DEPENDS core/quantities LINKS fmt::fmt)
#   path     the folder from the root; the target is the path with '_' for '/'
#   DEPENDS  modules it may include; visible to those who use it
#   LINKS    outside libraries its headers need; PRIVATE_LINKS, those only its sources need
function(batten_module path)
  cmake_parse_arguments(M "" "" "SOURCES;DEPENDS;LINKS;PRIVATE_LINKS" ${ARGN})
  string(REPLACE "/" "_" target ${path})
  string(REPLACE ";" "," deps "${M_DEPENDS}")
  set_property(GLOBAL APPEND PROPERTY BATTEN_MODULES "${path}:${deps}")
  string(REPLACE "/" "_" dep_targets "${M_DEPENDS}")
  if(M_SOURCES)
    add_library(${target} STATIC ${M_SOURCES})
    target_include_directories(${target} PUBLIC ${PROJECT_SOURCE_DIR})
    target_link_libraries(${target} PUBLIC ${dep_targets} ${M_LINKS} PRIVATE ${M_PRIVATE_LINKS})
    batten_target_settings(${target})
  else()
    add_library(${target} INTERFACE)
    target_include_directories(${target} INTERFACE ${PROJECT_SOURCE_DIR})
    target_link_libraries(${target} INTERFACE ${dep_targets} ${M_LINKS})
  endif()
endfunction()

# batten_test(keyboard SOURCES … LINKS …): one GoogleTest program; every TEST becomes a ctest entry.
function(batten_test name)
  cmake_parse_arguments(T "" "TIMEOUT" "SOURCES;LINKS" ${ARGN})
  add_executable(test_${name} ${T_SOURCES})
  target_include_directories(test_${name} PRIVATE ${PROJECT_SOURCE_DIR})
  target_link_libraries(test_${name} PRIVATE ${T_LINKS} GTest::gmock GTest::gtest_main)
  target_compile_definitions(test_${name} PRIVATE BATTEN_SOURCE_DIR="${PROJECT_SOURCE_DIR}"
                                                  BATTEN_BINARY_DIR="${PROJECT_BINARY_DIR}")
  # The macros of the test library are more than half of what clang-tidy would read there.
  batten_target_settings(test_${name} NO_TIDY)
  if(NOT T_TIMEOUT)
    set(T_TIMEOUT 300)
  endif()
  include(GoogleTest)
  gtest_discover_tests(test_${name} TEST_PREFIX "${name}." DISCOVERY_TIMEOUT 60
                       PROPERTIES TIMEOUT ${T_TIMEOUT})
endfunction()

function(batten_write_module_list file)
  get_property(modules GLOBAL PROPERTY BATTEN_MODULES)
  string(REPLACE ";" "\n" text "${modules}")
  file(GENERATE OUTPUT ${file} CONTENT "${text}\n")
endfunction()
