// The portion on the plate: weights before and after cooking, menu prices in all directions. Invented plates.
// SPDX-License-Identifier: BSL-1.0
#include <cstdint>
#include <limits>

#include <tranche/cost/menu/plate_cost.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace plate_cost_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const plate_cost<usd> plate{.meat = 7.2_usd, .other = 1.8_usd};
constexpr double nan_ = std::numeric_limits<double>::quiet_NaN();

} // namespace

TEST_CASE("plate_cost: turns cost, percentage and price into each other") {
    // Computed: 9.00 is 30 % of 30.00.
    CHECK_THAT(plate.menu_price(0.30).value(), WithinRel(30.0, 1e-14));
    CHECK_THAT(plate.food_cost_percentage(30_usd), WithinRel(0.30, 1e-14));
    CHECK_THAT(plate.gross_margin(30_usd).value(), WithinRel(21.0, 1e-14));
    CHECK(plate.food_cost_percentage(6_usd) == 1.5); // sold below cost
    CHECK(plate.gross_margin(6_usd).value() == -3.0);
    for (const double share : {0.05, 0.28, 0.333, 0.75, 1.0})
        CHECK_THAT(plate.food_cost_percentage(plate.menu_price(share)), WithinRel(share, 1e-14));
}

TEST_CASE("plate_cost: finds the largest portion that a menu price bears") {
    // 30 % of 32 is 9.60, less 1.80 leaves 7.80 for meat at 12 a pound: 0.65 lb.
    const auto largest = plate.largest_portion(32_usd, 0.30, 12_usd / 1_lb);
    CHECK_THAT(*largest / pound, WithinRel(0.65, 1e-14));
    const plate_cost<usd> at_limit{.meat = *largest * (12_usd / 1_lb), .other = plate.other};
    CHECK_THAT(at_limit.food_cost_percentage(32_usd), WithinRel(0.30, 1e-14));
    CHECK(plate.largest_portion(5_usd, 0.30, 12_usd / 1_lb) == mass{}); // the garnish takes it all
    CHECK_FALSE(plate.largest_portion(32_usd, 0.30, unit_price<usd>{}));
}

TEST_CASE("plate_cost: prints the lowest menu price that keeps the percentage") {
    const auto printed = [](double food, double share, std::int64_t step, std::int64_t ending) {
        return plate_cost<usd>{.meat = food * 1_usd}.menu_price(share, {{step}, {ending}});
    };
    CHECK(printed(9.0, 0.30, 1, 0) == amount<usd>{3000});  // 9 / 0.3 is a hair above 30 in binary
    CHECK(printed(9.01, 0.30, 1, 0) == amount<usd>{3004}); // 30.0333...
    CHECK(printed(9.01, 0.30, 50, 0) == amount<usd>{3050});
    CHECK(printed(9.0, 0.30, 100, 95) == amount<usd>{3095});
    CHECK(printed(8.985, 0.30, 100, 95) == amount<usd>{2995});
    CHECK(printed(0.0, 0.30, 100, 95) == amount<usd>{95});
    for (int cents = 1; cents < 3000; cents += 7) {
        const plate_cost<usd> some{.meat = static_cast<double>(cents) * 0.01_usd};
        const auto price = some.menu_price(0.31, {{25}, {}});
        CHECK(price.minor % 25 == 0);
        CHECK(some.food_cost_percentage(to_money(price)) <=
              0.31 + 1e-8); // a millionth of a cent of 25 cents is allowed
        if (price.minor > 25) CHECK(some.food_cost_percentage(to_money(price - amount<usd>{25})) > 0.31);
    }
    // Yen have no minor unit.
    CHECK(plate_cost<jpy>{.meat = 905_jpy}.menu_price(0.30, {{100}, {80}}) == amount<jpy>{3080});
}

TEST_CASE("cooked_portion: goes through the oven and back") {
    CHECK_THAT(cooked_portion(300_g, 0.78) / gram, WithinRel(234.0, 1e-14));
    // Computed: 10 oz on the plate at 78 %.
    CHECK(to_text(raw_portion(10_oz, 0.78), quarter_ounces) == "12 3/4 oz");
    CHECK_THAT(cooked_portion(raw_portion(10_oz, 0.78), 0.78) / ounce, WithinRel(10.0, 1e-14));
    CHECK(raw_portion(10_oz, 1.0) == 10_oz);
}

TEST_CASE("guests_served: counts whole guests") {
    CHECK(guests_served(35) == 35);
    CHECK(guests_served(35, 2) == 17);
    CHECK(guests_served(0, 3) == 0);
    CHECK(guests_served(2, 3) == 0);
}

TEST_CASE("plate_cost: names the field of a bad input") {
    CHECK_THROWS_WITH(plate.menu_price(0.0), StartsWith("percentage: got 0, expected a share above 0"));
    CHECK_THROWS_WITH(plate.menu_price(30.0), StartsWith("percentage: got 30")); // 30 % is 0.30
    CHECK_THROWS_WITH(plate.menu_price(nan_), StartsWith("percentage: got nan"));
    CHECK_THROWS_WITH(plate.food_cost_percentage(0_usd), StartsWith("price: got 0"));
    CHECK_THROWS_WITH(plate.gross_margin(-1_usd), StartsWith("price: got -1 USD"));
    CHECK_THROWS_WITH(plate.largest_portion(30_usd, 0.3, -1_usd / 1_kg), StartsWith("cost: got -1 USD/kg"));
    CHECK_THROWS_WITH((plate_cost<usd>{.meat = -1_usd}.food()), StartsWith("meat: got -1 USD"));
    CHECK_THROWS_WITH((plate_cost<usd>{.other = nan_ * 1_usd}.menu_price(0.3)), StartsWith("other: got nan USD"));
    CHECK_THROWS_WITH(plate.menu_price(0.3, {{0}, {}}), StartsWith("step: got 0"));
    CHECK_THROWS_WITH(plate.menu_price(0.3, {{100}, {100}}), StartsWith("ending: got 100"));
    CHECK_THROWS_WITH((plate_cost<usd>{.meat = 1e15_usd}.menu_price(0.3, {})), StartsWith("menu price"));
    CHECK_THROWS_WITH(cooked_portion(-1_g, 0.8), StartsWith("raw: got -1 g"));
    CHECK_THROWS_WITH(cooked_portion(1_g, 0.0), StartsWith("cooking_yield: got 0"));
    CHECK_THROWS_WITH(raw_portion(1_g, 1.1), StartsWith("cooking_yield: got 1.1"));
    CHECK_THROWS_WITH(raw_portion(nan_ * 1_g, 0.8), StartsWith("cooked: got nan g"));
    CHECK_THROWS_WITH(guests_served(-1), StartsWith("portions: got -1"));
    CHECK_THROWS_WITH(guests_served(1, 0), StartsWith("portions_each: got 0"));
}

} // namespace plate_cost_test
