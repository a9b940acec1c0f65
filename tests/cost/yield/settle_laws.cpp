// Laws of the bill over many invented loins and plans: everything adds up, exactly.
// SPDX-License-Identifier: BSL-1.0
#include <cstdint>
#include <limits>
#include <random>
#include <string>
#include <vector>

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
    const auto cuts = most_portions(meat, {{.name = "plank", .thickness = 50_cm}});
    REQUIRE_FALSE(cuts.feasible());
    const auto settled = settle<usd>(cuts.plan, {.weight = 5_kg, .price = 10_usd / 1_kg});
    CHECK(settled.portions.empty());
    CHECK(settled.test.primary_value == amount<usd>{5000});
}

TEST_CASE("settle: says that no portion carries what was paid, and under strict rules refuses to") {
    const profile meat = tabulate(prism_loin{.length = 30_cm, .face = {.width = 20_cm, .depth = 7_cm}});
    const auto cuts = most_portions(meat, {{.name = "plank", .thickness = 50_cm}});
    price_list<usd> prices;
    prices.by_products[destination::grind] = 2_usd / 1_kg;
    const purchase<usd> bought{.weight = 5_kg, .price = 10_usd / 1_kg};
    const auto settled = settle(cuts.plan, bought, prices);
    const std::string left = to_text(settled.test.primary_value);
    CHECK(settled.test.primary_value < settled.test.paid);
    CHECK(settled.remarks ==
          std::vector<std::string>{"No portions: nothing carries the " + left + " that are left of what was paid."});
    CHECK_THROWS_WITH(settle(cuts.plan, bought, prices, rounding::half_even, {.strict = true}),
                      StartsWith("plan: got no portions, expected portions, to carry the " + left));
}

TEST_CASE("settle: takes a by-product at zero at its word, and credits it as one without a value") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        const scenario s = invented(seed);
        for (const destination d : all_destinations) {
            price_list<eur> zero = s.prices, none = s.prices;
            zero.by_products[d] = unit_price<eur>{};
            none.by_products[d] = std::nullopt;
            const bill<eur> at_zero = settle(s.cuts.plan, s.bought, zero, rounding::half_even, {.strict = true});
            const bill<eur> at_none = settle(s.cuts.plan, s.bought, none);
            CHECK(at_zero.remarks.empty());
            CHECK(at_zero.test.primary_value == at_none.test.primary_value);
            CHECK(at_zero.portions == at_none.portions);
            for (const auto& line : at_zero.test.lines) CHECK(line.part.name.find("no value") == std::string::npos);
        }
    }
}

TEST_CASE("settle: names each by-product without a value, and under strict rules refuses it") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        scenario s = invented(seed);
        CHECK(settle(s.cuts.plan, s.bought, s.prices).remarks.empty());
        const bill<eur> valued = settle(s.cuts.plan, s.bought, s.prices, rounding::half_even, {.strict = true});
        for (const destination d : all_destinations) {
            price_list<eur> prices = s.prices;
            prices.by_products[d] = {};
            const bill<eur> settled = settle(s.cuts.plan, s.bought, prices);
            REQUIRE(settled.test.lines.size() == valued.test.lines.size());
            std::vector<std::string> remarks;
            for (std::size_t i = 0; i < settled.test.lines.size(); ++i) {
                const auto &line = settled.test.lines[i], &before = valued.test.lines[i];
                const bool unvalued = line.part.goes_to == name_of(d) && d != destination::discard;
                CHECK(line.part.name == before.part.name + (unvalued ? " (no value given)" : ""));
                CHECK(line.weight == before.weight);
                if (!unvalued) continue;
                CHECK(line.credit == amount<eur>{});
                remarks = {"No value is given for " + std::string(name_of(d)) +
                           ": what goes there is credited at nothing."};
            }
            CHECK(settled.remarks == remarks);
            const auto strict = [&] {
                return settle(s.cuts.plan, s.bought, prices, rounding::half_even, {.strict = true});
            };
            if (remarks.empty())
                CHECK_NOTHROW(strict());
            else
                CHECK_THROWS_WITH(strict(), StartsWith("value of " + std::string(name_of(d)) + ": got none"));
        }
    }
}

