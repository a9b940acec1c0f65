# Headers in as few sources as show that each of them compiles alone.
#
# What a header says compiles alone if it compiles behind what it includes and nothing else. A chain is a list of headers each of
# which includes the one before it, itself or by others: a source that includes them in this order compiles each behind just
# what that header includes, for the standard library's headers too, and reads all of it once. Two headers of which neither
# includes the other never share a source.

# tranche_header_chains(<result> <include directory>): the chains of all headers below <include directory>/tranche, each as
# their names with commas between, the header that includes the others last.
function(tranche_header_chains result include_dir)
    file(GLOB_RECURSE headers RELATIVE ${include_dir} ${include_dir}/tranche/*.hpp)
    foreach(header IN LISTS headers)
        file(READ ${include_dir}/${header} text)
        # An include behind the first declaration is none that this declaration could rest on.
        string(FIND "${text}" "\nnamespace " first_declaration)
        string(SUBSTRING "${text}" 0 ${first_declaration} head)
        foreach(part IN ITEMS head text)
            string(REGEX MATCHALL "\n#include <tranche/[^>]+>" lines "${${part}}")
            list(TRANSFORM lines REPLACE "\n#include <(.*)>" "\\1")
            set(${part}_of_${header} ${lines})
        endforeach()
    endforeach()

    # closure_of_: all that a header includes, it among them; size_of_: how many that are.
    set(by_size)
    foreach(header IN LISTS headers)
        set(closure)
        set(open ${header})
        while(open)
            list(POP_BACK open next)
            if(NOT "${seen_by_${next}}" STREQUAL "${header}")
                set(seen_by_${next} ${header})
                list(APPEND closure ${next})
                list(APPEND open ${text_of_${next}})
            endif()
        endwhile()
        set(closure_of_${header} ${closure})
        list(LENGTH closure size)
        set(size_of_${header} ${size})
        math(EXPR key "100000 + ${size}")
        list(APPEND by_size "${key} ${header}")
    endforeach()
    list(SORT by_size ORDER DESCENDING)
    list(TRANSFORM by_size REPLACE "^[0-9]+ " "")

    # From the largest header that no chain has yet, always to the largest of those it includes.
    set(chains)
    foreach(header IN LISTS by_size)
        if(taken_${header})
            continue()
        endif()
        set(chain)
        set(next ${header})
        while(next)
            set(taken_${next} TRUE)
            list(PREPEND chain ${next})
            set(above ${next})
            set(next)
            set(size 0)
            foreach(included IN LISTS head_of_${above})
                foreach(candidate IN LISTS closure_of_${included})
                    if(NOT taken_${candidate} AND size_of_${candidate} GREATER size)
                        # Headers that include each other are no chain.
                        list(FIND closure_of_${candidate} ${above} at)
                        if(at EQUAL -1)
                            set(next ${candidate})
                            set(size ${size_of_${candidate}})
                        endif()
                    endif()
                endforeach()
            endforeach()
        endwhile()
        list(JOIN chain "," chain)
        list(APPEND chains ${chain})
    endforeach()
    set(${result} ${chains} PARENT_SCOPE)
endfunction()
