// Holds a pack against tolerances.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/packs/pack_tolerances.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    return held_against<usd>(deca_2012_tolerances(), {.name = "pack", .weight = 1_kg, .price = 20_usd / 1_kg}).size() ==
           0;
}
