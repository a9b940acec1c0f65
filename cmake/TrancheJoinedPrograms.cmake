# Programs that are compiled as one: what they instantiate is the same, and most of what they take.

# tranche_join_programs(<target> <source>...): one executable of all of them and, in the folder joined/, a link by the name of each
# source, which is the program that it is when started so. If the target exists, the programs become part of it: by its own name
# it does what it did. What the sources include comes first, and each is a namespace behind that. So none may put anything into the
# library's namespace, and each ends with its main.
function(tranche_join_programs target)
    set(folder ${CMAKE_CURRENT_BINARY_DIR}/joined)
    set(includes)
    set(programs)
    set(calls)
    set(links)
    foreach(source IN LISTS ARGN)
        get_filename_component(name ${source} NAME_WE)
        set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${source})
        file(READ ${source} text)
        string(REGEX MATCHALL "#include [^\n]*" lines "${text}")
        list(APPEND includes ${lines})
        string(REGEX REPLACE "#include [^\n]*" "" text "${text}") # the lines keep their numbers
        if(NOT text MATCHES "\nint main\\([^\n]*\\) {\n([ \n][^\n]*\n?)*}\n$")
            message(FATAL_ERROR "${source} does not end with its main")
        endif()
        # Only a main outside of namespaces returns 0 by itself.
        string(REGEX REPLACE "}\n$" "return 0; }\n" text "${text}")
        string(APPEND programs "namespace ${name}_program {\n#line 1 \"${source}\"\n${text}}\n")
        string(APPEND calls "    if (name == \"${name}\") return started(${name}_program::main, argc, argv);\n")
        list(APPEND links COMMAND ${CMAKE_COMMAND} -E create_symlink $<TARGET_FILE:${target}> ${folder}/${name})
    endforeach()
    list(APPEND includes "#include <string_view>" "#include <type_traits>")
    list(REMOVE_DUPLICATES includes)
    list(JOIN includes "\n" includes)
    set(declared)
    set(main main)
    set(otherwise 127)
    set(kind)
    if(TARGET ${target})
        get_target_property(kind ${target} TYPE)
    endif()
    if(kind STREQUAL "EXECUTABLE")
        # The target has a main, which the linker calls by another name.
        set(declared "extern \"C\" int __real_main(int argc, char** argv);
extern \"C\" int __wrap_main(int argc, char** argv);
")
        set(main __wrap_main)
        set(otherwise "__real_main(argc, argv)")
    endif()
    set(joined ${folder}/joined_programs.cpp)
    file(CONFIGURE OUTPUT ${joined} CONTENT "${includes}
${programs}#line 1 \"joined_programs.cpp\"
template <class Program>
int started(Program program, int argc, char** argv) {
    if constexpr (std::is_invocable_v<Program>)
        return program();
    else
        return program(argc, argv);
}
${declared}int ${main}(int argc, char** argv) {
    std::string_view name = argv[0];
    name.remove_prefix(name.rfind('/') + 1);
${calls}    return ${otherwise};
}
" @ONLY)
    if(kind)
        target_sources(${target} PRIVATE ${joined})
    else()
        add_executable(${target} ${joined})
    endif()
    if(kind STREQUAL "EXECUTABLE")
        target_link_options(${target} PRIVATE -Wl,--wrap=main)
    endif()
    list(GET ARGN 0 first)
    get_filename_component(sources_dir ${first} DIRECTORY)
    target_include_directories(${target} PRIVATE ${sources_dir})
    if(NOT kind STREQUAL "OBJECT_LIBRARY")
        add_custom_command(TARGET ${target} POST_BUILD ${links} VERBATIM)
    endif()
endfunction()
