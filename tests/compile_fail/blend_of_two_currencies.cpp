// The sources of a blend are priced in one currency.
// SPDX-License-Identifier: BSL-1.0
// gnu: no matching function for call to .*push_back.*grind_source<tranche::eur>
// clang: no matching member function for call to 'push_back'
#include <vector>

#include <tranche/grind/grind_source.hpp>

using namespace tranche;

int main() {
    std::vector<grind_source<usd>> sources;
#ifdef TRANCHE_NONSENSE
    sources.push_back(grind_source<eur>{"lean", 0.1});
#else
    sources.push_back(grind_source<usd>{"lean", 0.1});
#endif
    return sources.empty() ? 1 : 0;
}
