// Blends two sources.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/grind/least_cost_blend.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    return least_cost_blend<usd>({{.name = "lean", .fat = 0.1, .price = 5_usd / 1_kg}, {.name = "fat", .fat = 0.5}},
                                 {.batch = 5_kg, .fat = fat_at_most(0.2)}, us_ground_beef_limit())
               .lines.size() == 0;
}
