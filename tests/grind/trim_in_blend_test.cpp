// What to buy for own trim, and what it is worth in grind. Figures computed by hand from invented prices.
// SPDX-License-Identifier: BSL-1.0
#include <limits>
#include <vector>

#include <tranche/grind/trim_in_blend.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace trim_in_blend_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

grind_source<eur> source(const char* name, double fat, double eur_per_kilogram, quantity_range<mass> supply = {}) {
    return {name, fat, eur_per_kilogram * 1_eur / 1_kg, supply};
}

const grind_source<eur> trim = source("own trim", 0.40, 1.0, {0_kg, 3_kg});

} // namespace

TEST_CASE("cheapest_addition: buys the offer that takes fat away for the least") {
    // 3 kg at 40 % to 20 %: 0.6 kg of fat over. Lean at 5 % for 6: 40 a kilogram of fat; at 12 % for 4: 50; so 4 kg of the
    // leaner one.
    const std::vector<grind_source<eur>> offers{source("lean", 0.12, 4), source("leaner", 0.05, 6)};
    const auto b = cheapest_addition(trim, offers, fat_at_most(0.20), us_ground_beef_limit());
    REQUIRE(b.made());
    CHECK(b.lines[0].weight == to_micrograms(3_kg));
    CHECK(b.lines[1].weight.count == 0);
    CHECK(b.lines[2].weight == to_micrograms(4_kg));
    CHECK(b.batch == to_micrograms(7_kg));
    CHECK(b.lines[2].cost == amount<eur>{2400});
    CHECK(b.cost == amount<eur>{2700}); // with the trim at what it would bring elsewhere
    CHECK_THAT(b.fat, WithinAbs(0.20, 1e-15));
    CHECK_THAT(b.shadow_price_of_fat.value(), WithinRel(40.0, 1e-12));
    CHECK_THAT(b.worth_of(trim.fat).value(), WithinRel(-8.0, 1e-12)); // a kilogram more takes 4/3 kg more of lean
    // 7 kg at 9 less 24 paid leave 39 for 3 kg of trim.
    CHECK_THAT(worth_when_sold(b, 0, 9_eur / 1_kg)->value(), WithinRel(13.0, 1e-12));
}

TEST_CASE("cheapest_addition: goes on to the next offer when one runs out") {
    const std::vector<grind_source<eur>> offers{source("lean", 0.12, 4), source("leaner", 0.05, 6, {0_kg, 2_kg})};
    const auto b = cheapest_addition(trim, offers, fat_at_most(0.20), us_ground_beef_limit());
    REQUIRE(b.made());
    CHECK(b.lines[2].weight == to_micrograms(2_kg));
    CHECK(b.lines[1].weight == to_micrograms(0.3_kg / 0.08));
    CHECK_THAT(b.shadow_price_of_fat.value(), WithinRel(50.0, 1e-12));
}

TEST_CASE("cheapest_addition: buys nothing for trim that is right, and fat for trim that is too lean") {
    const std::vector<grind_source<eur>> offers{source("lean", 0.05, 6), source("back fat", 0.65, 1)};
    const auto right =
        cheapest_addition(source("trim", 0.18, 1, {0_kg, 2_kg}), offers, {0.15, 0.20}, us_ground_beef_limit());
    REQUIRE(right.made());
    CHECK(right.batch == to_micrograms(2_kg));
    CHECK(right.shadow_price_of_fat.value() == 0.0);
    const auto lean =
        cheapest_addition(source("trim", 0.10, 1, {0_kg, 2_kg}), offers, {0.15, 0.20}, us_ground_beef_limit());
    REQUIRE(lean.made());
    CHECK(lean.lines[2].weight == to_micrograms(0.2_kg)); // 0.1 kg of fat missing, 50 points a kilogram
    CHECK_THAT(lean.shadow_price_of_fat.value(), WithinRel(-2.0, 1e-12));
}

