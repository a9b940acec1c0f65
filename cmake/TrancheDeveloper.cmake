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

# Compiles each public header alone, with the warnings; the target to build is all_verify_interface_header_sets (CMake
# 3.24). The options of an interface library reach its verification only as INTERFACE options, hence a second library
# that nobody links.
function(tranche_verify_headers headers)
    add_library(tranche_checked INTERFACE)
    target_sources(tranche_checked INTERFACE FILE_SET HEADERS BASE_DIRS include FILES ${headers})
    target_compile_options(tranche_checked INTERFACE ${tranche_warnings})
    target_link_libraries(tranche_checked INTERFACE tranche::tranche)
    set_target_properties(tranche_checked PROPERTIES VERIFY_INTERFACE_HEADER_SETS ON)
endfunction()
