# Configures, builds and runs the consumer, and looks for what may have leaked into it.

cmake_minimum_required(VERSION 3.23)

# What the user of this machine always compiles with is no leak of ours.
unset(ENV{CXXFLAGS})
unset(ENV{CMAKE_BUILD_TYPE})

include(${CMAKE_CURRENT_LIST_DIR}/consumer_warnings.cmake)
list(JOIN consumer_warnings " " warnings)

set(build ${SCRATCH}/${NAME})
file(REMOVE_RECURSE ${build})
if(NAME STREQUAL "installed_compiled")
    set(PREFIX ${SCRATCH}/with_compiled)
    file(REMOVE_RECURSE ${PREFIX})
    execute_process(COMMAND ${CMAKE_COMMAND} --install ${SCRATCH}/compiled --prefix ${PREFIX}
                    OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
endif()
execute_process(
    COMMAND
        ${CMAKE_COMMAND} --no-warn-unused-cli -S ${CMAKE_CURRENT_LIST_DIR}/consumer -B ${build} -G ${GENERATOR}
        -DCMAKE_CXX_COMPILER=${COMPILER} -DCMAKE_CXX_COMPILER_LAUNCHER=${LAUNCHER} -DCMAKE_PREFIX_PATH=${PREFIX}
        -DCMAKE_EXPORT_COMPILE_COMMANDS=ON -DCONSUME_BY=${NAME} -DCONSUME_VERSION=${VERSION}
        -DCONSUME_SOURCE_DIR=${SOURCE_DIR} "-DCONSUMER_WARNINGS=${consumer_warnings}"
    OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
execute_process(COMMAND ${CMAKE_COMMAND} --build ${build} OUTPUT_VARIABLE output RESULT_VARIABLE status)
if(NOT status EQUAL 0)
    message(FATAL_ERROR "the consumer does not build:\n${output}")
endif()
execute_process(COMMAND ${build}/consumer OUTPUT_VARIABLE printed COMMAND_ERROR_IS_FATAL ANY)
if(NOT printed STREQUAL VERSION)
    message(FATAL_ERROR "the consumer printed \"${printed}\" instead of ${VERSION}")
endif()

# But for the warnings that the consumer asked for itself.
function(must_not_match file regex)
    file(READ ${file} text)
    string(REPLACE " ${warnings} " " " text "${text}")
    string(REGEX MATCH "[^\n]*(${regex})[^\n]*" line "${text}")
    if(line)
        message(FATAL_ERROR "this leaks into the consumer's ${file}:\n${line}")
    endif()
endfunction()

must_not_match(${build}/CMakeCache.txt "BUILD_TESTING|TRANCHE_[A-Z_]*=ON|Catch2_DIR|GLPK")
must_not_match(${build}/compile_commands.json "\"command\":[^\n]* -(W|O|g|f|march|mtune|include|DNDEBUG|D_GLIBCXX)")
if(NAME STREQUAL "find_package" OR NAME STREQUAL "installed_compiled")
    # That the headers came from the installed tree.
    must_not_match(${build}/compile_commands.json "\"command\":[^\n]* -(I|isystem) ?${SOURCE_DIR}/include")
endif()
if(NAME STREQUAL "fetch_content")
    # That warnings in our headers are not the consumer's.
    file(READ ${build}/compile_commands.json commands)
    if(NOT commands MATCHES "-isystem ?${SOURCE_DIR}/include")
        message(FATAL_ERROR "the headers are not those of a system:\n${commands}")
    endif()
endif()
if(NAME MATCHES "compiled")
    # That what is long to compile came from the library: the consumer's own object has it undefined.
    file(GLOB_RECURSE object ${build}/CMakeFiles/consumer.dir/compiled.cpp.o*)
    find_program(nm NAMES nm llvm-nm REQUIRED)
    execute_process(COMMAND ${nm} -C ${object} OUTPUT_VARIABLE symbols COMMAND_ERROR_IS_FATAL ANY)
    foreach(way IN ITEMS most_portions least_giveaway planned::why_not settle text_report)
        if(NOT symbols MATCHES " U [^\n]*tranche::${way}<")
            message(FATAL_ERROR "the consumer compiled ${way} itself, or did not use it:\n${symbols}")
        endif()
    endforeach()
endif()
