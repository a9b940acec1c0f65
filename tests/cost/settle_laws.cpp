// Laws of the bill and of the savings over many invented loins and plans: everything adds up, exactly.
// SPDX-License-Identifier: BSL-1.0
#include <cstdint>
#include <limits>
#include <random>
#include <vector>

#include <tranche/tranche.hpp>

#include "support/catch.hpp"

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

struct scenario {
    planned_cuts cuts;
    purchase<eur> bought;
    price_list<eur> prices;
};

/// A number from low to high that is the same on every platform.
double between(std::mt19937& random, double low, double high) {
    return low + (high - low) * (static_cast<double>(random()) / 4294967295.0);
}

scenario invented(std::uint32_t seed) {
    std::mt19937 random(seed);
    const auto cm = [&](double low, double high) { return between(random, low, high) * centimetre; };
    const measured_loin loin{
        .length = cm(30, 45),
        .stations =
            {{.at = 0_cm, .width = cm(18, 24), .depth = cm(6, 9), .fat_cover = cm(0.3, 1.5), .tail = cm(0, 5)},
             {.at = 28_cm, .width = cm(18, 24), .depth = cm(6, 9), .fat_cover = cm(0.3, 1.5), .tail = cm(0, 3)}},
        .gluteus_medius = {.onset = cm(22, 29), .share_at_end = between(random, 0.05, 0.5)},
        .shape = {.silverskin = 1_mm}};
    const profile meat = tabulate(loin, 1_mm);
    const std::vector<cut_spec> specs{
        {.name = "steak",
         .thickness = {20_mm, 35_mm},
         .portion = {250_g, 450_g},
         .trim = {.fat_cover = 6_mm, .tail = 25_mm},
         .kerf = cm(0, 0.1)},
        {.name = "fillet",
         .thickness = {35_mm, 60_mm},
         .portion = {120_g, 260_g},
         .pieces = 2,
         .trim = {.fat_cover = 0_mm, .tail = 0_mm, .silverskin = false}},
        {.name = "end steak", .thickness = {20_mm, 30_mm}, .gluteus_medius = any_gluteus_medius}};
    scenario s;
    for (const cut_spec& spec : specs)
        s.prices.portions[spec.name] = {.by_weight = between(random, 8, 40) * 1_eur / 1_kg};
    for (const destination d : all_destinations) s.prices.by_products[d] = between(random, -0.5, 12) * 1_eur / 1_kg;
    s.bought = {.weight = to_mass(meat.total()) * between(random, 1.0, 1.03),
                .price = between(random, 5, 30) * 1_eur / 1_kg};
    s.cuts = best_value(meat, specs, s.prices, {.facing = cm(0, 1)});
    return s;
}

} // namespace

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

TEST_CASE("savings_against: breaks even at the break-even price") {
    for (std::uint32_t seed = 1; seed <= 60; ++seed) {
        scenario s = invented(seed);
        const ready_cut<eur> ready{.name = "ready-cut steak", .price = 28_eur / 1_kg, .replaces = {"steak", "fillet"}};
        const auto first = savings_against(ready, s.cuts.plan, settle(s.cuts.plan, s.bought, s.prices), s.prices);
        amount<eur> sum;
        for (const auto& line : first.lines) sum += line.value;
        CHECK(sum == first.honest);

        s.bought.price = first.break_even;
        const auto again = savings_against(ready, s.cuts.plan, settle(s.cuts.plan, s.bought, s.prices), s.prices);
        // Each line is rounded to the cent by itself: at most half a cent a line remains.
        CHECK(2 * std::abs(again.honest.minor) <= static_cast<std::int64_t>(again.lines.size()));

        // Dear disposal can eat up all the worth; then no price, however low, breaks even without the end.
        if (first.break_even_without_end < unit_price<eur>{}) continue;
        s.bought.price = first.break_even_without_end;
        const auto without = savings_against(ready, s.cuts.plan, settle(s.cuts.plan, s.bought, s.prices), s.prices);
        CHECK(2 * std::abs(without.honest_without_end.minor) <= static_cast<std::int64_t>(without.lines.size()));
    }
}

TEST_CASE("savings_against: agrees with the rule of thumb only when every gram becomes the steak") {
    // A prism cut into slabs from end to end without trim: R = W, V = 0, so both figures are (r - p) W.
    const prism_loin loin{.length = 30_cm, .face = {.width = 20_cm, .depth = 7_cm}};
    const profile meat = tabulate(loin);
    const auto cuts = most_portions(meat, {.name = "steak", .thickness = 30_mm});
    REQUIRE(cuts.plan.portion_count() == 10);
    const purchase<eur> bought{.weight = to_mass(meat.total()), .price = 15_eur / 1_kg};
    const auto saved =
        savings_against<eur>({.name = "ready", .price = 24_eur / 1_kg}, cuts.plan, settle(cuts.plan, bought));
    CHECK(saved.honest == saved.rule_of_thumb);
    CHECK(saved.honest == saved.honest_without_end);
    CHECK_THAT(saved.break_even.value(), WithinRel(24.0, 1e-12));

    const auto halved = most_portions(meat, {.name = "steak", .thickness = 160_mm});
    const auto less =
        savings_against<eur>({.name = "ready", .price = 24_eur / 1_kg}, halved.plan, settle(halved.plan, bought));
    CHECK(less.honest < less.rule_of_thumb);
}

TEST_CASE("settle: refuses a purchase lighter than what was cut, and bad values") {
    const scenario s = invented(3);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(settle<eur>(s.cuts.plan, {.weight = 0.9 * s.bought.weight, .price = s.bought.price}),
                      StartsWith("purchase.weight") && ContainsSubstring("at least the weight that was cut"));
    price_list<eur> odd = s.prices;
    odd.by_products[destination::grind] = nan * 1_eur / 1_kg;
    CHECK_THROWS_WITH(settle(s.cuts.plan, s.bought, odd), StartsWith("value of grind: got nan"));
    const auto settled = settle(s.cuts.plan, s.bought, s.prices);
    CHECK_THROWS_WITH(
        savings_against<eur>({.name = "ready", .price = 1_eur / 1_kg, .replaces = {"stake"}}, s.cuts.plan, settled),
        StartsWith("ready: replaces: got \"stake\""));
    CHECK_THROWS_WITH(savings_against<eur>({.name = "ready", .price = nan * 1_eur / 1_kg}, s.cuts.plan, settled),
                      StartsWith("ready: price: got nan"));
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
