// A cost script: from a whole loin to a menu price and to how many loins a party needs. An invented inn, invented figures.
// SPDX-License-Identifier: BSL-1.0
#include <iostream>

#include <tranche/tranche.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    // What came off one loin at the board, weighed to a quarter of an ounce.
    const auto test = cutting_yield_test<usd>({.weight = 12.125_lb, .price = 8.10_usd / 1.0_lb},
                                              {{.name = "strip steaks", .weight = 8.5_lb, .role = part_role::usable},
                                               {.name = "trim",
                                                .weight = 1.875_lb,
                                                .role = part_role::by_product,
                                                .value = 4.60_usd / 1.0_lb,
                                                .goes_to = "mince"},
                                               {.name = "fat, silverskin and purge", .weight = 1.75_lb}});
    const usable_cost<usd> costs = test.costs();

    const mass raw = raw_portion(9.5_oz, 0.78); // grilled: see known_cooking_yields
    const plate_cost<usd> plate{.meat = *costs.portion_cost(raw), .other = 2.40_usd};
    const auto price = plate.menu_price(0.32, {.step = {100}, .ending = {50}}); // dollars and 50 cents
    std::cout << "cut a portion of  " << to_text(raw, quarter_ounces) << " for 9 1/2 oz on the plate\n"
              << text_table(plate_table(plate, price));

    // So many portions of that weight the inn's last sixteen loins gave.
    const count_distribution loin =
        counted(std::vector<std::int64_t>{11, 12, 11, 10, 12, 11, 11, 13, 12, 10, 11, 12, 11, 11, 12, 11});
    const count_distribution party = counts_wanted_by(320, 0.93);
    std::cout << "\nloins for 320 invited, 93 % of whom come:\n"
              << text_table(loin_orders_table({{0.80, loins_to_buy(loin, party, 0.80)},
                                               {0.95, loins_to_buy(loin, party, 0.95)},
                                               {0.99, loins_to_buy(loin, party, 0.99)}}));
}
