// That a corrected loin is its model times a factor in straight lines between even places.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include <boost/math/quadrature/gauss.hpp>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/calibration/slice_calibrated.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/literals.hpp>

#include "loin/mesh_shapes.hpp"

namespace corrected_loin_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Invented.
const prism_loin prism{.length = 400_mm, .face = {.width = 16_cm, .depth = 7_cm, .fat_cover = 1_cm, .tail = 3_cm}};

} // namespace

static_assert(loin_model<slice_calibrated_loin<prism_loin>>);
static_assert(shaped_loin_model<slice_calibrated_loin<measured_loin>>);
static_assert(shaped_loin_model<slice_calibrated_loin<calibrated_loin<measured_loin>>>);

struct areas_only { // a loin model, but without outlines
    [[nodiscard]] length extent() const { return 1_m; }
    [[nodiscard]] face face_at(length) const { return {}; }
};
static_assert(loin_model<slice_calibrated_loin<areas_only>> && !shaped_loin_model<slice_calibrated_loin<areas_only>>);

TEST_CASE("a factor runs in straight lines between the places it is given for") {
    const slice_calibrated_loin<prism_loin> loin{prism, {1.0, 1.2, 0.8}};
    CHECK(loin.factor_at(0_mm) == 1.0);
    CHECK_THAT(loin.factor_at(100_mm), WithinRel(1.1, 1e-15)); // a few roundings
    CHECK_THAT(loin.factor_at(200_mm), WithinRel(1.2, 1e-15));
    CHECK_THAT(loin.factor_at(350_mm), WithinRel(0.9, 1e-15));
    CHECK(loin.factor_at(400_mm) == 0.8);
    CHECK(slice_calibrated_loin<prism_loin>{prism, {1.05}}.factor_at(123_mm) == 1.05);
}

TEST_CASE("a corrected face of tape readings has areas in proportion but for the tail") {
    const slice_calibrated_loin<prism_loin> loin{prism, {1.0, 1.2, 0.8}};
    const face plain = prism.face_at(100_mm), corrected = loin.face_at(100_mm);
    for (const tissue t : all_tissues)
        if (plain.areas[t] > area{})
            CHECK_THAT(corrected.areas[t] / plain.areas[t], WithinRel(t == tissue::tail ? 1.0 : 1.1, 1e-15));
    CHECK(corrected.fat_cover.thickness == plain.fat_cover.thickness);
    CHECK(corrected.tail.thickness == plain.tail.thickness);
    CHECK(loin.extent() == prism.extent());
    // The mean of the factor, (1.0 + 2 x 1.2 + 0.8) / 4. Straight lines with kinks on the grid: no error of the rule.
    const profile as_is = tabulate(prism);
    const mass tail = to_mass(as_is.total(tissue::tail)); // to half a microgram of 0.3 kg
    CHECK_THAT((tabulate(loin).unrounded_total() - tail) / (as_is.unrounded_total() - tail), WithinRel(1.05, 1e-8));
}

TEST_CASE("the outlines of a corrected loin from a tape are as large as its faces") {
    const measured_loin taped{.length = 400_mm, .stations = {{.width = 18_cm, .depth = 7_cm, .tail = 2_cm}}};
    const slice_calibrated_loin<measured_loin> loin{taped, {1.0, 1.1, 0.9}};
    for (const length& at : {0_mm, 100_mm, 200_mm, 390_mm}) {
        const painted_face painted = loin.painted_at(at);
        REQUIRE(painted.size() == 2);
        // A polygon of 96 corners misses less than 1 part in 500; the tail runs along it and misses nothing.
        for (const painted_outline& p : painted)
            CHECK_THAT(area_of(p.curve) / loin.face_at(at).areas[p.fill], WithinAbs(0.999, 0.001 + 1e-9));
    }
    // A calibrated model has the fill of its own, and that is corrected.
    const slice_calibrated_loin<calibrated_loin<measured_loin>> twice{calibrate(taped, 4.5_kg), {0.9}};
    const measured_loin stated = taped.with_fill(0.9 * twice.model.fill());
    CHECK(twice.painted_at(0_mm) == stated.painted_at(0_mm));
    CHECK(twice.face_at(0_mm) == stated.face_at(0_mm));
}

