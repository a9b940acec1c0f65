// The code that docs/cost.md shows, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstdint>
#include <string>
#include <vector>

#include <tranche/tranche.hpp>

namespace cost_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

template <class Price>
std::string by_the_pound(const Price& price) {
    return to_text((*price * pound).value(), 3);
}

} // namespace

// The rib of the textbook named in docs/cost.md; its figures are checked in tests/cost/yield, here what the page says of them.
TEST_CASE("docs on cost: the rib costs what the page says") {
    const auto rib = cutting_yield_test<usd>({.weight = 38_lb + 12_oz, .price = 3.19_usd / 1_lb},
                                             {{"fat", 6_lb + 8_oz, part_role::by_product, {}, "rendering"},
                                              {"bones", 4_lb + 4_oz, part_role::by_product, 0.32_usd / 1_lb, "stock"},
                                              {"short ribs", 3_lb + 4_oz, part_role::by_product, 1.49_usd / 1_lb},
                                              {"chopped beef", 2_lb + 8_oz, part_role::by_product, 1.59_usd / 1_lb},
                                              {"loss in cutting", 4_oz, part_role::loss, {}},
                                              {"oven-ready rib", 22_lb, part_role::usable, {}}});
    const usable_cost<usd> costs = rib.costs();
    const auto per_pound = costs.per_weight();                               // 5.156 USD/lb
    const auto portion = costs.portion_cost(10_oz);                          // 3.22 USD
    const auto portions = costs.portions_from(38_lb + 12_oz, 10_oz);         // 35
    const auto to_buy = costs.quantity_for(50, 10_oz);                       // 55 lb as purchased
    const auto by_factor = costs.per_weight_at(3.49_usd / 1_lb);             // 5.641 USD/lb
    const auto kept = repriced<usd>(rib, 3.49_usd / 1_lb).cost_per_usable(); // 5.685 USD/lb
    CHECK(by_the_pound(per_pound) == "5.156");
    CHECK(to_text(portion->value(), 2) == "3.22");
    CHECK(portions == 35);
    CHECK(to_text(*to_buy / pound, 0) == "55");
    CHECK(by_the_pound(by_factor) == "5.641");
    CHECK(by_the_pound(kept) == "5.685");

    const auto roast = cooking_loss_test<usd>(
        rib, 20_lb + 4_oz,
        {{"bones and trim", 1_lb + 4_oz, part_role::loss, {}}, {"salable rib", 19_lb, part_role::usable, {}}});
    const auto served = roast.costs().portion_cost(10_oz); // 3.73 USD for 10 oz on the plate
    const auto factor = roast.costs().factor();            // 1.872
    const auto shrunk = roast.cooking_yield();             // 0.920 of what went in
    CHECK(to_text(served->value(), 2) == "3.73");
    CHECK(to_text(*factor, 3) == "1.872");
    CHECK(to_text(shrunk, 3) == "0.920");

    const mass raw = raw_portion(10_oz, 0.78); // 12 3/4 oz to cut
    const plate_cost<usd> plate{.meat = *costs.portion_cost(raw), .other = 1.80_usd};
    const auto price = plate.menu_price(0.30);                                    // 19.77 USD
    const auto printed = plate.menu_price(0.30, {.step = {100}, .ending = {95}}); // 19.95 USD, the next that ends in 95
    const auto percentage = plate.food_cost_percentage(to_money(printed));        // 29.7 %
    const auto largest = plate.largest_portion(18_usd, 0.30, *costs.per_weight()); // 11 1/4 oz raw at a price of 18 USD
    CHECK(to_text(raw, quarter_ounces) == "12 3/4 oz");
    CHECK(to_text(price.value(), 2) == "19.77");
    CHECK(printed == amount<usd>{19'95});
    CHECK(percent_text(percentage) == "29.7 %");
    CHECK(to_text(*largest, quarter_ounces) == "11 1/4 oz");
}

TEST_CASE("docs on cost: the dairy shares its joint cost as the page says") {
    const std::vector<joint_product<usd>> dairy{
        {.name = "butter",
         .weight = 20000_kg,
         .split_off_value = 20000_usd,
         .final_value = 50000_usd,
         .separable_cost = 5000_usd},
        {.name = "buttermilk", .weight = 80000_kg, .split_off_value = 30000_usd}};
    const auto shared = allocate_joint_cost(amount<usd>{20'000'00}, dairy, joint_method::net_realisable_value);
    const auto butter = shared.lines[0].joint_cost; // 12000.00 USD; by weight 4000, at split-off 8000, by margin 10625
    const auto margin = shared.lines[0].margin_share(); // 66.0 %
    const auto gained = dairy[0].gain_of_finishing();   // 25000 USD more than sold by the pound
    CHECK(butter == amount<usd>{12'000'00});
    CHECK(percent_text(*margin) == "66.0 %");
    CHECK(to_text(gained->value(), 2) == "25000.00");
    const auto by = [&](joint_method method) {
        return allocate_joint_cost(amount<usd>{20'000'00}, dairy, method).lines[0].joint_cost;
    };
    CHECK(by(joint_method::physical_measure) == amount<usd>{4'000'00});
    CHECK(by(joint_method::split_off_value) == amount<usd>{8'000'00});
    CHECK(by(joint_method::constant_margin) == amount<usd>{10'625'00});
}

TEST_CASE("docs on cost: as many loins are enough as the page says") {
    // 200 invited, nine in ten come and take one each. Portions of twelve loins (invented):
    const std::vector<std::int64_t> record{11, 12, 12, 13, 12, 14, 11, 12, 13, 12, 10, 13};
    const auto order = loins_to_buy(counted(record), counts_wanted_by(200, 0.9), 0.95);
    const auto loins = order->loins;          // 16
    const auto sure = order->probability;     // 0.991
    const auto fewer = order->with_one_fewer; // 0.614; none where no loin is asked for
    CHECK(loins == 16);
    CHECK(to_text(sure, 3) == "0.991");
    CHECK(to_text(*fewer, 3) == "0.614");
}

} // namespace cost_snippets