TEST_CASE("settle: lists the destinations without a value once each") {
    const profile meat = tabulate(measured_loin{
        .length = 42_cm, .stations = {{.at = 0_cm, .width = 21_cm, .depth = 8_cm, .fat_cover = 11_mm, .tail = 5_cm}}});
    const auto cuts = most_portions(
        meat, {{.name = "steak", .thickness = {25_mm, 38_mm}, .trim = {.fat_cover = 6_mm, .tail = 25_mm}}},
        {.facing = 6_mm});
    CHECK(settle<usd>(cuts.plan, {.weight = 7_kg, .price = 10_usd / 1_kg}).remarks ==
          std::vector<std::string>{"No value is given for grind, rendering: what goes there is credited at nothing."});
}

TEST_CASE("settle: takes an invoice that the scale of the kitchen is a little above, and puts the rest on a line") {
    for (std::uint32_t seed = 1; seed <= 30; ++seed) {
        scenario s = invented(seed);
        const micrograms board = s.cuts.plan.total;
        std::mt19937 random(seed);
        const settle_rules rules{.scale_tolerance = seed % 2 == 0 ? weighing_tolerance{} : weighing_tolerance{30_g}};
        const std::int64_t allowed = rules.scale_tolerance.at(0.995 * to_mass(board)).count;
        // From a microgram, which is no rounding of a part, to all that is allowed.
        const micrograms above{
            seed == 1 ? 1 : 1 + static_cast<std::int64_t>(between(random, 0.0, 0.99) * static_cast<double>(allowed))};
        s.bought.weight = to_mass(board - above);
        const bill<eur> settled = settle(s.cuts.plan, s.bought, s.prices, rounding::half_even, rules);
        INFO(above.count << " micrograms above");
        CHECK(settled.purge == micrograms{});
        CHECK(settled.test.lines.back().part.name == "unaccounted for");
        CHECK(settled.test.lines.back().weight == micrograms{} - above);
        CHECK(settled.remarks.size() == 1);
        micrograms weight, portions;
        amount<eur> cost;
        for (const auto& line : settled.test.lines) weight += line.weight;
        for (const auto& portion : settled.portions) {
            portions += portion.weight;
            cost += portion.cost;
        }
        CHECK(weight == to_micrograms(s.bought.weight));
        CHECK(portions == settled.test.usable);
        CHECK(cost + settled.test.credit == settled.test.paid);
        const auto saved =
            make_or_buy<eur>({.name = "ready", .price = 24_eur / 1_kg}, s.cuts.plan, settled, {.prices = s.prices});
        CHECK(cost_breakdown(saved, settled.test).back().level == saved.net_saving);
        amount<eur> from_gross = saved.gross_saving;
        for (const auto& line : saved.differences) from_gross += line.value;
        CHECK(from_gross == saved.net_saving);
        CHECK_NOTHROW(rank_offers<eur>({offer_of("planned", s.cuts.plan, settled)}, 300_g));
    }
}

TEST_CASE("settle: says both weights, the difference and the tolerance where the scale is further above") {
    const profile meat =
        tabulate(calibrate(prism_loin{.length = 40_cm, .face = {.width = 20_cm, .depth = 7_cm}}, 5.34_kg));
    const auto cuts = most_portions(meat, {{.name = "steak", .thickness = 3_cm}});
    const purchase<usd> bought{.weight = 5.3_kg, .price = 10_usd / 1_kg};
    CHECK_THROWS_WITH(
        settle<usd>(cuts.plan, bought),
        StartsWith("purchase.weight: got 5300 g, expected at least the weight that was cut, 5340 g; that is "
                   "heavier by 40 g, more than the 21.2 g of the scale"));
    CHECK_NOTHROW(settle<usd>(cuts.plan, bought, {}, rounding::half_even, {.scale_tolerance = 40_g}));
    CHECK_THROWS_WITH(settle<usd>(cuts.plan, bought, {}, rounding::half_even, {.scale_tolerance = -1_g}),
                      StartsWith("scale_tolerance: got -1 g"));
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
        for (const joint_method method : {joint_method::physical_measure, joint_method::split_off_value,
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
