# Compiles every source under SOURCE_DIR/core with exceptions off, syntax only: what core/ promises.
#   cmake -D COMPILER=… -D SOURCE_DIR=… -D "INCLUDES=dir;dir" -P without_exceptions.cmake
# SOURCE_DIR itself is on the include path; INCLUDES are those of the outside libraries.

file(GLOB_RECURSE sources "${SOURCE_DIR}/core/*.cpp")
list(LENGTH sources count)
if(count EQUAL 0)
  message(FATAL_ERROR "no source under ${SOURCE_DIR}/core")
endif()

set(flags -std=c++20 -fsyntax-only -fno-exceptions "-I${SOURCE_DIR}")
foreach(folder IN LISTS INCLUDES)
  # The compiler's own folder named again would come before its C++ headers and hide them.
  if(NOT folder STREQUAL "/usr/include")
    list(APPEND flags -isystem "${folder}")
  endif()
endforeach()

set(failed "")
foreach(source IN LISTS sources)
  execute_process(COMMAND ${COMPILER} ${flags} "${source}" RESULT_VARIABLE status ERROR_VARIABLE said)
  if(NOT status EQUAL 0)
    list(APPEND failed "${source}")
    message("${said}")
  endif()
endforeach()
if(failed)
  message(FATAL_ERROR "does not compile without exceptions: ${failed}")
endif()
message(STATUS "${count} sources compile without exceptions")
