// A script of costs.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    return cutting_yield_test<usd>(
               {.weight = 12_lb, .price = 8_usd / 1_lb},
               {{.name = "steaks", .weight = 11_lb, .role = part_role::usable}, {.name = "purge", .weight = 1_lb}})
               .lines.size() == 0;
}
