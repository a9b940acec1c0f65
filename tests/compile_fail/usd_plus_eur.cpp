// Currencies do not add: there is no rate in the types.
// SPDX-License-Identifier: BSL-1.0
// gnu: no match for 'operator\+' .*tranche::usd.*tranche::eur
// clang: invalid operands to binary expression .*tranche::usd.*tranche::eur
#include <tranche/units/literals.hpp>

using namespace tranche::literals;

int main() {
#ifdef TRANCHE_NONSENSE
    const auto sum = 7.9_usd + 3_eur;
#else
    const auto sum = 7.9_usd + 3_usd;
#endif
    return sum.value() > 0.0 ? 0 : 1;
}
