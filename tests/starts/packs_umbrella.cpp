// What lies in the case.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/packs.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { return std::vector<steak_pack<usd>>{{.name = "pack", .weight = 1_kg}}.size() == 0; }
