# What our own tests, examples and benchmarks are compiled with. Nothing here reaches a consumer.

set(tranche_warnings -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Werror)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_GREATER_EQUAL 12
   AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
    # GCC bug 105651: a false alarm inside std::string's operator+ as soon as it is inlined.
    list(APPEND tranche_warnings -Wno-restrict)
endif()
if(NOT CMAKE_CXX_COMPILER_ID MATCHES "GNU|Clang")
    message(WARNING "tranche is developed with GCC and Clang; building without its warnings")
    set(tranche_warnings)
endif()

# g++ collects its garbage whenever its memory has doubled, which is a sixth of the time of a large test source.
set(tranche_compiler_memory)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    set(tranche_compiler_memory --param=ggc-min-expand=300 --param=ggc-min-heapsize=1000000)
endif()

# tranche_developer_options(<target> [<flag>...])
#
# Warnings as errors, and the given flags (-O1, ...) unless the user named a build type, which then decides.
function(tranche_developer_options target)
    set_target_properties(${target} PROPERTIES CXX_EXTENSIONS OFF)
    target_compile_options(${target} PRIVATE ${tranche_warnings} ${tranche_compiler_memory} "$<$<STREQUAL:$<CONFIG>,>:${ARGN}>")
    target_link_libraries(${target} PRIVATE tranche::tranche)
endfunction()

# Compiles each header alone, with the warnings: chains of headers (TrancheHeaderChains.cmake) as the target headers_alone.
function(tranche_verify_headers include_dir headers)
    include(${PROJECT_SOURCE_DIR}/cmake/TrancheHeaderChains.cmake)
    tranche_header_chains(chains ${include_dir})
    # Chains are made of what headers include.
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${headers})
    set(sources)
    foreach(chain IN LISTS chains)
        string(REPLACE "," ">\n#include <" lines ${chain})
        string(REGEX REPLACE ".*," "" name ${chain})
        set(source ${PROJECT_BINARY_DIR}/headers_alone/${name}.cpp)
        file(CONFIGURE OUTPUT ${source} CONTENT "#include <${lines}>\n")
        list(APPEND sources ${source})
    endforeach()
    add_library(headers_alone OBJECT EXCLUDE_FROM_ALL ${sources})
    tranche_developer_options(headers_alone -O0)
endfunction()
