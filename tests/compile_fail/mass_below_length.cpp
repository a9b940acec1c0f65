// A weight is neither more nor less than a length.
// SPDX-License-Identifier: BSL-1.0
// gnu: no match for 'operator<' .*tranche::mass.*tranche::length
// clang: invalid operands to binary expression .*mass.*length
#include <tranche/units/literals.hpp>

using namespace tranche::literals;

int main() {
#ifdef TRANCHE_NONSENSE
    return 12_oz < 1_in ? 0 : 1;
#else
    return 12_oz < 1_lb ? 0 : 1;
#endif
}
