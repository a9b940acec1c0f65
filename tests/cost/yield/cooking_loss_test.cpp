// The cooking-loss test against the textbook's rib of beef, and its edges.
// SPDX-License-Identifier: BSL-1.0
#include <limits>
#include <vector>

#include <tranche/cost/yield/cooking_loss.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace cooking_loss_tests {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Dittmer and Keefe, Principles of Food, Beverage, and Labor Cost Controls, 9th edition, chapter 6, exercise on a rib
// of beef: inputs read in the source.
yield_test<usd> oven_ready_rib() {
    return cutting_yield_test<usd>({.weight = 38_lb + 12_oz, .price = 3.19_usd / 1_lb},
                                   {{"fat", 6_lb + 8_oz, part_role::by_product, {}},
                                    {"bones", 4_lb + 4_oz, part_role::by_product, 0.32_usd / 1_lb},
                                    {"short ribs", 3_lb + 4_oz, part_role::by_product, 1.49_usd / 1_lb},
                                    {"chopped beef", 2_lb + 8_oz, part_role::by_product, 1.59_usd / 1_lb},
                                    {"loss in cutting", 4_oz, part_role::loss, {}},
                                    {"oven-ready rib", 22_lb, part_role::usable, {}}});
}

const std::vector<weighed_part<usd>> carved_rib{{"bones and trim", 1_lb + 4_oz, part_role::loss, {}},
                                                {"salable rib", 19_lb, part_role::usable, {}}};

} // namespace

// The outputs are computed from the inputs of the exercise.
TEST_CASE("cooking_loss_test: gives the computed figures for a roast rib of beef") {
    const auto test = cooking_loss_test(oven_ready_rib(), 20_lb + 4_oz, carved_rib);
    CHECK(to_text(to_mass(test.lost_in_cooking), pounds_and_whole_ounces) == "1 lb 12 oz");
    CHECK(test.primary_value == amount<usd>{11343});
    CHECK(to_text(*test.costs().per_weight(), price_basis::per_pound, 4) == "5.970263 USD/lb");
    CHECK(to_text(test.costs().portion_cost(10_oz)->value(), 5) == "3.73141");
    CHECK(to_text(*test.costs().factor(), 6) == "1.871556");
    // The same as exact fractions. Weights are whole micrograms of 8 kg and more.
    CHECK_THAT((*test.costs().per_weight() * pound).value(), WithinRel(113.435 / 19.0, 1e-9));
    CHECK_THAT(test.costs().portion_cost(10_oz)->value(), WithinRel(113.435 / 19.0 * 10.0 / 16.0, 1e-9)); // 3.731414...
    CHECK_THAT(*test.costs().factor(), WithinRel(113.435 / 19.0 / 3.19, 1e-9));
    CHECK_THAT(test.cooking_yield(), WithinRel(20.25 / 22.0, 1e-9));
    // Ratios are to the purchase: 1.25 and 19 of 38.75 lb.
    CHECK(percent_text(test.lines[0].ratio, 2) == "3.23 %");
    CHECK(percent_text(test.lines[1].ratio, 2) == "49.03 %");
    CHECK(test.costs().portions_from(38_lb + 12_oz, 10_oz) == 30); // 19 lb are 30.4 portions
    // 50 portions of 10 oz cooked: 31.25 lb / (19 / 38.75).
    CHECK(to_text(*test.costs().quantity_for(50, 10_oz) / pound, 4) == "63.7336");
}

TEST_CASE("cooking_loss_test: costs the salable meat what the oven-ready meat cost") {
    const auto cut = oven_ready_rib();
    const auto test = cooking_loss_test(cut, 20_lb + 4_oz, carved_rib);
    CHECK(test.primary_value == cut.primary_value);
    CHECK_THAT((*test.costs().per_weight() * to_mass(test.salable)).value(),
               WithinRel((*cut.cost_per_usable() * to_mass(cut.usable)).value(), 1e-14));
    CHECK(test.raw == test.lost_in_cooking + test.lines[0].weight + test.lines[1].weight);
}

