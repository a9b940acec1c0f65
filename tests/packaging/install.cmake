# Installs, moves what was installed to PREFIX, as packagers do, and compares it with the sources.

cmake_minimum_required(VERSION 3.23)

file(REMOVE_RECURSE ${PREFIX} ${PREFIX}-at-first)
execute_process(COMMAND ${CMAKE_COMMAND} --install ${BUILD_DIR} --prefix ${PREFIX}-at-first
                OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
file(RENAME ${PREFIX}-at-first ${PREFIX})

file(GLOB_RECURSE sources RELATIVE ${SOURCE_DIR}/include ${SOURCE_DIR}/include/*.hpp)
file(GLOB_RECURSE installed RELATIVE ${PREFIX}/include ${PREFIX}/include/*)
if(NOT sources STREQUAL installed)
    message(FATAL_ERROR "headers in the sources: ${sources}\nheaders installed: ${installed}")
endif()

file(GLOB_RECURSE others RELATIVE ${PREFIX} ${PREFIX}/share/*)
foreach(file IN ITEMS share/cmake/tranche/tranche-config.cmake share/cmake/tranche/tranche-config-version.cmake
                      share/cmake/tranche/tranche-targets.cmake share/pkgconfig/tranche.pc
                      share/licenses/tranche/LICENSE)
    if(NOT file IN_LIST others)
        message(FATAL_ERROR "${file} is not installed")
    endif()
endforeach()

foreach(file IN LISTS others)
    file(READ ${PREFIX}/${file} text)
    foreach(place IN ITEMS ${SOURCE_DIR} ${BUILD_DIR} ${PREFIX})
        string(FIND "${text}" "${place}" position)
        if(NOT position EQUAL -1)
            message(FATAL_ERROR "${file} speaks of a directory of the machine that built it: ${place}")
        endif()
    endforeach()
endforeach()
