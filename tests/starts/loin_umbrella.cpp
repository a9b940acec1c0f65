// A profile of a loin that was not measured.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin.hpp>
#include <tranche/units.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { return tabulate(typical_loin(4.1_kg, boneless_pork_loin)).cells() == 0; }