TEST_CASE("the volume of a corrected scan is the integral of its factor and its sections") {
    // Boost.Math's Gauss-Legendre rule of 7 points on each stretch between vertices and places of factors, where factor ×
    // area is a cubic: exact but for rounding.
    const triangle_mesh mesh = detail::snapped(bumpy_loin(24, 20)); // as the model reads it
    const scan_readings readings{.tilt = {.about_vertical = 12.0 * degree}, .probes = {{.fat_cover = 8_mm}}};
    const scanned_loin scan(mesh, readings);
    const std::vector<double> factors{1.08, 0.95, 1.10, 0.91, 1.02, 1.0};
    const slice_calibrated_loin<calibrated_loin<scanned_loin>> loin{{scan, 1.01}, factors};
    const cumulative_volume volumes(mesh, detail::frame_of(mesh_axis::x, mesh_axis::z, readings.tilt).along);
    const double extent = loin.extent().value();
    std::vector<double> stops = volumes.breakpoints();
    for (std::size_t k = 1; k + 1 < factors.size(); ++k) stops.push_back(extent * static_cast<double>(k) / 5.0);
    std::sort(stops.begin(), stops.end());
    const double whole = scan.volume_before(scan.extent()).value();
    for (const double part : {0.01, 0.2, 0.37, 0.6, 0.93, 1.0}) {
        double expected = 0.0;
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            const double from = stops[i], to = std::min(stops[i + 1], part * extent);
            if (!(from < to)) continue;
            expected += boost::math::quadrature::gauss<double, 7>::integrate(
                [&](double x) {
                    return 1.01 * loin.factor_at(length::from_value(x)) *
                           volumes.area_at(length::from_value(x)).value();
                },
                from, to);
        }
        CAPTURE(part);
        // Some hundred terms of a few roundings each.
        CHECK_THAT(loin.volume_before(part * loin.extent()).value(), WithinAbs(expected, 1e-13 * whole));
    }
    // So a table on a coarse grid, whose cells hold several vertices, weighs the volume.
    const profile meat = tabulate(
        loin, 5_mm,
        {{1000.0 * kilogram_per_cubic_metre, 1000.0 * kilogram_per_cubic_metre, 1000.0 * kilogram_per_cubic_metre,
          1000.0 * kilogram_per_cubic_metre, 1000.0 * kilogram_per_cubic_metre}});
    CHECK_THAT(meat.unrounded_total().value(), WithinRel(1000.0 * loin.volume_before(loin.extent()).value(), 1e-12));
}

TEST_CASE("a corrected scan with one factor or with equal ones has its volume times the factor") {
    const scanned_loin scan(bumpy_loin(12, 10), {.probes = {{}}});
    for (const length& at : {0_mm, 3_mm, 170_mm, 420_mm, 500_mm})
        for (const std::vector<double>& factors : {std::vector<double>{1.07}, {1.07, 1.07, 1.07}})
            CHECK_THAT((slice_calibrated_loin<scanned_loin>{scan, factors}.volume_before(at).value()),
                       WithinAbs(1.07 * scan.volume_before(at).value(), 1e-16)); // of 4e-3 m3
    static_assert(!detail::knows_volume<slice_calibrated_loin<prism_loin>>);
}

TEST_CASE("a corrected loin without a positive factor is refused") {
    CHECK_THROWS_WITH(tabulate(slice_calibrated_loin<prism_loin>{prism, {}}), StartsWith("factors: got none"));
    CHECK_THROWS_WITH(tabulate(slice_calibrated_loin<prism_loin>{prism, {1.0, 0.0}}), StartsWith("factors[1]: got 0"));
    CHECK_THROWS_AS(tabulate(slice_calibrated_loin<prism_loin>{prism, {std::nan("")}}), invalid_input);
    CHECK_THROWS_WITH(tabulate(slice_calibrated_loin<prism_loin>{{}, {1.0}}), StartsWith("length: got 0 mm"));
}

} // namespace corrected_loin_test
