// Joint cost of the portions of a plan, and of the usable parts of a yield test. Invented loins and prices.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cstdint>
#include <vector>

#include <tranche/tranche.hpp>

#include "support/catch.hpp"

namespace joint_products_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A prism of a loin in ten steaks and two slabs of two fillets; a third spec finds no place.
cutting_plan steaks_and_fillets() {
    const profile meat = tabulate(prism_loin{.length = 40_cm, .face = {.width = 20_cm, .depth = 7_cm}});
    const planned cuts = least_waste(meat,
                                     {{.name = "steak", .thickness = 30_mm},
                                      {.name = "fillet", .thickness = 50_mm, .pieces = 2},
                                      {.name = "roast", .thickness = 90_cm}},
                                     {}, {exactly(4, "fillet")});
    REQUIRE(cuts.plan.portion_count() == 14);
    return cuts.plan;
}

const joint_prices<eur> prices{
    .at_split_off = {{"steak", {.by_weight = 20_eur / 1_kg}}, {"fillet", {.by_weight = 40_eur / 1_kg}}},
    .finished = {{"fillet", {.by_weight = 40_eur / 1_kg, .each = 2.5_eur}}},
    .finishing = {{"fillet", {.each = 1_eur}}, {"roast", {.each = 9_eur}}}};

bill<eur> settled(const cutting_plan& cuts) {
    return settle<eur>(cuts, {.weight = to_mass(cuts.total), .price = 13_eur / 1_kg});
}

amount<eur> cost_of(const bill<eur>& from, std::size_t spec) {
    amount<eur> sum;
    for (const auto& portion : from.portions)
        if (portion.spec == spec) sum += portion.cost;
    return sum;
}

} // namespace

TEST_CASE("share_joint_cost: costs steak and fillet in proportion to what they sell for") {
    const cutting_plan cuts = steaks_and_fillets();
    const bill<eur> by_weight = settled(cuts);
    const auto by_value = share_joint_cost(cuts, by_weight, prices, joint_method::split_off_value);
    // 30 cm of steak at 20 and 10 cm of fillet at 40: 600 to 400.
    CHECK_THAT(by_value.allocation.lines[0].share, WithinAbs(0.6, 1e-9));
    CHECK_THAT(by_value.allocation.lines[1].share, WithinAbs(0.4, 1e-9));
    CHECK(by_value.allocation.lines[2].share == 0.0);
    const double paid = to_money(by_weight.test.primary_value).value();
    CHECK_THAT(to_money(cost_of(by_value.settled, 0)).value(), WithinAbs(0.6 * paid, 0.01));
    CHECK_THAT(to_money(cost_of(by_weight, 0)).value(), WithinAbs(0.75 * paid, 0.10)); // ten steaks, a cent each
    CHECK(cost_of(by_value.settled, 0) + cost_of(by_value.settled, 1) == by_weight.test.primary_value);
}

TEST_CASE("share_joint_cost: changes nothing but the costs of the portions, and those add up by every method") {
    const cutting_plan cuts = steaks_and_fillets();
    const bill<eur> before = settled(cuts);
    for (const joint_method method : {joint_method::physical_measure, joint_method::split_off_value,
                                      joint_method::net_realisable_value, joint_method::constant_margin}) {
        const auto after = share_joint_cost(cuts, before, prices, method);
        amount<eur> sum;
        for (std::size_t i = 0; i < before.portions.size(); ++i) {
            CHECK(after.settled.portions[i].weight == before.portions[i].weight);
            CHECK(after.settled.portions[i].slab == before.portions[i].slab);
            sum += after.settled.portions[i].cost;
        }
        CHECK(sum == before.test.primary_value);
        CHECK(after.settled.test.primary_value == before.test.primary_value);
        for (std::size_t s = 0; s < cuts.specs.size(); ++s)
            CHECK(cost_of(after.settled, s) == after.allocation.lines[s].joint_cost);
        // Portions of one spec weigh the same here, to the microgram, and so cost the same but for a cent.
        const auto [least, most] = std::minmax_element(
            after.settled.portions.begin(), after.settled.portions.end(),
            [](const auto& a, const auto& b) { return std::pair(a.spec, a.cost) < std::pair(b.spec, b.cost); });
        CHECK(least->spec == 0);
        CHECK(most->spec == 1);
    }
}

