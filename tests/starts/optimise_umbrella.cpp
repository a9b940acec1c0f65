// A plan for a loin that was not measured.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin.hpp>
#include <tranche/optimise.hpp>
#include <tranche/units.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    return most_portions(calibrated_profile(typical_loin(4.1_kg, boneless_pork_loin), 4_kg),
                         {{.name = "chop", .thickness = {20_mm, 25_mm}}}, {})
               .plan.portion_count() == 0;
}
