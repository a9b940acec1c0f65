// How a cap is spread over its thickness, where that is known in closed form.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tape/cap_spread.hpp>

#include "loin/samples.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <numbers>

namespace cap_spread_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

// A share is interpolated to 3e-4 between the entries of the table (its own promise).
constexpr double tabulated = 3e-4;

TEST_CASE("cap_spread: over a diamond the share is a quadratic") {
    // Thickness falls in a straight line to nothing, everywhere thinner than straight up by √(1 + slope²).
    for (const double slope : {0.0, 0.2, 0.37, 1.0}) {
        const layer_spread spread = cap_spread(0.5, slope);
        const double thinner = std::sqrt(1.0 + slope * slope);
        for (std::size_t k = 0; k < spread.size(); ++k) {
            const double left = 1.0 - std::min(1.0, even_spread[k] * thinner);
            CHECK_THAT(spread[k], WithinAbs(1.0 - left * left, 2.0 * tabulated));
        }
    }
}

TEST_CASE("cap_spread: over a flat half ellipse the share is that of a circle's segment") {
    // ∫ min(u, √(1 - X²)) dX over the quarter disc: 2 (u √(1 - u²) + asin u) / π.
    const layer_spread spread = cap_spread(std::numbers::pi / 4.0, 0.0);
    for (std::size_t k = 0; k < spread.size(); ++k) {
        const double u = even_spread[k];
        CHECK_THAT(spread[k],
                   WithinAbs(2.0 / std::numbers::pi * (u * std::sqrt(1.0 - u * u) + std::asin(u)), 2.0 * tabulated));
    }
}

TEST_CASE("cap_spread: over a rectangle the cap is even, to the last bit") {
    CHECK(cap_spread(1.0, 0.3) == even_spread);
    for (std::size_t k = 0; k < even_spread.size(); ++k) // and nearly so over what is nearly one
        CHECK_THAT(cap_spread(0.999, 0.0)[k], WithinAbs(even_spread[k], 0.01));
}

TEST_CASE("cap_spread: never falls, ends at one, and holds more near the lean than an even cap") {
    for (double fill = 0.3; fill < 1.0; fill += 0.037)
        for (double slope = 0.0; slope < 1.5; slope += 0.11) {
            const layer_spread spread = cap_spread(fill, slope);
            double before = 0.0;
            for (std::size_t k = 0; k < spread.size(); ++k) {
                REQUIRE(spread[k] >= before);
                REQUIRE(spread[k] >= even_spread[k] - tabulated);
                before = spread[k];
            }
            REQUIRE(spread.back() == 1.0);
        }
}

TEST_CASE("cap_spread: a trim to half of a tape reading takes less than half of the fat") {
    // Computed for a superellipse of fill 0.80, 20 cm wide and 8 cm deep under 1 cm of fat, by quadrature: 0.38.
    const measured_loin loin{.length = 40_cm,
                             .stations = {{.at = 0_cm, .width = 20_cm, .depth = 8_cm, .fat_cover = 1_cm}}};
    const profile meat = tabulate(loin);
    CHECK_FALSE(meat.layers_are_even());
    CHECK_THAT(1.0 - meat.fat_cover_within(100, 5_mm), WithinAbs(0.388, 0.005));
    CHECK(meat.fat_cover_within(100, 10_mm) == 1.0);
    CHECK(meat.fat_cover_within(100, 5_mm) == meat.fat_cover(100).within(5_mm));
}

} // namespace cap_spread_test
