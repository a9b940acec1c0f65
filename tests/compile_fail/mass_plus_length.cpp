// A weight and a length have no sum.
// SPDX-License-Identifier: BSL-1.0
// gnu: no match for 'operator\+' .*tranche::mass.*tranche::length
// clang: invalid operands to binary expression .*mass.*length
#include <tranche/units/literals.hpp>

using namespace tranche::literals;

int main() {
#ifdef TRANCHE_NONSENSE
    const auto sum = 12_lb + 16_in;
#else
    const auto sum = 12_lb + 340_g;
#endif
    return sum.value() > 0.0 ? 0 : 1;
}
