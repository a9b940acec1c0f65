// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/savings/break_even.hpp>

#include <cfenv>
#include <limits>

#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace break_even_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// 10 kg at 10 EUR/kg, 7 kg of portions of which 6 stand for 7.2 kg ready cut at 24 EUR/kg; invented.
savings_terms<eur> by_hand() {
    return {.bought = {.weight = 10_kg, .price = 10_eur / 1_kg},
            .ready_price = 24_eur / 1_kg,
            .equivalent = 7.2_kg,
            .portions = 7_kg,
            .other_portions = 12_eur,
            .by_products = 6_eur,
            .costs_of_portions = 3.70_eur,
            .costs_of_loin = 0.80_eur,
            .time = 45_min,
            .pay = 20_eur / 1_h};
}

constexpr double a_few_ulps = 1e-14;

} // namespace

TEST_CASE("break-even values are those worked by hand") {
    const savings_terms<eur> terms = by_hand();
    // Computed: 172.8 + 12 + 6 - 100 - 15 - 3.7 - 0.8 = 71.3.
    CHECK_THAT(terms.net_saving().value(), WithinRel(71.3, a_few_ulps));
    CHECK_THAT(break_even_price(terms).at.value().value(), WithinRel(17.13, a_few_ulps)); // (71.3 + 100) / 10
    CHECK_THAT(break_even_ready_price(terms).at.value().value(),
               WithinRel(101.5 / 7.2, a_few_ulps));                                              // (172.8 - 71.3) / 7.2
    CHECK_THAT((*break_even_wage(terms).at * hour).value(), WithinRel(86.3 / 0.75, a_few_ulps)); // (71.3 + 15) / 0.75 h
    // At yield y, 10 kg hold 10 y kg of portions worth (172.8 + 12 - 3.7) / 7 = 181.1 / 7 a kilogram, and 10 (1 - y) kg of
    // the rest worth 6 / 3 = 2: (1811 / 7 - 20) y = 100 + 15 + 0.8 - 20, so y = 95.8 × 7 / 1671.
    CHECK_THAT(break_even_yield(terms).at.value(), WithinRel(670.6 / 1671.0, a_few_ulps));
}

TEST_CASE("another yield moves the portions and the rest, and nothing else") {
    const savings_terms<eur> half = by_hand().at_yield(0.35);
    CHECK_THAT(half.yield(), WithinRel(0.35, a_few_ulps));
    CHECK_THAT(half.equivalent.value(), WithinRel(3.6, a_few_ulps));
    CHECK_THAT(half.other_portions.value(), WithinRel(6.0, a_few_ulps));
    CHECK_THAT(half.costs_of_portions.value(), WithinRel(1.85, a_few_ulps));
    CHECK_THAT(half.by_products.value(), WithinRel(6.0 * 0.65 / 0.3, a_few_ulps));
    CHECK(half.costs_of_loin == by_hand().costs_of_loin);
    CHECK(half.time == by_hand().time);
    CHECK(half.bought.weight == by_hand().bought.weight);
    CHECK(by_hand().at_yield(1.0).by_products == money<eur>{});
    CHECK(by_hand().at_yield(0.0).equivalent == mass{});
    // All of it portions: what the rest would be worth is not known, so it is worth nothing.
    savings_terms<eur> all = by_hand();
    all.portions = 10_kg;
    all.by_products = {};
    CHECK(all.at_yield(0.5).by_products == money<eur>{});
}

