// Shares the cost of a loin between two products.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/joint/joint_cost.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    return allocate_joint_cost<usd>({10000}, {{.name = "steaks", .weight = 8_kg}, {.name = "tips", .weight = 2_kg}},
                                    joint_method::physical_measure)
               .lines.size() == 0;
}
