// Laws of savings over many invented loins and plans: lines add up, break-evens break even, and nothing depends on the unit.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <random>
#include <vector>

#include <tranche/tranche.hpp>

#include "cost/samples.hpp"
#include "support/catch.hpp"

namespace savings_laws {

using namespace cost_samples;
using namespace tranche_test;

namespace {

constexpr std::uint32_t seeds = 40;

struct comparison {
    scenario made;
    ready_cut<eur> ready;
    cutting_costs<eur> costs;
    edible_basis basis;

    explicit comparison(std::uint32_t seed) : made(invented(seed)) {
        std::mt19937 random(seed + 1000);
        ready = {.name = "ready-cut steak", .price = between(random, 15, 45) * 1_eur / 1_kg, .replaces = {"steak"}};
        if (seed % 3 != 0) ready.replaces.emplace_back("fillet");
        if (seed % 2 != 0) ready.edible_share = between(random, 0.5, 1.0);
        if (seed % 5 != 0)
            costs = {.time = between(random, 5, 60) * minute,
                     .pay = between(random, 5, 40) * 1_eur / 1_h,
                     .packaging = between(random, 0, 0.5) * 1_eur,
                     .freezing = between(random, 0, 1) * 1_eur / 1_kg,
                     .frozen = between(random, 0, 1),
                     .knife_wear = between(random, 0, 3) * 1_eur};
        basis.counts[tissue::gluteus_medius] = between(random, 0, 1);
    }
    [[nodiscard]] savings<eur> saved() const {
        return make_or_buy(ready, made.cuts.plan, settle(made.cuts.plan, made.bought, made.prices),
                           {.prices = made.prices, .costs = costs}, basis);
    }
};

amount<eur> sum_of(const std::vector<savings_line<eur>>& lines) {
    amount<eur> sum;
    for (const auto& line : lines) sum += line.value;
    return sum;
}

/// Each line is rounded to the cent by itself: at most half a cent a line.
bool zero_but_for_rounding(amount<eur> value, std::size_t lines) {
    return 2 * std::abs(value.minor) <= static_cast<std::int64_t>(lines);
}

/// Half an ulp of each of a dozen sums and products of what is added up.
double lost_bits(const savings_terms<eur>& t) {
    return 1e-14 * (std::abs((t.ready_price * t.equivalent).value()) + std::abs(t.bought.cost().value()) +
                    std::abs(t.other_portions.value()) + std::abs(t.by_products.value()) +
                    std::abs((t.time * t.pay).value()) + t.costs_of_portions.value() + t.costs_of_loin.value());
}

} // namespace

TEST_CASE("make_or_buy: lines and differences add up exactly") {
    for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
        const comparison sample(seed);
        const savings<eur> saved = sample.saved();
        CHECK(sum_of(saved.lines) == saved.net_saving);
        CHECK(saved.gross_saving + sum_of(saved.differences) == saved.net_saving);
        const double net = saved.terms.net_saving().value() * 100.0;
        CHECK(2.0 * std::abs(net - static_cast<double>(saved.net_saving.minor)) <=
              static_cast<double>(saved.lines.size()) + 1e-6);
    }
}

TEST_CASE("make_or_buy: breaks even where each break-even value says so") {
    std::size_t prices = 0, ready_prices = 0, wages = 0, without_others = 0;
    for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
        const comparison sample(seed);
        const savings<eur> saved = sample.saved();
        const auto again = [&](std::size_t& count, auto change) {
            ++count;
            comparison other = sample;
            change(other);
            const savings<eur> then = other.saved();
            CHECK(zero_but_for_rounding(then.net_saving, then.lines.size()));
        };
        const auto price = break_even_price(saved.terms);
        if (price.at) again(prices, [&](comparison& c) { c.made.bought.price = *price.at; });
        const auto ready = break_even_ready_price(saved.terms);
        if (ready.at) again(ready_prices, [&](comparison& c) { c.ready.price = *ready.at; });
        const auto pay = break_even_wage(saved.terms);
        if (pay.at) again(wages, [&](comparison& c) { c.costs.pay = *pay.at; });
        const auto without = break_even_price(saved.terms.without_other_portions());
        if (without.at) {
            comparison other = sample;
            other.made.bought.price = *without.at;
            const savings<eur> then = other.saved();
            CHECK(zero_but_for_rounding(then.net_saving_without_others, then.lines.size()));
            ++without_others;
        }
    }
    // Not passed for want of anything to check.
    CHECK(prices > 0);
    CHECK(ready_prices > 0);
    CHECK(wages > 0);
    CHECK(without_others > 0);
}