TEST_CASE("a value that cannot break even is left out, with what happens anyway") {
    savings_terms<eur> hopeless = by_hand();
    hopeless.costs_of_loin = 1000_eur; // more than everything is worth
    CHECK_FALSE(break_even_price(hopeless).at.has_value());
    CHECK_FALSE(break_even_price(hopeless).saves_anyway);
    CHECK_FALSE(break_even_wage(hopeless).at.has_value());
    CHECK_FALSE(break_even_wage(hopeless).saves_anyway);
    CHECK_FALSE(break_even_yield(hopeless).at.has_value());
    CHECK_FALSE(break_even_yield(hopeless).saves_anyway);

    savings_terms<eur> sure = by_hand();
    sure.by_products = 500_eur; // the by-products alone are worth more than all the costs
    CHECK_FALSE(break_even_ready_price(sure).at.has_value());
    CHECK(break_even_ready_price(sure).saves_anyway);
    CHECK_FALSE(break_even_yield(sure).at.has_value()); // 181.1 / 7 × 10 > 115.8 at yield 1, and more at lower ones
    CHECK(break_even_yield(sure).saves_anyway);

    savings_terms<eur> unpaid = by_hand();
    unpaid.time = {};
    CHECK_FALSE(break_even_wage(unpaid).at.has_value());
    CHECK(break_even_wage(unpaid).saves_anyway);
    unpaid.costs_of_loin = 1000_eur;
    CHECK_FALSE(break_even_wage(unpaid).saves_anyway);

    savings_terms<eur> nothing = by_hand();
    nothing.equivalent = {};
    CHECK_FALSE(break_even_ready_price(nothing).at.has_value());
    CHECK_FALSE(break_even_ready_price(nothing).saves_anyway);

    savings_terms<eur> no_portions = nothing;
    no_portions.portions = {};
    CHECK_FALSE(break_even_yield(no_portions).at.has_value());
    CHECK_THROWS_WITH(no_portions.at_yield(0.5), StartsWith("portions: got 0 g"));

    // A pound of portions worth exactly what a pound of the rest is: the yield plays no part.
    savings_terms<eur> same = by_hand();
    same.by_products = 3.0 / 7.0 * (same.ready_price * same.equivalent + same.other_portions - same.costs_of_portions);
    const auto even = break_even_yield(same);
    CHECK((!even.at.has_value() || *even.at >= 0.0)); // the last bits decide whether a slope is left
    same = {.bought = {.weight = 10_kg, .price = 10_eur / 1_kg}, .portions = 5_kg};
    CHECK_FALSE(break_even_yield(same).at.has_value());
    CHECK_FALSE(break_even_yield(same).saves_anyway);
}

TEST_CASE("a yield that plays no part is not divided by") {
    const savings_terms<eur> same{.bought = {.weight = 10_kg, .price = 10_eur / 1_kg}, .portions = 5_kg};
    std::feclearexcept(FE_ALL_EXCEPT);
    CHECK_FALSE(break_even_yield(same).at.has_value());
    CHECK_FALSE(std::fetestexcept(FE_DIVBYZERO | FE_INVALID));
}

TEST_CASE("a saving that is zero breaks even where it is") {
    savings_terms<usd> terms{.bought = {.weight = 2_kg, .price = 12_usd / 1_kg},
                             .ready_price = 24_usd / 1_kg,
                             .equivalent = 1_kg,
                             .portions = 1_kg,
                             .time = 1_h};
    CHECK(terms.net_saving() == money<usd>{});
    CHECK(break_even_price(terms).at == terms.bought.price);
    CHECK(break_even_ready_price(terms).at == terms.ready_price);
    CHECK(break_even_wage(terms).at == wage<usd>{}); // not a cent is left for the work
    CHECK(break_even_yield(terms).at == 0.5);
}

TEST_CASE("terms that are none are refused by name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto refused = [](auto change) {
        savings_terms<eur> terms = by_hand();
        change(terms);
        return terms;
    };
    CHECK_THROWS_WITH(break_even_price(refused([](auto& t) { t.bought.weight = 0_kg; })),
                      StartsWith("purchase.weight"));
    CHECK_THROWS_WITH(break_even_price(refused([&](auto& t) { t.bought.price = nan * 1_eur / 1_kg; })),
                      StartsWith("purchase.price: got nan"));
    CHECK_THROWS_WITH(break_even_wage(refused([](auto& t) { t.ready_price = -1_eur / 1_kg; })),
                      StartsWith("ready_price: got -1 EUR/kg"));
    CHECK_THROWS_WITH(break_even_wage(refused([&](auto& t) { t.by_products = nan * 1_eur; })),
                      StartsWith("worth: got nan"));
    CHECK_THROWS_WITH(break_even_yield(refused([](auto& t) { t.portions = 10.1_kg; })),
                      StartsWith("portions: got 10100 g, expected at most the weight bought, 10000 g"));
    CHECK_THROWS_WITH(break_even_yield(refused([](auto& t) { t.equivalent = -1_kg; })), StartsWith("equivalent"));
    CHECK_THROWS_WITH(break_even_ready_price(refused([](auto& t) { t.pay = -1_eur / 1_h; })),
                      StartsWith("pay: got -1 EUR/h"));
    CHECK_THROWS_WITH(break_even_ready_price(refused([](auto& t) { t.time = -1_min; })), StartsWith("time (h)"));
    CHECK_THROWS_WITH(by_hand().at_yield(1.01), StartsWith("yield: got 1.01"));
    CHECK_THROWS_WITH(by_hand().at_yield(nan), StartsWith("yield: got nan"));
}

} // namespace break_even_test
