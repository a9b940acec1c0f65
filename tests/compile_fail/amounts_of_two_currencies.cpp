// Amounts on a bill add within their currency only.
// SPDX-License-Identifier: BSL-1.0
// gnu: no match for 'operator\+' .*amount<tranche::usd>.*amount<tranche::eur>
// clang: invalid operands to binary expression .'amount<tranche::usd>' and 'amount<tranche::eur>'
#include <tranche/units/amount.hpp>

using namespace tranche;

int main() {
#ifdef TRANCHE_NONSENSE
    const auto sum = amount<usd>{250} + amount<eur>{100};
#else
    const auto sum = amount<usd>{250} + amount<usd>{100};
#endif
    return sum.minor > 0 ? 0 : 1;
}
