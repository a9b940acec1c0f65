// A cost script: what a steak from a whole loin really costs, from weights taken at the board. Invented figures.
// SPDX-License-Identifier: BSL-1.0
#include <iostream>

#include <tranche/tranche.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    const purchase<usd> loin{.weight = 12.125_lb, .price = 8.10_usd / 1.0_lb};
    const auto test = cutting_yield_test<usd>(
        loin,
        {{.name = "strip steaks", .weight = 8.5_lb, .role = part_role::usable},
         {.name = "trim for grind", .weight = 1.875_lb, .role = part_role::by_product, .value = 4.60_usd / 1.0_lb},
         {.name = "fat and silverskin", .weight = 1.5625_lb},
         {.name = "purge", .weight = 3_oz}});

    std::cout << "paid            " << to_text(test.paid) << '\n'
              << "steak yield     " << percent_text(test.yield()) << '\n'
              << "steak cost      " << to_text<usd>(*test.cost_per_usable(), price_basis::per_pound) << '\n'
              << "cost factor     " << decimal_text(*test.cost_factor(), 3) << '\n'
              << "a 12 oz steak   " << to_text(rounded<usd>(12.0_oz * *test.cost_per_usable(), rounding::half_even))
              << '\n';
}
