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

// A share is interpolated to 0.001 between the entries of the table (its own promise).
constexpr double tabulated = 0.001;

TEST_CASE("cap_spread: over a parabola the share is a closed integral") {
    // y = 1 - X² fills two thirds. Within a depth u of the lean lies what is lower than u √(1 + 4 slope² X²): from the middle
    // to where the two meet, which is a quadratic in X², that root, and from there y.
    for (const double slope : {0.0, 0.05, 0.2, 0.37, 1.0}) {
        const layer_spread spread = cap_spread(2.0 / 3.0, slope);
        for (std::size_t k = 0; k < spread.size(); ++k) {
            const double u = even_spread[k], b = 1.0 + 2.0 * slope * slope * u * u;
            const double meet = std::sqrt(std::max(0.0, b - std::sqrt(b * b - 1.0 + u * u))), z = 2.0 * slope * meet;
            const double root =
                0.5 * meet * std::sqrt(1.0 + z * z) + (z > 0.0 ? std::asinh(z) * meet / (2.0 * z) : 0.5 * meet);
            const double rest = 2.0 / 3.0 - meet + meet * meet * meet / 3.0;
            CAPTURE(slope, k);
            CHECK_THAT(spread[k], WithinAbs(1.5 * (u * root + rest), tabulated));
        }
    }
}

TEST_CASE("cap_spread: over a flat half ellipse the share is that of a circle's segment") {
    // ∫ min(u, √(1 - X²)) dX over the quarter disc: 2 (u √(1 - u²) + asin u) / π.
    const layer_spread spread = cap_spread(std::numbers::pi / 4.0, 0.0);
    for (std::size_t k = 0; k < spread.size(); ++k) {
        const double u = even_spread[k];
        CHECK_THAT(spread[k],
                   WithinAbs(2.0 / std::numbers::pi * (u * std::sqrt(1.0 - u * u) + std::asin(u)), tabulated));
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
    // Computed for a face of fill 0.80, 20 cm wide and 8 cm deep under 1 cm of fat, with tips at 0.55 and 0.20 of the depth, by
    // quadrature: 0.3894 and 0.3682 of the fat towards either end.
    const measured_loin loin{.length = 40_cm,
                             .stations = {{.at = 0_cm, .width = 20_cm, .depth = 8_cm, .fat_cover = 1_cm}}};
    const profile meat = tabulate(loin);
    CHECK_FALSE(meat.layers_are_even());
    CHECK_THAT(1.0 - meat.fat_cover_within(100, 5_mm), WithinAbs(0.5 * (0.3894 + 0.3682), tabulated));
    CHECK(meat.fat_cover_within(100, 10_mm) == 1.0);
    CHECK(meat.fat_cover_within(100, 5_mm) == meat.fat_cover(100).within(5_mm));
}

} // namespace cap_spread_test
