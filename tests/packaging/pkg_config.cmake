# Compiles and runs the consumer with no more than pkg-config's flags.

cmake_minimum_required(VERSION 3.23)

set(ENV{PKG_CONFIG_PATH} "${PREFIX}/share/pkgconfig:$ENV{PKG_CONFIG_PATH}")
execute_process(COMMAND ${PKG_CONFIG} --modversion tranche OUTPUT_VARIABLE version OUTPUT_STRIP_TRAILING_WHITESPACE
                COMMAND_ERROR_IS_FATAL ANY)
if(NOT version STREQUAL VERSION)
    message(FATAL_ERROR "pkg-config says version ${version} instead of ${VERSION}")
endif()
execute_process(COMMAND ${PKG_CONFIG} --cflags --libs tranche OUTPUT_VARIABLE flags OUTPUT_STRIP_TRAILING_WHITESPACE
                COMMAND_ERROR_IS_FATAL ANY)
if(NOT flags MATCHES "-idirafter|-isystem")
    message(FATAL_ERROR "warnings in our headers would be the user's: ${flags}")
endif()
separate_arguments(flags UNIX_COMMAND "${flags}")
include(${CMAKE_CURRENT_LIST_DIR}/consumer_warnings.cmake)
execute_process(COMMAND ${LAUNCHER} ${COMPILER} -std=c++20 ${consumer_warnings} ${flags} -o ${SCRATCH}/pkg_config
                        ${CMAKE_CURRENT_LIST_DIR}/consumer/main.cpp ${CMAKE_CURRENT_LIST_DIR}/consumer/face.cpp
                COMMAND_ERROR_IS_FATAL ANY)
execute_process(COMMAND ${SCRATCH}/pkg_config OUTPUT_VARIABLE printed COMMAND_ERROR_IS_FATAL ANY)
if(NOT printed STREQUAL VERSION)
    message(FATAL_ERROR "the consumer printed \"${printed}\" instead of ${VERSION}")
endif()