TEST_CASE("cheapest_addition: says what would do where the offers do not") {
    const auto b = cheapest_addition(trim, {source("lean", 0.10, 5, {0_kg, 4_kg}), source("fat", 0.50, 1)},
                                     fat_at_most(0.20), us_ground_beef_limit());
    CHECK(b.outcome == blend_outcome::too_fat);
    CHECK_THAT(*b.leanest, WithinAbs(1.6 / 7.0, 1e-12));
    REQUIRE(b.remedies.size() == 1);
    CHECK(b.remedies[0].source == 1);
    CHECK(b.remedies[0].more == to_micrograms(2_kg));
    CHECK(b.why_not().back() == "2000 g more of lean would do.");
    CHECK(
        cheapest_addition(source("trim", 0.4, 1, {0_kg, 0_kg}), {}, fat_at_most(0.2), us_ground_beef_limit()).outcome ==
        blend_outcome::too_little);
    CHECK(cheapest_addition(trim, {}, fat_of_exactly(0.35), us_ground_beef_limit()).outcome ==
          blend_outcome::over_the_limit);
}

TEST_CASE("cheapest_addition: names the field of a bad input") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(cheapest_addition(source("trim", 0.4, 1), {}, fat_at_most(0.2), us_ground_beef_limit()),
                      StartsWith("trim: supply.max: got no upper end"));
    CHECK_THROWS_WITH(cheapest_addition(trim, {source("lean", 0.1, -1)}, fat_at_most(0.2), us_ground_beef_limit()),
                      StartsWith("lean: price: got -1"));
    const auto b = cheapest_addition(trim, {source("lean", 0.1, 1)}, fat_at_most(0.2), us_ground_beef_limit());
    CHECK_THROWS_WITH(worth_when_sold(b, 2, 9_eur / 1_kg), StartsWith("source: got 2"));
    CHECK_THROWS_WITH(worth_when_sold(b, 0, nan * 9_eur / 1_kg), StartsWith("price_of_grind: got nan"));
    CHECK_THROWS_WITH(worth_in_batch(trim, {source("lean", 0.1, 1)}, {}, us_ground_beef_limit()),
                      StartsWith("batch: got none"));
}

TEST_CASE("worth_in_batch: gives the saving by weight of trim, and less for more of it") {
    // 10 kg at 20 % of lean at 10 % for 8 and ready 20 % for 7. Without trim: 70. 3 kg at 40 % take the place of fat: with x
    // of lean, 0.1 x + 1.2 + 0.2 (7 - x) = 2: x = 6, so 48 + 7.
    const std::vector<grind_source<eur>> offers{source("lean", 0.10, 8), source("ready", 0.20, 7)};
    const auto worth = worth_in_batch(trim, offers, {.batch = 10_kg, .fat = fat_at_most(0.20)}, us_ground_beef_limit());
    REQUIRE(worth.average.has_value());
    CHECK(worth.without.cost == amount<eur>{7000});
    CHECK(worth.with.cost == amount<eur>{5500});
    CHECK_THAT(worth.average->value(), WithinRel(5.0, 1e-9)); // whole micrograms
    // A kilogram more goes with 2 kg of lean in the place of 3 kg of ready meat: 21 - 16.
    CHECK_THAT(worth.marginal->value(), WithinRel(5.0, 1e-12));
    const auto much = worth_in_batch(source("own trim", 0.40, 9, {0_kg, 30_kg}), offers,
                                     {.batch = 10_kg, .fat = fat_at_most(0.20)}, us_ground_beef_limit());
    CHECK_THAT(to_mass(much.with.lines[0].weight).value(), WithinAbs(10.0 / 3.0, 1e-8));
    CHECK(std::abs(much.marginal->value()) < 1e-12); // more of it than can be used is worth nothing
    CHECK(much.average->value() > 0.0);
    const auto alone = worth_in_batch(trim, {source("lean", 0.10, 8, {0_kg, 8_kg})},
                                      {.batch = 10_kg, .fat = fat_at_most(0.20)}, us_ground_beef_limit());
    CHECK(alone.with.made());
    CHECK_FALSE(alone.average.has_value()); // without the trim there would be no batch to compare with
}

} // namespace trim_in_blend_test