TEST_CASE("cooking_loss_test: credits what is carved off for another use") {
    const auto test = cooking_loss_test<usd>(oven_ready_rib(), 20_lb + 4_oz,
                                             {{"bones", 1_lb + 4_oz, part_role::by_product, 0.40_usd / 1_lb, "stock"},
                                              {"salable rib", 19_lb, part_role::usable, {}}});
    CHECK(test.credit == amount<usd>{50});
    CHECK(test.primary_value == amount<usd>{11293});
    CHECK_THAT((*test.costs().per_weight() * pound).value(), WithinRel((113.435 - 0.5) / 19.0, 1e-9));
}

TEST_CASE("cooking_loss_test: has no cost by weight when everything burnt") {
    const auto test = cooking_loss_test<usd>(oven_ready_rib(), 20_lb, {{"charcoal", 20_lb, part_role::loss, {}}});
    CHECK_FALSE(test.costs().per_weight());
    CHECK(test.primary_value == amount<usd>{11343});
    const auto vanished = cooking_loss_test<usd>(oven_ready_rib(), mass{}, {{"rib", mass{}, part_role::usable, {}}});
    CHECK(vanished.cooking_yield() == 0.0);
    CHECK_FALSE(vanished.costs().per_weight());
}

TEST_CASE("cooking_loss_test: refuses weights that cannot be") {
    const auto cut = oven_ready_rib();
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(cooking_loss_test(cut, 23_lb, carved_rib),
                      StartsWith("cooked: got 10432.7 g, expected no more than the raw weight, 9979 g"));
    CHECK_THROWS_WITH(cooking_loss_test(cut, nan * 1_lb, carved_rib), StartsWith("cooked: got nan"));
    CHECK_THROWS_WITH(cooking_loss_test(cut, -1_lb, carved_rib), StartsWith("cooked: got -453.6 g"));
    CHECK_THROWS_WITH(cooking_loss_test(cut, 20_lb, {}), StartsWith("parts: got none"));
    CHECK_THROWS_WITH(cooking_loss_test(cut, 20_lb, carved_rib),
                      StartsWith("parts: got 9185.2 g in all, expected the weight of the cooked meat, 9071.8 g") &&
                          ContainsSubstring("they miss it by -113.4 g"));
    CHECK_NOTHROW(cooking_loss_test(cut, 20_lb, carved_rib, 4_oz));
    const auto waste =
        cutting_yield_test<usd>({.weight = 1_kg, .price = 5_usd / 1_kg}, {{"waste", 1_kg, part_role::loss, {}}});
    CHECK_THROWS_WITH(cooking_loss_test<usd>(waste, mass{}, {{"roast", mass{}, part_role::usable, {}}}),
                      StartsWith("cut.usable: got 0 g"));
}

TEST_CASE("repriced: is the same cooking-loss test at another price") {
    const std::vector<weighed_part<usd>> carved{{"bones", 1_lb + 4_oz, part_role::by_product, 0.40_usd / 1_lb, "stock"},
                                                {"salable rib", 19_lb, part_role::usable, {}}};
    const auto test = cooking_loss_test(oven_ready_rib(), 20_lb + 4_oz, carved);
    const auto moved = repriced<usd>(test, 3.49_usd / 1_lb);
    const auto fresh = cooking_loss_test(repriced<usd>(oven_ready_rib(), 3.49_usd / 1_lb), 20_lb + 4_oz, carved);
    CHECK(moved.cut.paid == fresh.cut.paid);
    CHECK(moved.primary_value == fresh.primary_value);
    CHECK(moved.credit == test.credit);
    CHECK_THAT(moved.unrounded_primary_value.value(), WithinRel(fresh.unrounded_primary_value.value(), 1e-14));
    // Computed: 0.30 more on 38.75 lb is 11.625, all of it on 19 lb.
    CHECK_THAT(((*moved.costs().per_weight() - *test.costs().per_weight()) * pound).value(),
               WithinRel(11.625 / 19.0, 1e-9)); // whole micrograms of 8 kg and more
    CHECK(moved.salable == test.salable);
    CHECK_THROWS_WITH(repriced<usd>(test, -1_usd / 1_kg), StartsWith("price: got -1 USD/kg"));
}

} // namespace cooking_loss_tests
