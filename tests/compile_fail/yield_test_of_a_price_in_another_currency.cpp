// A loin paid for in euros is not tested in dollars, and the complaint names the field.
// SPDX-License-Identifier: BSL-1.0
// gnu: use of deleted function .*purchase_with_price_in_another_currency
// clang: call to deleted function 'cutting_yield_test'
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    // Never run: what counts is that it compiles.
#ifdef TRANCHE_NONSENSE
    return sizeof(cutting_yield_test<usd>({.weight = 5_kg, .price = 10_eur / 1_kg}, {})) > 0 ? 0 : 1;
#else
    return sizeof(cutting_yield_test<usd>({.weight = 5_kg, .price = 10_usd / 1_kg}, {})) > 0 ? 0 : 1;
#endif
}
