// Laws of calibration: the scale is met to the microgram, whatever the model, the weight and the grid.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <random>
#include <string>
#include <vector>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/calibration/weighed_slices.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/tapered_loin.hpp>

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
        const profile meat = calibrated_profile(loin, weight, {.step = step});
        REQUIRE(meat.total() == to_micrograms(weight));
        micrograms sum;
        for (const tissue t : all_tissues) sum += meat.total(t);
        REQUIRE(sum == meat.total());
    }
}

TEST_CASE("a refused weight never reads like the limit it is beyond") {
    std::mt19937 random(1003);
    const mass modelled = tabulate(block(), 5_mm).unrounded_total();
    for (int round = 0; round < 200; ++round) {
        const double beyond = std::pow(10.0, -8.0 + 7.0 * share(random));
        const bool light = share(random) < 0.5;
        const mass weight = (light ? 0.60 * (1.0 - beyond) : 1.0 + beyond) * modelled;
        const std::string message = message_of([&] { (void)calibrate(block(), weight, 5_mm); });
        double got = 0.0, least = 0.0, most = 0.0;
        REQUIRE(std::sscanf(message.c_str(), "scale weight: got %lf g, expected %lf g to %lf g", &got, &least, &most) ==
                3);
        CAPTURE(message);
        REQUIRE((light ? got < least : got > most));
    }
}

TEST_CASE("a weighed loin weighs the same whatever step and densities it is tabulated with") {
    std::mt19937 random(1002);
    const auto any_step = [&] { return (0.5 + 5.0 * share(random)) * millimetre; };
    const auto any_densities = [&] { return all_of((950.0 + 150.0 * share(random)) * kilogram_per_cubic_metre); };
    for (int round = 0; round < 60; ++round) {
        const measured_loin loin = strip_loin();
        tissue_densities densities = any_densities();
        densities[tissue::fat_cover] *= 0.9 + 0.1 * share(random);
        const length step = any_step();
        const mass weight = (0.8 + 0.4 * share(random)) * tabulate(loin, step, densities).unrounded_total();
        const auto weighs_it = [&](const auto& model) {
            const profile meat = tabulate(model, any_step(), any_densities());
            REQUIRE(meat.total() == to_micrograms(weight));
            REQUIRE(tabulate(model).total() == to_micrograms(weight));
            micrograms sum;
            for (const tissue t : all_tissues) {
                sum += meat.total(t);
                REQUIRE(std::is_sorted(meat.cumulative(t).begin(), meat.cumulative(t).end()));
            }
            REQUIRE(sum == meat.total());
        };
        const auto by_weight = calibrate(loin, weight, step, densities);
        weighs_it(by_weight);
        if (round >= 2) continue; // these take seconds each
        weighs_it(slanted_loin(by_weight, {.about_vertical = 20.0 * share(random) * degree}));
        const std::vector<weighed_slice> slices{{.from = 10_mm,
                                                 .to = 40_mm,
                                                 .weight = 0.07 * (0.95 + 0.1 * share(random)) * weight,
                                                 .standard_deviation = 20_g}};
        weighs_it(calibrate_by_slices(loin, weight, slices, {}, {step, densities}).loin);
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
        REQUIRE_NOTHROW(calibrate(loin, 1.0001 * least * modelled, 5_mm));
        REQUIRE_NOTHROW(calibrate(loin, 0.9999 * most * modelled, 5_mm));
        REQUIRE_THROWS_AS(calibrate(loin, 0.9999 * least * modelled, 5_mm), invalid_input);
        REQUIRE_THROWS_AS(calibrate(loin, 1.0001 * most * modelled, 5_mm), invalid_input);
    }
}

} // namespace calibrated_laws
