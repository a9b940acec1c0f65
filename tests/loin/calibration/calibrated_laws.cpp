// Laws of calibration: the scale is met to the microgram, whatever the model, the weight and the grid.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <random>
#include <string>
#include <vector>

#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/calibration/slice_calibrated.hpp>
#include <tranche/loin/calibration/weighed_slices.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>

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
    for (int round = 0; round < 100; ++round) {
        measured_loin loin = strip_loin();
        for (station& s : loin.stations) {
            s.width *= 0.9 + 0.2 * share(random);
            s.depth *= 0.9 + 0.2 * share(random);
        }
        const length step = (0.5 + 5.0 * share(random)) * millimetre;
        const mass modelled = tabulate(loin, step).unrounded_total();
        // The fill may lie from 0.75 to 1.25 of its 0.80; some 7 % are tail, which stays.
        const mass weight = (0.78 + 0.43 * share(random)) * modelled;
        const profile meat = calibrated_profile(loin, weight, {.step = step});
        REQUIRE(meat.total() == to_micrograms(weight));
        micrograms sum;
        for (const tissue t : all_tissues) sum += meat.total(t);
        REQUIRE(sum == meat.total());
    }
}

TEST_CASE("a refused weight never reads like the limit it is beyond") {
    std::mt19937 random(1003);
    const profile meat = tabulate(block(), 5_mm);
    const mass most_modelled = meat.unrounded_total(), tail = to_mass(meat.total(tissue::tail));
    const mass least_modelled = tail + 0.60 * (most_modelled - tail);
    for (int round = 0; round < 200; ++round) {
        const double beyond = std::pow(10.0, -8.0 + 7.0 * share(random));
        const bool light = share(random) < 0.5;
        const mass weight = light ? (1.0 - beyond) * least_modelled : (1.0 + beyond) * most_modelled;
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
    for (int round = 0; round < 24; ++round) {
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
        if (round >= 1) continue; // these take long
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
    for (int round = 0; round < 60; ++round) {
        tapered_loin loin{.length = (20.0 + 30.0 * share(random)) * centimetre,
                          .rib = {.width = 20_cm, .depth = 7_cm, .tail = 4_cm},
                          .sirloin = {.width = 18_cm, .depth = 6_cm}};
        loin.shape.fill = 0.6 + 0.4 * share(random);
        const auto filled = [&](double fill) { return tabulate(loin.with_fill(fill), 5_mm).unrounded_total(); };
        const mass least = filled(0.60), most = filled(1.0);
        REQUIRE_NOTHROW(calibrate(loin, 1.0001 * least, 5_mm));
        REQUIRE_NOTHROW(calibrate(loin, 0.9999 * most, 5_mm));
        REQUIRE_THROWS_AS(calibrate(loin, 0.9999 * least, 5_mm), invalid_input);
        REQUIRE_THROWS_AS(calibrate(loin, 1.0001 * most, 5_mm), invalid_input);
    }
}

namespace {

/// What a trim leaves in all, in micrograms.
std::int64_t kept(const profile& meat) {
    return yield_table(meat, {.fat_cover = 4_mm, .tail = 15_mm, .silverskin = false}).kept().back();
}

/// That two models say the same of what can be asked, and weigh the same but for the rounding of a factor.
template <loin_model Calibrated, loin_model Stated>
void check_same(const Calibrated& calibrated, const Stated& stated, const profile& weighed, const profile& told) {
    for (const double part : {0.0, 0.13, 0.5, 0.97, 1.0}) {
        const length at = part * stated.extent();
        const face a = calibrated.face_at(at), b = stated.face_at(at);
        REQUIRE(a.fat_cover == b.fat_cover);
        REQUIRE(a.tail == b.tail);
        REQUIRE(a.width == b.width);
        REQUIRE(a.depth == b.depth);
        REQUIRE(calibrated.painted_at(at) == stated.painted_at(at));
    }
    REQUIRE(weighed.cells() == told.cells());
    // A last bit of 10 kg is 2e-6 micrograms, so a count moves by one; closing the total may move two more.
    for (const tissue t : all_tissues)
        for (std::size_t i = 0; i <= told.cells(); ++i)
            REQUIRE(std::abs(weighed.cumulative(t)[i] - told.cumulative(t)[i]) <= 3);
    for (std::size_t i = 0; i < told.cells(); ++i) REQUIRE(weighed.fat_cover(i) == told.fat_cover(i));
    REQUIRE(std::abs(kept(weighed) - kept(told)) <= 3 * 3 * static_cast<std::int64_t>(told.cells()));
}

template <loin_model Model>
void check_fill(const Model& model, double part) {
    const mass least = tabulate(model.with_fill(0.61), 5_mm).unrounded_total();
    const mass most = tabulate(model.with_fill(0.99), 5_mm).unrounded_total();
    const mass weight = to_mass(to_micrograms(least + part * (most - least)));
    const auto calibrated = calibrate(model, weight, 5_mm);
    // Mass is in a straight line with the fill.
    REQUIRE_THAT(calibrated.fill(), WithinAbs(0.61 + part * 0.38, 1e-8));
    const Model stated = model.with_fill(calibrated.fill());
    for (const double at : {0.0, 0.4, 1.0})
        REQUIRE(calibrated.face_at(at * model.extent()).areas == stated.face_at(at * model.extent()).areas);
    check_same(calibrated, stated, tabulate(calibrated, 5_mm), tabulate(stated, 5_mm));
    // Twice is once; a factor of slices that is the same everywhere is a fill.
    REQUIRE_THAT(calibrate(calibrate(model, 0.5 * (least + most), 5_mm), weight, 5_mm).fill(),
                 WithinRel(calibrated.fill(), 1e-12));
    const double factor = 0.8 + 0.19 * part; // the block fills its box
    const Model other = model.with_fill(factor * model.fill());
    const slice_calibrated_loin<Model> by_slices{model, {factor, factor}};
    REQUIRE_THAT(tabulate(by_slices, 5_mm).unrounded_total() / tabulate(other, 5_mm).unrounded_total(),
                 WithinRel(1.0, 1.5e-9)); // either share is read to half a billionth
    const slice_calibrated_loin<Model> changing{model, {0.9, 1.1}};
    const length middle = 0.5 * model.extent();
    REQUIRE(changing.face_at(middle) == model.with_fill(changing.factor_at(middle) * model.fill()).face_at(middle));
    REQUIRE(changing.painted_at(middle) ==
            model.with_fill(changing.factor_at(middle) * model.fill()).painted_at(middle));
}

} // namespace

TEST_CASE("law: calibrating tape readings and then asking is stating the fill and then asking") {
    std::mt19937 random(1004);
    for (int round = 0; round < 3; ++round) {
        measured_loin measured = strip_loin();
        for (station& s : measured.stations) s.width *= 0.9 + 0.2 * share(random);
        check_fill(measured, share(random));
        check_fill(block(), share(random));
        check_fill(tapered_loin{.length = 41_cm,
                                .rib = {.width = 21_cm, .depth = 7_cm, .fat_cover = 9_mm, .tail = 4_cm},
                                .sirloin = {.width = 18_cm, .depth = 6_cm, .fat_cover = 4_mm}},
                   share(random));
        check_fill(typical_loin((5.0 + share(random)) * 1_kg, beef_strip_loin), share(random));
    }
}

TEST_CASE("law: calibrating traced faces and then asking is stating the density and then asking") {
    std::mt19937 random(1005);
    const traced_loin loin(
        40_cm,
        {{.at = 0_cm, .whole = superellipse({}, 20_cm, 8_cm, 2.2), .eye = superellipse(1_cm, 18_cm, 7_cm, 2.2)}});
    for (int round = 0; round < 3; ++round) {
        const double factor = 0.92 + 0.2 * share(random);
        const mass weight = to_mass(to_micrograms(factor * tabulate(loin, 5_mm).unrounded_total()));
        const auto calibrated = calibrate(loin, weight, 5_mm);
        tissue_densities stated = densities_at_4_celsius();
        for (density& d : stated.values) d *= calibrated.factor;
        check_same(calibrated, loin, tabulate(calibrated, 5_mm), tabulate(loin, 5_mm, stated));
    }
}

} // namespace calibrated_laws
