// A cost script: what a steak from a whole loin really costs, from weights taken at the board. Invented figures.
// SPDX-License-Identifier: BSL-1.0
#include <iostream>

#include <tranche/cost.hpp>
#include <tranche/report/tables/cost_tables.hpp>
#include <tranche/report/tables/usable_cost_table.hpp>
#include <tranche/units.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    const purchase<usd> loin{.weight = 12.125_lb, .price = 8.10_usd / 1.0_lb};
    const auto test =
        cutting_yield_test<usd>(loin, {{.name = "strip steaks", .weight = 8.5_lb, .role = part_role::usable},
                                       {.name = "trim",
                                        .weight = 1.875_lb,
                                        .role = part_role::by_product,
                                        .value = 4.60_usd / 1.0_lb,
                                        .goes_to = "mince"},
                                       {.name = "fat and silverskin", .weight = 1.5625_lb},
                                       {.name = "purge", .weight = 3_oz}});

    std::cout << text_table(yield_lines_table(test, us_kitchen)) << '\n'
              << text_table(costs_table(test, us_kitchen)) << '\n'
              << text_table(usable_cost_table(test.costs(), {.portion = 12_oz, .quantity = loin.weight, .portions = 60},
                                              us_kitchen));
}
