# cmake -DCOMPILER=<clang++> -DINCLUDE_DIR=<dir> -DINCLUDE_DIRS=<file> -DPAGE=<docs/names.md> -DWORK_DIR=<dir> -P names.cmake
#
# Fails unless PAGE lists exactly the names that `tranche::` completes to when every umbrella is included, and says how many
# there are. Only clang can be asked what a name completes to.

cmake_minimum_required(VERSION 3.23)

file(GLOB umbrellas RELATIVE ${INCLUDE_DIR} ${INCLUDE_DIR}/tranche/*.hpp)
set(source)
set(line 1)
foreach(umbrella IN LISTS umbrellas)
    string(APPEND source "#include <${umbrella}>\n")
    math(EXPR line "${line} + 1")
endforeach()
string(APPEND source "using namespace tranche;\nint main() { tranche::\n}\n")
math(EXPR line "${line} + 1")
set(file ${WORK_DIR}/names.cpp)
file(WRITE ${file} "${source}")

file(STRINGS ${INCLUDE_DIRS} dirs)
set(flags)
foreach(dir IN LISTS dirs)
    list(APPEND flags -idirafter ${dir}) # -isystem would hide stdlib.h behind /usr/include
endforeach()
execute_process(
    COMMAND ${COMPILER} -std=c++20 -fsyntax-only -I ${INCLUDE_DIR} ${flags} -Xclang
            -code-completion-at=${file}:${line}:23 ${file}
    OUTPUT_VARIABLE output
    ERROR_VARIABLE errors)

string(REGEX MATCHALL "COMPLETION: [a-z][a-z0-9_]*" completions "${output}")
list(TRANSFORM completions REPLACE "COMPLETION: " "")
list(REMOVE_DUPLICATES completions)
list(REMOVE_ITEM completions operator)
list(LENGTH completions count)
if(count LESS 100)
    message(FATAL_ERROR "tranche:: completes to ${count} names only:\n${errors}")
endif()

file(READ ${PAGE} text)
string(REGEX MATCHALL "\n\\| `[a-z][a-z0-9_]*`" listed "${text}")
list(TRANSFORM listed REPLACE "[^a-z0-9_]" "")

set(unlisted ${completions})
list(REMOVE_ITEM unlisted ${listed})
set(gone ${listed})
list(REMOVE_ITEM gone ${completions})
if(unlisted)
    list(JOIN unlisted " " unlisted)
    message(NOTICE "public, but not in ${PAGE}: ${unlisted}")
endif()
if(gone)
    list(JOIN gone " " gone)
    message(NOTICE "in ${PAGE}, but not public: ${gone}")
endif()
if(NOT text MATCHES "[^0-9]${count} names")
    message(NOTICE "${PAGE} does not say that there are ${count} names")
    set(gone yes)
endif()
if(unlisted OR gone)
    message(FATAL_ERROR "the page of names is not what the library is")
endif()
message(STATUS "names: ${count} public names, all listed")
