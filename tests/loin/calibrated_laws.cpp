// Laws of calibration: the scale is met to the microgram, whatever the model, the weight and the grid.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <random>

#include <tranche/loin/calibrated.hpp>
#include <tranche/loin/measured_loin.hpp>
#include <tranche/loin/tapered_loin.hpp>

#include "loin/samples.hpp"

namespace calibrated_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {
double share(std::mt19937& random) { return static_cast<double>(random()) / 4294967295.0; }
} // namespace

TEST_CASE("a calibrated loin weighs the scale weight to the microgram") {
    std::mt19937 random(1000);
    for (int round = 0; round < 400; ++round) {
        measured_loin loin = strip_loin();
        for (station& s : loin.stations) {
            s.width *= 0.9 + 0.2 * share(random);
            s.depth *= 0.9 + 0.2 * share(random);
        }
        const length step = (0.5 + 5.0 * share(random)) * millimetre;
        const mass modelled = tabulate(loin, step).unrounded_total();
        // The factor may lie from 0.75 to 1.25 for a fill of 0.80.
        const mass weight = (0.76 + 0.48 * share(random)) * modelled;
        const profile meat = tabulate(calibrated(loin, weight, step), step);
        REQUIRE(meat.total() == to_micrograms(weight));
        micrograms sum;
        for (const tissue t : all_tissues) sum += meat.total(t);
        REQUIRE(sum == meat.total());
    }
}

TEST_CASE("a weight on the other side of a limit of the factor is refused") {
    std::mt19937 random(1001);
    for (int round = 0; round < 200; ++round) {
        tapered_loin loin{.length = (20.0 + 30.0 * share(random)) * centimetre,
                          .rib = {.width = 20_cm, .depth = 7_cm, .tail = 4_cm},
                          .sirloin = {.width = 18_cm, .depth = 6_cm}};
        loin.shape.fill = 0.6 + 0.4 * share(random);
        const mass modelled = tabulate(loin, 5_mm).unrounded_total();
        const double least = 0.60 / loin.shape.fill, most = 1.0 / loin.shape.fill;
        REQUIRE_NOTHROW(calibrated(loin, 1.0001 * least * modelled, 5_mm));
        REQUIRE_NOTHROW(calibrated(loin, 0.9999 * most * modelled, 5_mm));
        REQUIRE_THROWS_AS(calibrated(loin, 0.9999 * least * modelled, 5_mm), invalid_input);
        REQUIRE_THROWS_AS(calibrated(loin, 1.0001 * most * modelled, 5_mm), invalid_input);
    }
}

} // namespace calibrated_laws
