// A part valued in one currency is no part of a purchase in another.
// SPDX-License-Identifier: BSL-1.0
// gnu: could not convert .*tranche::eur.*tranche::usd
// clang: no viable conversion from .*tranche::eur.*tranche::usd
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
#ifdef TRANCHE_NONSENSE
    const weighed_part<usd> trim{.name = "trim", .weight = 1_kg, .role = part_role::by_product, .value = 2_eur / 1_kg};
#else
    const weighed_part<usd> trim{.name = "trim", .weight = 1_kg, .role = part_role::by_product, .value = 2_usd / 1_kg};
#endif
    return trim.weight > mass{} ? 0 : 1;
}
