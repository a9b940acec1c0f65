# Compiles one source twice: as it is, which must work, and with TRANCHE_NONSENSE defined, which must not, and must
# print what the source announces at its top:
#
#     // A mass is not a length.
#     // SPDX-License-Identifier: BSL-1.0
#     // message: regex that all compilers must print
#     // gnu: regex that only GCC must print
#     // clang: regex that only Clang must print
#     #include <tranche/units/quantity.hpp>
#     #ifdef TRANCHE_NONSENSE
#     ... the nonsense
#     #else
#     ... its nearest relative that makes sense, so that the nonsense fails for the reason we think
#     #endif
#
# Several such lines must all match. A regex is CMake's: no \s, no {n}, and no semicolon. Compilers quote names with '.
#
# With -DCONTROLS=ON the source is several of these together, and their controls have to compile: see CMakeLists.txt. With
# -DNONSENSE=<source>,... it is those together: each has to be complained of, and its messages are looked for in what is said of it,
# not of the others.
#
# With -DCOMPLAINT=<regex> the script is tested itself: it fails unless it has that to complain of.

cmake_minimum_required(VERSION 3.23)

get_filename_component(name ${SOURCE} NAME)

function(complain what)
    if(COMPLAINT AND what MATCHES "${COMPLAINT}")
        set(done TRUE PARENT_SCOPE)
    else()
        message(NOTICE "${what}")
        message(FATAL_ERROR "${name} is not as it must be")
    endif()
endfunction()

file(STRINGS ${INCLUDE_DIRS} dirs)
if(IMPLICIT_DIRS)
    list(REMOVE_ITEM dirs ${IMPLICIT_DIRS})
endif()
list(TRANSFORM dirs PREPEND -I)
# Without the quoted source lines, which could match by themselves.
set(flags -std=c++20 -fsyntax-only ${dirs})
if(COMPILER_ID STREQUAL "GNU")
    list(APPEND flags -fno-diagnostics-show-caret -fdiagnostics-color=never)
    set(own gnu)
else()
    list(APPEND flags -fno-caret-diagnostics -fno-color-diagnostics)
    set(own clang)
endif()
set(ENV{LC_ALL} C)

# compile(<flag>...): leaves status and output.
macro(compile)
    execute_process(COMMAND ${COMPILER} ${flags} ${ARGN} ${SOURCE} RESULT_VARIABLE status OUTPUT_VARIABLE output
                    ERROR_VARIABLE output)
endmacro()

if(CONTROLS)
    compile()
    if(NOT status EQUAL 0)
        complain("a control does not compile:\n${output}")
    elseif(COMPLAINT)
        message(FATAL_ERROR "there is no complaint like: ${COMPLAINT}")
    endif()
    return()
endif()

if(NONSENSE)
    if(COMPILER_ID STREQUAL "GNU")
        compile(-DTRANCHE_NONSENSE -w -fmax-errors=0)
    else()
        compile(-DTRANCHE_NONSENSE -w -ferror-limit=0)
    endif()
    string(REPLACE "," ";" sources "${NONSENSE}")
    string(REPLACE ";" "<semicolon>" output "${output}")
    string(REPLACE "[" "(" output "${output}") # a bracket would hold list elements together
    string(REPLACE "]" ")" output "${output}")
    string(REPLACE "\n" ";" lines "${output}")
    # g++ says first where it is, in several lines, and then what is wrong; clang++ begins with that.
    set(at "")
    set(block "")
    list(APPEND lines "end: error: none")
    foreach(line IN LISTS lines)
        if(own STREQUAL "clang" AND line MATCHES ": error: ")
            string(MD5 key "${at}")
            string(APPEND said_of_${key} "${block}")
            set(at "")
            set(block "")
        endif()
        foreach(source IN LISTS sources)
            string(FIND "${line}" "${source}:" place)
            if(NOT place EQUAL -1)
                set(at ${source})
            endif()
        endforeach()
        if(own STREQUAL "clang")
            string(APPEND block "${line}\n")
        else()
            string(MD5 key "${at}")
            string(APPEND said_of_${key} "${line}\n")
        endif()
    endforeach()
    foreach(source IN LISTS sources)
        get_filename_component(name ${source} NAME)
        string(MD5 key "${source}")
        file(STRINGS ${source} expected REGEX "^// (message|${own}): .")
        if(NOT expected)
            complain("${name} does not name the message it expects of ${own}")
            return()
        endif()
        if(NOT said_of_${key} MATCHES "error")
            complain("the nonsense in ${name} compiles, and must not")
            return()
        endif()
        foreach(line IN LISTS expected)
            string(REGEX REPLACE "^// [a-z]+: " "" regex "${line}")
            if(NOT said_of_${key} MATCHES "${regex}")
                complain("the compiler's output for ${name} does not say: ${regex}\nit says:\n${said_of_${key}}")
                return()
            endif()
        endforeach()
    endforeach()
    if(COMPLAINT)
        message(FATAL_ERROR "there is no complaint like: ${COMPLAINT}")
    endif()
    return()
endif()

file(STRINGS ${SOURCE} expected REGEX "^// (message|${own}): .")
if(NOT expected)
    complain("${name} does not name the message it expects of ${own}")
    return()
endif()

compile()
if(NOT status EQUAL 0)
    complain("the control of ${name} does not compile:\n${output}")
    return()
endif()

compile(-DTRANCHE_NONSENSE)
if(status EQUAL 0)
    complain("the nonsense in ${name} compiles, and must not")
    return()
endif()
foreach(line IN LISTS expected)
    string(REGEX REPLACE "^// [a-z]+: " "" regex "${line}")
    if(NOT output MATCHES "${regex}")
        complain("the compiler's output for ${name} does not say: ${regex}\nit says:\n${output}")
        return()
    endif()
endforeach()

if(COMPLAINT)
    message(FATAL_ERROR "there is no complaint like: ${COMPLAINT}")
endif()
