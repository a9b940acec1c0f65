// What a blend brings is reckoned in the currency that its sources cost.
// SPDX-License-Identifier: BSL-1.0
// gnu: no matching function for call to .*worth_when_sold.*|conversion from .*tranche::eur.* to non-scalar type .*tranche::usd|could not convert .*tranche::eur
// clang: no viable conversion from .*tranche::eur.*tranche::usd|no matching function for call to 'worth_when_sold'
#include <tranche/grind/trim_in_blend.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    const blend<usd> b;
#ifdef TRANCHE_NONSENSE
    return worth_when_sold<usd>(b, 0, 9_eur / 1_kg).has_value() ? 1 : 0;
#else
    return worth_when_sold<usd>(b, 0, 9_usd / 1_kg).has_value() ? 1 : 0;
#endif
}