// `at_yield` lets portions and rest grow and shrink in proportion, so the same is done to invented weighed parts, and all of
// it goes through the bill again: weights and counts, credits, the ready-cut meat that would replace the portions, and the
// costs of portions.
TEST_CASE("make_or_buy: breaks even at the break-even yield of weighed parts") {
    std::size_t yields = 0;
    for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
        std::mt19937 random(seed + 2000);
        const purchase<eur> bought{.weight = 1000_kg, .price = between(random, 10, 20) * 1_eur / 1_kg};
        const double trim_value = between(random, -1, 6), trim_in_rest = between(random, 0.5, 1.0);
        const ready_cut<eur> ready{.name = "ready", .price = between(random, 18, 30) * 1_eur / 1_kg};
        const auto saved_at = [&](fraction yield) {
            const mass portions = yield * bought.weight, trim = trim_in_rest * (bought.weight - portions);
            const auto test =
                cutting_yield_test<eur>(bought, {{"steak", portions, part_role::usable, {}},
                                                 {"trim", trim, part_role::by_product, trim_value * 1_eur / 1_kg},
                                                 {"loss", bought.weight - portions - trim, part_role::loss, {}}});
            return make_or_buy<eur>(ready, {{.name = "steak", .weight = test.usable, .count = 2000}}, test,
                                    {.costs = {.time = 20_h, .pay = 18_eur / 1_h, .knife_wear = 5_eur}});
        };
        const savings<eur> saved = saved_at(between(random, 0.6, 0.8));
        const auto yield = break_even_yield(saved.terms);
        if (!yield.at || *yield.at <= 0.0 || *yield.at >= 1.0) continue;
        const savings<eur> then = saved_at(*yield.at);
        // Whole micrograms of a tonne at less than 100 EUR/kg are less than a cent in all.
        CHECK(zero_but_for_rounding(then.net_saving, then.lines.size() + 1));
        CHECK(!zero_but_for_rounding(saved.net_saving, saved.lines.size() + 1)); // it was not zero before
        ++yields;
    }
    CHECK(yields > 0);
}

TEST_CASE("break-even values put back into the terms give zero to the last bits") {
    std::size_t prices = 0, ready_prices = 0, wages = 0, yields = 0;
    for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
        const savings_terms<eur> terms = comparison(seed).saved().terms;
        const auto check = [&](const savings_terms<eur>& changed, std::size_t& found) {
            ++found;
            CHECK(std::abs(changed.net_saving().value()) <= lost_bits(changed) + lost_bits(terms));
        };
        if (const auto even = break_even_price(terms); even.at) check(terms.at_price(*even.at), prices);
        if (const auto even = break_even_ready_price(terms); even.at)
            check(terms.at_ready_price(*even.at), ready_prices);
        if (const auto even = break_even_wage(terms); even.at) check(terms.at_pay(*even.at), wages);
        if (const auto even = break_even_yield(terms); even.at) check(terms.at_yield(*even.at), yields);
    }
    CHECK(prices + ready_prices + wages + yields > 2 * seeds); // not passed for want of anything to check
    for (const std::size_t found : {prices, ready_prices, wages, yields}) CHECK(found > 0);
}

TEST_CASE("a break-even that is not there is a saving or a loss at every value") {
    for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
        savings_terms<eur> terms = comparison(seed).saved().terms;
        for (const double cost : {0.0, 50.0, 500.0}) {
            terms.costs_of_loin = cost * 1_eur;
            const auto same_sign = [](bool saves, const savings_terms<eur>& changed) {
                CHECK((changed.net_saving() >= money<eur>{}) == saves);
            };
            if (const auto even = break_even_price(terms); !even.at)
                for (const double p : {0.0, 5.0, 50.0}) same_sign(even.saves_anyway, terms.at_price(p * 1_eur / 1_kg));
            if (const auto even = break_even_ready_price(terms); !even.at)
                for (const double r : {0.0, 5.0, 50.0})
                    same_sign(even.saves_anyway, terms.at_ready_price(r * 1_eur / 1_kg));
            if (const auto even = break_even_wage(terms); !even.at)
                for (const double w : {0.0, 5.0, 50.0}) same_sign(even.saves_anyway, terms.at_pay(w * 1_eur / 1_h));
            if (const auto even = break_even_yield(terms); !even.at)
                for (const double y : {0.0, 0.3, 0.6, 1.0}) same_sign(even.saves_anyway, terms.at_yield(y));
        }
    }
}

