// Tests the yield of a loin.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    return cutting_yield_test<usd>(
               {.weight = 12_lb, .price = 8_usd / 1_lb},
               {{.name = "steaks", .weight = 11.8_lb, .role = part_role::usable}, {.name = "purge", .weight = 0.2_lb}})
               .lines.size() == 0;
}
