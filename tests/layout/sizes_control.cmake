# cmake -DCOMPILER=<g++> -DCONTROL=<name> -DWORK_DIR=<dir> -P sizes_control.cmake
#
# Controls of sizes.cmake: a small tree whose figure is kept, or is not; fails unless the check says so.

cmake_minimum_required(VERSION 3.23)

set(tree ${WORK_DIR}/${CONTROL})
file(REMOVE_RECURSE ${tree})
string(REPEAT "int declared_over_and_over(int);\n" 100 text) # 3300 bytes
file(WRITE ${tree}/tranche/units.hpp "${text}")
file(WRITE ${tree}/dirs "")

set(expected)
set(figures "units 3300\n")
if(CONTROL STREQUAL "size_grown_by_less_than_a_tenth")
    set(figures "units 3010\n")
elseif(CONTROL STREQUAL "size_grown_by_more_than_a_tenth")
    set(figures "units 2990\n")
    set(expected "units has 3300 bytes, more than a tenth over the 2990")
elseif(CONTROL STREQUAL "umbrella_without_a_size")
    set(figures "# none\n")
    set(expected "units has 3300 bytes, and no figure")
elseif(CONTROL STREQUAL "size_without_an_umbrella")
    string(APPEND figures "gone 100\n")
    set(expected "gone has a figure, and no umbrella")
elseif(CONTROL STREQUAL "size_that_is_no_number")
    set(figures "units many\n")
    set(expected "not an umbrella and its bytes")
else()
    message(FATAL_ERROR "there is no control ${CONTROL}")
endif()
file(WRITE ${tree}/sizes.txt "${figures}")

execute_process(
    COMMAND ${CMAKE_COMMAND} -DCOMPILER=${COMPILER} -DINCLUDE_DIR=${tree} -DINCLUDE_DIRS=${tree}/dirs
            -DSIZES=${tree}/sizes.txt -DWORK_DIR=${tree} -P ${CMAKE_CURRENT_LIST_DIR}/sizes.cmake
    RESULT_VARIABLE status OUTPUT_VARIABLE output ERROR_VARIABLE output)
if("${expected}" STREQUAL "" AND NOT status EQUAL 0)
    message(FATAL_ERROR "the check fails on a good tree:\n${output}")
elseif(NOT "${expected}" STREQUAL "" AND (status EQUAL 0 OR NOT output MATCHES "${expected}"))
    message(FATAL_ERROR "the check does not say \"${expected}\":\n${output}")
endif()