TEST_CASE("the yield that a plan has leaves its terms as they are") {
    for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
        const savings_terms<eur> terms = comparison(seed).saved().terms;
        CHECK(std::abs((terms.at_yield(terms.yield()).net_saving() - terms.net_saving()).value()) <= lost_bits(terms));
    }
}

TEST_CASE("all prices and wages ten times as high make every figure ten times as high") {
    for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
        const comparison once(seed);
        comparison tenfold = once;
        tenfold.ready.price *= 10.0;
        tenfold.made.bought.price *= 10.0;
        for (auto& [name, price] : tenfold.made.prices.portions) price.by_weight *= 10.0;
        for (auto& value : tenfold.made.prices.by_products.values) value = *value * 10.0;
        tenfold.costs.pay *= 10.0;
        tenfold.costs.packaging *= 10.0;
        tenfold.costs.freezing *= 10.0;
        tenfold.costs.knife_wear *= 10.0;
        const savings<eur> small = once.saved(), large = tenfold.saved();
        CHECK_THAT(large.terms.net_saving().value(),
                   WithinAbs(10.0 * small.terms.net_saving().value(), 20.0 * lost_bits(small.terms)));
        const auto a = break_even_price(small.terms), b = break_even_price(large.terms);
        REQUIRE(a.at.has_value() == b.at.has_value());
        if (a.at) CHECK_THAT(b.at->value(), WithinRel(10.0 * a.at->value(), 1e-12));
        const auto y = break_even_yield(small.terms), z = break_even_yield(large.terms);
        REQUIRE(y.at.has_value() == z.at.has_value());
        if (y.at) CHECK_THAT(*z.at, WithinRel(*y.at, 1e-10));
    }
}

TEST_CASE("fatter ready-cut meat makes cutting look better, never worse") {
    for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
        comparison sample(seed);
        amount<eur> before{std::numeric_limits<std::int64_t>::min()};
        for (const fraction share : {1.0, 0.9, 0.75, 0.5}) {
            sample.ready.edible_share = share;
            const amount<eur> now = sample.saved().net_saving;
            CHECK(now >= before);
            before = now;
        }
    }
}

TEST_CASE("ready-cut meat trimmed like the portions needs their own weight") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        comparison sample(seed);
        const cutting_plan& cuts = sample.made.cuts.plan;
        for (const char* name : {"steak", "fillet"}) {
            const auto own = own_portions_of(cuts, sample.basis);
            const auto kind =
                std::find_if(own.begin(), own.end(), [&](const own_portions& o) { return o.name == name; });
            if (kind->weight.count == 0) continue;
            sample.ready.replaces = {name};
            const trim_spec& trim = cuts.specs[static_cast<std::size_t>(kind - own.begin())].trim;
            sample.ready.edible_share =
                edible_share(shares_of_ready_cut({.trim = trim}, sample.made.meat, cuts, {name}), sample.basis);
            // The kerf takes part of a cell, and the cells nearest to it are counted whole: 1 mm of 20 at most.
            CHECK_THAT(sample.saved().terms.equivalent.value(), WithinRel(to_mass(kind->weight).value(), 0.05));
        }
    }
}

TEST_CASE("make_or_buy: has a net saving like the gross one only when every gram becomes the steak") {
    // A prism cut into slabs from end to end without trim: R = W, V = 0, so both figures are (r - p) W.
    const prism_loin loin{.length = 30_cm, .face = {.width = 20_cm, .depth = 7_cm}};
    const profile meat = tabulate(loin);
    const auto cuts = most_portions(meat, {{.name = "steak", .thickness = 30_mm}});
    REQUIRE(cuts.plan.portion_count() == 10);
    const purchase<eur> bought{.weight = to_mass(meat.total()), .price = 15_eur / 1_kg};
    const auto saved =
        make_or_buy<eur>({.name = "ready", .price = 24_eur / 1_kg}, cuts.plan, settle(cuts.plan, bought));
    CHECK(saved.net_saving == saved.gross_saving);
    CHECK(saved.differences.empty());
    CHECK(saved.net_saving == saved.net_saving_without_others);
    CHECK_THAT(break_even_price(saved.terms).at.value().value(), WithinRel(24.0, 1e-12));

    const auto halved = most_portions(meat, {{.name = "steak", .thickness = 160_mm}});
    const auto less =
        make_or_buy<eur>({.name = "ready", .price = 24_eur / 1_kg}, halved.plan, settle(halved.plan, bought));
    CHECK(less.net_saving < less.gross_saving);
}

} // namespace savings_laws