TEST_CASE("joint_products_of: prices the portions of a plan by weight and by the piece") {
    const cutting_plan cuts = steaks_and_fillets();
    const auto products = joint_products_of(cuts, prices);
    REQUIRE(products.size() == 3);
    const double fillets = products[1].weight / kilogram;
    CHECK_THAT(products[1].split_off_value->value(), WithinRel(40.0 * fillets, 1e-12));
    CHECK_THAT(products[1].final_value->value(), WithinRel(40.0 * fillets + 4 * 2.5, 1e-12));
    CHECK_THAT(products[1].separable_cost.value(), WithinRel(4.0, 1e-12));
    CHECK_THAT(products[1].gain_of_finishing()->value(), WithinRel(6.0, 1e-9));
    CHECK_FALSE(products[0].final_value);
    CHECK(products[2].weight == mass{});
    CHECK(products[2].separable_cost.value() == 0.0); // nothing there to finish
    CHECK(to_micrograms(products[0].weight + products[1].weight) == balance_of(cuts).portion_total());
}

TEST_CASE("share_joint_cost: names the spec whose price is missing, and leaves a bill without portions alone") {
    const cutting_plan cuts = steaks_and_fillets();
    joint_prices<eur> some = prices;
    some.at_split_off.erase("steak");
    CHECK_THROWS_WITH(share_joint_cost(cuts, settled(cuts), some, joint_method::split_off_value),
                      StartsWith("steak: split_off_value: got none"));
    CHECK_THROWS_WITH(share_joint_cost(cuts, settled(cuts), joint_prices<eur>{}, joint_method::constant_margin),
                      StartsWith("steak: final_value: got none"));
    const profile meat = tabulate(prism_loin{.length = 30_cm, .face = {.width = 20_cm, .depth = 7_cm}});
    const cutting_plan none = most_portions(meat, {{.name = "plank", .thickness = 50_cm}}).plan;
    const auto same = share_joint_cost(none, settled(none), joint_prices<eur>{}, joint_method::split_off_value);
    CHECK(same.settled.portions.empty());
    CHECK(same.allocation.lines.empty());
}

TEST_CASE("joint_products_of: takes the usable parts of a yield test at what they sell for") {
    const auto test = cutting_yield_test<usd>({.weight = 12_lb, .price = 9_usd / 1_lb},
                                              {{"steaks", 6_lb, part_role::usable, 14_usd / 1_lb},
                                               {"medallions", 2_lb, part_role::usable, 21_usd / 1_lb},
                                               {"trim", 3_lb, part_role::by_product, 4_usd / 1_lb, "mince"},
                                               {"purge", 1_lb, part_role::loss, {}}});
    CHECK(test.primary_value == amount<usd>{96'00}); // 108 - 12
    const auto shared = allocate_joint_cost(test.primary_value, joint_products_of(test), joint_method::split_off_value);
    REQUIRE(shared.lines.size() == 2);
    // Computed: 84 and 42 of 126 dollars of sales; both keep 30/126 of them.
    CHECK(shared.lines[0].joint_cost == amount<usd>{64'00});
    CHECK(shared.lines[1].joint_cost == amount<usd>{32'00});
    CHECK(percent_text(*shared.lines[0].margin_share(), 2) == percent_text(*shared.lines[1].margin_share(), 2));
    const auto bare =
        cutting_yield_test<usd>({.weight = 1_lb, .price = 9_usd / 1_lb}, {{"steaks", 1_lb, part_role::usable, {}}});
    CHECK_THROWS_WITH(allocate_joint_cost(bare.primary_value, joint_products_of(bare), joint_method::split_off_value),
                      StartsWith("steaks: split_off_value: got none"));
}

} // namespace joint_products_test
