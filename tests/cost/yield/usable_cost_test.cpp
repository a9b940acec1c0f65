// Portions, quantities and prices from the cost of usable meat.
// SPDX-License-Identifier: BSL-1.0
#include <cstdint>
#include <limits>

#include <tranche/cost/yield/usable_cost.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace usable_cost_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Dittmer and Keefe, 9th edition, chapter 6, rib of beef: 38 lb 12 oz at 3.19 USD/lb, 22 lb usable (read in the source)
// with a primary value of 113.435 USD before rounding (computed).
const usable_cost<usd> rib{3.19_usd / 1_lb, 38_lb + 12_oz, 22_lb, 113.435_usd};
const usable_cost<usd> nothing_usable{3.19_usd / 1_lb, 10_lb, mass{}, 31.9_usd};
const usable_cost<usd> gift{unit_price<usd>{}, 10_lb, 8_lb, money<usd>{}};

} // namespace

TEST_CASE("usable_cost: gives the textbook's figures for portions of a rib of beef") {
    CHECK(to_text(rib.portion_cost(10_oz)->value(), 5) == "3.22259"); // computed
    // Computed: 1.616344 × 10/16 lb.
    CHECK(to_text(*rib.portion_factor(10_oz) / pound, 4) == "1.0102");
    CHECK_THAT((*rib.portion_factor(10_oz) * rib.price).value(), WithinRel(rib.portion_cost(10_oz)->value(), 1e-14));
    CHECK(rib.portions_from(38_lb + 12_oz, 10_oz) == 35); // 22 lb are 35.2 portions
    CHECK(rib.portions_from(mass{}, 10_oz) == 0);
}

TEST_CASE("usable_cost: moves with the market by the cost factor") {
    // New price × cost factor; at 3.49 USD/lb computed: 3.49 × 113.435 / 22 / 3.19.
    CHECK(to_text(*rib.per_weight_at(3.49_usd / 1_lb), price_basis::per_pound, 4) == "5.641039 USD/lb");
    CHECK_THAT(rib.per_weight_at(rib.price)->value(), WithinRel(rib.per_weight()->value(), 1e-14));
    CHECK(rib.per_weight_at(unit_price<usd>{})->value() == 0.0);
}

TEST_CASE("usable_cost: buys what it takes for a number of portions, and no portion less") {
    for (std::int64_t n = 0; n <= 400; ++n) {
        const mass quantity = *rib.quantity_for(n, 7_oz);
        CHECK(rib.portions_from(quantity, 7_oz) == n);
        if (n > 0) CHECK(rib.portions_from(quantity - 1_g, 7_oz) == n - 1);
    }
}

TEST_CASE("usable_cost: has no answer where nothing is usable or nothing was paid") {
    CHECK(nothing_usable.yield() == 0.0);
    CHECK_FALSE(nothing_usable.per_weight());
    CHECK_FALSE(nothing_usable.factor());
    CHECK_FALSE(nothing_usable.portion_cost(1_oz));
    CHECK_FALSE(nothing_usable.portion_factor(1_oz));
    CHECK_FALSE(nothing_usable.per_weight_at(1_usd / 1_lb));
    CHECK_FALSE(nothing_usable.quantity_for(1, 1_oz));
    CHECK(nothing_usable.quantity_for(0, 1_oz) == mass{});
    CHECK(nothing_usable.portions_from(10_lb, 1_oz) == 0);
    CHECK(gift.portion_cost(1_oz)->value() == 0.0);
    CHECK_FALSE(gift.factor());
    CHECK_FALSE(gift.portion_factor(1_oz));
}

TEST_CASE("usable_cost: names the field of a bad question") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(rib.portion_cost(0_oz), StartsWith("portion: got 0 g"));
    CHECK_THROWS_WITH(rib.portion_factor(-1_oz), StartsWith("portion: got -28.3 g"));
    CHECK_THROWS_WITH(rib.portions_from(-1_lb, 1_oz), StartsWith("quantity: got -453.6 g"));
    CHECK_THROWS_WITH(rib.portions_from(1_lb, nan * 1_oz), StartsWith("portion: got nan g"));
    CHECK_THROWS_WITH(rib.portions_from(1_lb, 1e-30_kg),
                      StartsWith("portion") && ContainsSubstring("fewer than 9e15 portions"));
    CHECK_THROWS_WITH(rib.quantity_for(-1, 1_oz), StartsWith("portions: got -1"));
    CHECK_THROWS_WITH(rib.quantity_for(1, 0_oz), StartsWith("portion: got 0 g"));
    CHECK_THROWS_WITH(rib.per_weight_at(nan * 1_usd / 1_lb), StartsWith("price: got nan USD/kg"));
}

TEST_CASE("usable_cost: names its own field that cannot be") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto with = [](auto change) {
        usable_cost<usd> costs = rib;
        change(costs);
        return costs;
    };
    CHECK_THROWS_WITH(with([](auto& c) { c.bought = mass{}; }).yield(), StartsWith("bought: got 0 g"));
    CHECK_THROWS_WITH(with([](auto& c) { c.usable = -1_lb; }).per_weight(), StartsWith("usable: got -453.6 g"));
    CHECK_THROWS_WITH(with([&](auto& c) { c.usable = nan * 1_lb; }).portion_cost(1_oz), StartsWith("usable: got nan"));
    CHECK_THROWS_WITH(with([](auto& c) { c.usable = 40_lb; }).quantity_for(0, 1_oz),
                      StartsWith("usable: got 18143.7 g, expected no more than what was bought, 17576.7 g"));
    CHECK_NOTHROW(with([](auto& c) {
                      c.usable = c.bought + 1_oz;
                      c.scale_tolerance = 1_oz;
                  }).yield());
    CHECK_THROWS_WITH(with([&](auto& c) { c.scale_tolerance = nan * 1_oz; }).yield(),
                      StartsWith("scale_tolerance: got nan"));
    CHECK_THROWS_WITH(with([&](auto& c) { c.primary_value = nan * 1_usd; }).portion_factor(1_oz),
                      StartsWith("primary_value: got nan USD"));
    CHECK_THROWS_WITH(with([](auto& c) { c.price = -1_usd / 1_kg; }).factor(), StartsWith("price: got -1 USD/kg"));
    CHECK_THROWS_WITH(with([](auto& c) { c.bought = -1_lb; }).portions_from(1_lb, 1_oz), StartsWith("bought: got -"));
    CHECK_NOTHROW(with([](auto& c) { c.primary_value = -1_usd; }).per_weight());
}

} // namespace usable_cost_test
