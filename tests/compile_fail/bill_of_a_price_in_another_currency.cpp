// A loin paid for in euros makes no bill in dollars, and the complaint names the field.
// SPDX-License-Identifier: BSL-1.0
// gnu: use of deleted function .*purchase_with_price_in_another_currency
// clang: call to deleted function 'settle'
#include <tranche/cost/yield/settle.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    const cutting_plan cuts;
    // Never run: what counts is that it compiles.
#ifdef TRANCHE_NONSENSE
    return sizeof(settle<usd>(cuts, {.weight = 5_kg, .price = 10_eur / 1_kg})) > 0 ? 0 : 1;
#else
    return sizeof(settle<usd>(cuts, {.weight = 5_kg, .price = 10_usd / 1_kg})) > 0 ? 0 : 1;
#endif
}
