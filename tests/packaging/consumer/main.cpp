// Prints the version of the library it was given.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/tranche.hpp>

#include <iostream>

static_assert(tranche::version >= tranche::version_number{0, 2, 0});

#ifdef CONSUMER_LOOKS_ELSEWHERE
const tranche::version_number* version_seen_elsewhere();
#endif

int main() {
#ifdef CONSUMER_LOOKS_ELSEWHERE
    if (version_seen_elsewhere() != &tranche::version) {
        std::cerr << "each translation unit has a version of its own\n";
        return 1;
    }
#endif
    std::cout << tranche::version_text;
}
