// A ready-cut price in one currency is not compared with a bill in another.
// SPDX-License-Identifier: BSL-1.0
// message: no matching function for call to 'make_or_buy
// message: eur
#include <tranche/cost/savings/make_or_buy.hpp>

using namespace tranche;

int main() {
    const yield_test<usd> test{};
#ifdef TRANCHE_NONSENSE
    const ready_cut<eur> ready{};
#else
    const ready_cut<usd> ready{};
#endif
    // Never run: what counts is that it compiles.
    return sizeof(make_or_buy(ready, {}, test)) > 0 ? 0 : 1;
}
