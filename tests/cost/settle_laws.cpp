// Laws of the bill over many invented loins and plans: everything adds up, exactly.
// SPDX-License-Identifier: BSL-1.0
#include <cstdint>
#include <limits>

#include <tranche/tranche.hpp>

#include "cost/samples.hpp"
#include "support/catch.hpp"

namespace settle_laws {

using namespace cost_samples;
using namespace tranche_test;

TEST_CASE("settle: closes mass to the microgram and money to the cent") {
    for (std::uint32_t seed = 1; seed <= 60; ++seed) {
        const scenario s = invented(seed);
        const bill<eur> settled = settle(s.cuts.plan, s.bought, s.prices);
        micrograms weight, portions;
        amount<eur> credit, cost;
        for (const auto& line : settled.test.lines) {
            weight += line.weight;
            credit += line.credit;
        }
        for (const auto& portion : settled.portions) {
            portions += portion.weight;
            cost += portion.cost;
        }
        CHECK(weight == to_micrograms(s.bought.weight));
        CHECK(weight - settled.purge == s.cuts.plan.total);
        CHECK(portions == settled.test.usable);
        CHECK(settled.portions.size() == s.cuts.plan.portion_count());
        CHECK(cost == settled.test.primary_value);
        CHECK(cost + credit == settled.test.paid);
    }
}

TEST_CASE("settle: gives heavier portions no smaller a share of the cost") {
    const scenario s = invented(7);
    const bill<eur> settled = settle(s.cuts.plan, s.bought, s.prices);
    for (const auto& a : settled.portions)
        for (const auto& b : settled.portions)
            if (a.weight > b.weight)
                CHECK(a.cost.minor + 1 >= b.cost.minor); // largest remainder may give the smaller one unit
}

TEST_CASE("settle: scales its cost with the price paid when by-products are worth nothing") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        const scenario s = invented(seed);
        const auto once = settle<eur>(s.cuts.plan, s.bought);
        const auto thrice = settle<eur>(s.cuts.plan, {.weight = s.bought.weight, .price = 3.0 * s.bought.price});
        // The rates come from unrounded money, so only the last bits of two products differ.
        CHECK_THAT(thrice.test.cost_per_usable()->value(),
                   WithinRel(3.0 * once.test.cost_per_usable()->value(), 1e-13));
    }
}

TEST_CASE("settle: refuses a purchase lighter than what was cut, and bad values") {
    const scenario s = invented(3);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(settle<eur>(s.cuts.plan, {.weight = 0.9 * s.bought.weight, .price = s.bought.price}),
                      StartsWith("purchase.weight") && ContainsSubstring("at least the weight that was cut"));
    price_list<eur> odd = s.prices;
    odd.by_products[destination::grind] = nan * 1_eur / 1_kg;
    CHECK_THROWS_WITH(settle(s.cuts.plan, s.bought, odd), StartsWith("value of grind: got nan"));
}

TEST_CASE("settle: puts the whole price on nothing when no portion can be cut") {
    const profile meat = tabulate(prism_loin{.length = 30_cm, .face = {.width = 20_cm, .depth = 7_cm}});
    const auto cuts = most_portions(meat, {.name = "plank", .thickness = 50_cm});
    REQUIRE_FALSE(cuts.feasible());
    const auto settled = settle<usd>(cuts.plan, {.weight = 5_kg, .price = 10_usd / 1_kg});
    CHECK(settled.portions.empty());
    CHECK(settled.test.primary_value == amount<usd>{5000});
}

TEST_CASE("cooking_loss_test: follows the portions of a plan through the oven") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        const scenario s = invented(seed);
        const bill<eur> settled = settle(s.cuts.plan, s.bought, s.prices);
        REQUIRE(settled.test.usable.count > 0);
        const mass cooked = cooked_portion(to_mass(settled.test.usable), 0.78);
        const auto test = cooking_loss_test<eur>(settled.test, cooked, {{"steaks", cooked, part_role::usable, {}}});
        CHECK(test.lost_in_cooking + test.salable == settled.test.usable);
        CHECK(test.primary_value == settled.test.primary_value);
        // A cooked portion costs what its raw one did; the cooked weight is rounded to a microgram of a kilogram or
        // more.
        CHECK_THAT(test.costs().portion_cost(cooked_portion(300_g, 0.78))->value(),
                   WithinRel(settled.test.costs().portion_cost(300_g)->value(), 1e-8));
        for (const auto& line : settled.test.lines)
            CHECK((line.part.role == part_role::by_product) == !line.part.goes_to.empty());
    }
}

TEST_CASE("share_joint_cost: shares what the portions of any plan carry, to the cent") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        const scenario s = invented(seed);
        const bill<eur> before = settle(s.cuts.plan, s.bought, s.prices);
        for (const joint_method method : {joint_method::weight, joint_method::split_off_value,
                                          joint_method::net_realisable_value, joint_method::constant_margin}) {
            const auto after =
                share_joint_cost(s.cuts.plan, before, {.at_split_off = s.prices.portions}, method, rounding::half_up);
            amount<eur> sum;
            for (const auto& portion : after.settled.portions) sum += portion.cost;
            CHECK(sum == before.test.primary_value);
            CHECK(after.allocation.shared == before.test.primary_value);
        }
    }
}

} // namespace settle_laws
