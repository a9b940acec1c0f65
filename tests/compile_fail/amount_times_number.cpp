// An exact amount is not scaled in passing: that takes working money and a rounding by name.
// SPDX-License-Identifier: BSL-1.0
// gnu: no match for 'operator\*' .*amount<tranche::usd>
// clang: invalid operands to binary expression .*amount<tranche::usd>
#include <tranche/units/amount.hpp>

using namespace tranche;

int main() {
    const amount<usd> bill{12361};
#ifdef TRANCHE_NONSENSE
    const amount<usd> tip = bill * 0.15;
#else
    const amount<usd> tip = rounded<usd>(to_money(bill) * 0.15, rounding::half_even);
#endif
    return tip.minor > 0 ? 0 : 1;
}
