// Says what a pack in the case holds.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/packs/steak_pack.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { validate<usd>({.name = "pack", .weight = 1_kg, .price = 20_usd / 1_kg, .pieces = 3}); }
