# Runs two programs that must print the same, and something.
#   cmake -D FIRST=… -D SECOND=… -P same_output.cmake
execute_process(COMMAND ${FIRST} OUTPUT_VARIABLE first RESULT_VARIABLE status COMMAND_ERROR_IS_FATAL ANY)
execute_process(COMMAND ${SECOND} OUTPUT_VARIABLE second RESULT_VARIABLE status COMMAND_ERROR_IS_FATAL ANY)
string(LENGTH "${first}" length)
if(length LESS 100000)
  message(FATAL_ERROR "too little was printed: ${length} characters")
endif()
if(NOT first STREQUAL second)
  message(FATAL_ERROR "the two print different numbers")
endif()
