# Warnings that our own sources are not held to, and that users have as errors: in our headers they must not hit them.

set(consumer_warnings -Wall -Wextra -Wpedantic -Wconversion -Wsign-conversion -Wshadow -Wswitch-enum -Wfloat-equal -Wold-style-cast
                      -Werror)
if(COMPILER_ID STREQUAL "GNU")
    list(APPEND consumer_warnings -Wuseless-cast)
endif()
