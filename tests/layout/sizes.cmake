# cmake -DCOMPILER=<g++> -DINCLUDE_DIR=<dir> -DINCLUDE_DIRS=<file> -DSIZES=<file> -DWORK_DIR=<dir> -P sizes.cmake
#
# Fails when what a compiler has to read for an umbrella (the bytes of its preprocessed text without line marks) is more than a
# tenth over the figure in SIZES, when an umbrella has no figure there, and when a figure has no umbrella. A library can grow:
# then the commit that makes it grow changes the figure. What the compiler's own headers grow by counts as well.

cmake_minimum_required(VERSION 3.23)

file(STRINGS ${INCLUDE_DIRS} dirs)
set(flags)
foreach(dir IN LISTS dirs)
    list(APPEND flags -idirafter ${dir}) # -isystem would hide stdlib.h behind /usr/include
endforeach()

file(STRINGS ${SIZES} lines REGEX "^[a-z]")
set(listed)
foreach(line IN LISTS lines)
    if(NOT line MATCHES "^([a-z_]+) +([0-9]+)$")
        message(FATAL_ERROR "${SIZES}: not an umbrella and its bytes: ${line}")
    endif()
    list(APPEND listed ${CMAKE_MATCH_1})
    set(allowed_${CMAKE_MATCH_1} ${CMAKE_MATCH_2})
endforeach()

set(complaints)
file(GLOB umbrellas RELATIVE ${INCLUDE_DIR}/tranche ${INCLUDE_DIR}/tranche/*.hpp)
list(TRANSFORM umbrellas REPLACE "\\.hpp$" "")
list(REMOVE_ITEM umbrellas version)
if(NOT umbrellas)
    message(FATAL_ERROR "there are no umbrellas in ${INCLUDE_DIR}/tranche")
endif()
foreach(umbrella IN LISTS umbrellas)
    set(source ${WORK_DIR}/size_of_${umbrella}.cpp)
    file(WRITE ${source} "#include <tranche/${umbrella}.hpp>\n")
    execute_process(
        COMMAND ${COMPILER} -std=c++20 -O0 -E -P -I ${INCLUDE_DIR} ${flags} ${source} -o ${source}.ii
                COMMAND_ERROR_IS_FATAL ANY)
    file(SIZE ${source}.ii size)
    file(REMOVE ${source}.ii)
    message(STATUS "${umbrella} ${size}")
    if(NOT umbrella IN_LIST listed)
        list(APPEND complaints "${umbrella} has ${size} bytes, and no figure")
        continue()
    endif()
    math(EXPR most "${allowed_${umbrella}} * 11 / 10")
    if(size GREATER most)
        list(APPEND complaints
             "${umbrella} has ${size} bytes, more than a tenth over the ${allowed_${umbrella}} that it had")
    endif()
endforeach()
list(REMOVE_ITEM listed ${umbrellas})
foreach(umbrella IN LISTS listed)
    list(APPEND complaints "${umbrella} has a figure, and no umbrella")
endforeach()
foreach(complaint IN LISTS complaints)
    message(NOTICE "${complaint}")
endforeach()
if(complaints)
    message(FATAL_ERROR "umbrellas have grown: include less, or change the figures in ${SIZES} and say why")
endif()
