// That weighed slices correct a loin as the closed forms say, and that the reading which cannot be right is named.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <string>
#include <vector>

#include <tranche/loin/calibration/weighed_slices.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/units/literals.hpp>

#include "loin/mesh_shapes.hpp"

namespace weighed_slices_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Invented: a loin of 10 g for each millimetre.
const prism_loin prism{.length = 400_mm, .face = {.width = 16_cm, .depth = 7.5_cm}};
constexpr mass prism_weight = 4_kg;

const typical_loin strip(5.4_kg, beef_strip_loin);

/// What the strip's own slices weigh, thick as given, from 6 mm on.
std::vector<weighed_slice> own_slices(std::size_t count, length thickness) {
    const profile meat = calibrated_profile(strip, 5.4_kg);
    std::vector<weighed_slice> slices;
    for (std::size_t i = 0; i < count; ++i) {
        const length from = 6_mm + static_cast<double>(i) * thickness, to = from + thickness;
        slices.push_back(
            {.from = from, .to = to, .weight = to_mass(meat.between(meat.nearest(from), meat.nearest(to)))});
    }
    return slices;
}

} // namespace

TEST_CASE("without readings only the weight of the loin counts") {
    const auto found = calibrate_by_slices(prism, prism_weight, {});
    REQUIRE(found.factors.size() == 17);
    for (const slice_factor& f : found.factors) CHECK_THAT(f.factor, WithinAbs(1.0, 1e-15));
    CHECK(found.findings.empty());
    CHECK(tabulate(found.loin).total() == to_micrograms(prism_weight));
}

TEST_CASE("one reading on a loin of two knots is the closed form") {
    // With the weight held, factors are 1 + b and 1 - b at the ends of a prism. The prior of b has variance
    // v = s² (1 - r) / 2, r being the correlation of the ends. A slice [0, a] of a loin of length L and w by weight
    // alone reads y = w + h b + noise with h = w (1 - a / L), so b = v h (y - w) / (h² v + sd²), with variance v sd² /
    // (h² v + sd²).
    const slice_prior prior{.spread = 0.10, .reach = 0.5, .knots = 2};
    const weighed_slice slice{.from = 0_mm, .to = 100_mm, .weight = 1080_g, .standard_deviation = 30_g};
    const auto found = calibrate_by_slices(prism, prism_weight, {slice}, prior);
    const double w = 1.0, h = 0.75 * w, v = 0.01 * (1.0 - std::exp(-2.0)) / 2.0, noise = 0.030 * 0.030;
    const double b = v * h * 0.080 / (h * h * v + noise), variance = v * noise / (h * h * v + noise);
    // The weight of the loin holds to 1e-7 of itself and the table to a microgram in a cell of 5 g.
    constexpr double tolerance = 1e-7;
    CHECK_THAT(found.factors[0].factor, WithinAbs(1.0 + b, tolerance));
    CHECK_THAT(found.factors[1].factor, WithinAbs(1.0 - b, tolerance));
    CHECK_THAT(found.factors[0].standard_deviation, WithinAbs(std::sqrt(variance), tolerance));
    CHECK(found.factors[1].at == 400_mm);

    const slice_finding& f = found.findings.at(0);
    CHECK_THAT(f.by_weight_alone / kilogram, WithinAbs(1.0, tolerance));
    CHECK_THAT(f.by_the_others / kilogram, WithinAbs(1.0, tolerance)); // there are no others
    CHECK_THAT(f.fitted / kilogram, WithinAbs(1.0 + h * b, tolerance));
    CHECK_THAT(f.residual / kilogram, WithinAbs(0.080 - h * b, tolerance));
    CHECK_THAT(f.deviation, WithinAbs(0.080 / std::sqrt(h * h * v + noise), 1e-5)); // 1e-7 over 0.03
    CHECK_THAT(f.changed.at(0), WithinAbs(b, tolerance));
    CHECK_THAT(f.changed.at(1), WithinAbs(-b, tolerance));
}

TEST_CASE("the tabulated loin has the weight of the scale and the fitted weight of each slice") {
    std::vector<weighed_slice> slices = own_slices(3, 26_mm);
    slices[0].weight *= 1.05;
    slices[2].weight *= 1.02;
    const auto found = calibrate_by_slices(strip, 5.4_kg, slices);
    const profile meat = tabulate(found.loin);
    CHECK(meat.total() == to_micrograms(5.4_kg));
    for (std::size_t i = 0; i < slices.size(); ++i) {
        const mass cut = to_mass(meat.between(meat.nearest(slices[i].from), meat.nearest(slices[i].to)));
        // A cell is counted by its middle: off by (0.5 mm)² / 12 × the change of mass per length with that of the
        // factor, far below a part in 10^6; the weight of the loin holds to one in 10^7.
        CHECK_THAT(cut / found.findings[i].fitted, WithinAbs(1.0, 1e-6));
    }
}

TEST_CASE("a scan that slices correct keeps its exact volumes and weighs what the scale said") {
    // All eye: one density. Cells of 5 mm hold vertices of the mesh, every 21 mm at a bump, where Simpson's rule would err.
    const scanned_loin scan(bumpy_loin(24, 20), {.probes = {{}}});
    const double density = densities_at_4_celsius()[tissue::eye].value();
    const mass weight =
        to_mass(to_micrograms(mass::from_value(1.02 * density * scan.volume_before(scan.extent()).value())));
    const double slice = 1.02 * density * (scan.volume_before(125_mm) - scan.volume_before(100_mm)).value();
    const auto found = calibrate_by_slices(
        scan, weight, {{.from = 100_mm, .to = 125_mm, .weight = mass::from_value(1.06 * slice)}}, {}, {5_mm});
    const profile meat = tabulate(found.loin, 5_mm);
    CHECK(meat.total() == to_micrograms(weight));
    for (std::size_t i = 0; i + 1 < meat.cells(); i += 7) {
        const double cubic_metres =
            (found.loin.volume_before(meat.position(i + 1)) - found.loin.volume_before(meat.position(i))).value();
        CHECK(std::abs(to_mass(meat.between(i, i + 1)).value() - density * cubic_metres) < 2e-9); // two roundings
    }
    CHECK(found.findings[0].fitted > mass::from_value(1.01 * slice));
    CHECK(found.findings[0].fitted < mass::from_value(1.06 * slice));
}

TEST_CASE("heavy slices at the rib end make the rib end heavier and the rest lighter") {
    std::vector<weighed_slice> slices = own_slices(3, 26_mm);
    for (weighed_slice& s : slices) s.weight *= 1.08;
    const auto found = calibrate_by_slices(strip, 5.4_kg, slices);
    CHECK(found.factors.front().factor > 1.04);
    CHECK(found.factors.front().factor < 1.08);
    CHECK(found.factors.back().factor < 1.0);
    // The factor multiplies all but the tail, so a gram says as much less of it as there is tail.
    const by_tissue<area> rib = strip.face_at(50_mm).areas;
    const fraction filled = 1.0 - double(rib[tissue::tail] / rib.sum());
    CHECK(found.factors[2].standard_deviation < 0.5 / filled * found.factors[14].standard_deviation);
    for (const slice_finding& f : found.findings) {
        CHECK(f.fitted > f.by_weight_alone);
        CHECK(f.residual > mass{}); // the prior holds the fit back
    }
}

TEST_CASE("a factor that bends along the loin is recovered from its slices") {
    // The truth is invented; slices are exact, and said to be good to a gram.
    slice_calibrated_loin<prism_loin> truth{prism, std::vector<double>(65)};
    for (std::size_t k = 0; k < 65; ++k) truth.factors[k] = 1.0 + 0.06 * std::cos(0.08 * static_cast<double>(k));
    const mass weighed = tabulate(truth).unrounded_total();
    const profile meat = tabulate(truth);
    std::vector<weighed_slice> slices;
    for (int i = 0; i < 16; ++i) {
        const length from = 25.0 * i * millimetre, to = from + 25_mm;
        slices.push_back({from, to, to_mass(meat.between(meat.nearest(from), meat.nearest(to))), 1_g});
    }
    const auto found = calibrate_by_slices(prism, weighed, slices);
    for (const length& at : {10_mm, 60_mm, 110_mm, 160_mm, 210_mm, 260_mm, 310_mm, 360_mm}) {
        // Straight lines over 25 mm miss a curve by h²/8 × its second derivative, 0.06 × (0.08 / 6.25 mm)²: 0.0008; a
        // gram in 250 is 0.004, and half of that is left after its neighbours.
        CHECK_THAT(found.loin.factor_at(at) / calibrate(prism, weighed).factor /
                       (truth.factor_at(at) / (weighed / tabulate(prism).unrounded_total())),
                   WithinAbs(1.0, 0.003));
    }
}

TEST_CASE("a reading that all others contradict is named with its place") {
    std::vector<weighed_slice> slices = own_slices(5, 25_mm);
    slices[2].weight *= 1.25;
    CHECK_THROWS_WITH(calibrate_by_slices(strip, 5.4_kg, slices),
                      StartsWith("slices[2] (56 mm to 81 mm).weight: got ") &&
                          ContainsSubstring("by the other readings; it is "));
    slices[2].weight *= 0.65 / 1.25;
    CHECK_THROWS_WITH(calibrate_by_slices(strip, 5.4_kg, slices),
                      StartsWith("slices[2] (56 mm to 81 mm).weight: got "));
    // Ounces taken for hundreds of grams, say: a first reading already is held against the prior.
    CHECK_THROWS_WITH(calibrate_by_slices(strip, 5.4_kg, {{.from = 6_mm, .to = 31_mm, .weight = 3.4_oz}}),
                      StartsWith("slices[0] (6 mm to 31 mm).weight: got 96.4 g, expected about "));
    slices = own_slices(16, 25_mm); // nearly all of the loin
    slices[9].weight *= 1.2;
    CHECK_THROWS_WITH(calibrate_by_slices(strip, 5.4_kg, slices), StartsWith("slices[9] (231 mm to 256 mm).weight"));
}

TEST_CASE("the threshold decides which readings are refused") {
    std::vector<weighed_slice> slices = own_slices(5, 25_mm);
    slices[2].weight *= 1.10;
    const auto found = calibrate_by_slices(strip, 5.4_kg, slices);
    const double off = std::abs(found.findings[2].deviation);
    CHECK(off > 2.0);
    CHECK_NOTHROW(calibrate_by_slices(strip, 5.4_kg, slices, {.most_deviation = off * 1.001}));
    CHECK_THROWS_AS(calibrate_by_slices(strip, 5.4_kg, slices, {.most_deviation = off * 0.999}), invalid_input);
}

TEST_CASE("a weight of the loin that all slices contradict is named instead of a slice") {
    const std::vector<weighed_slice> slices = own_slices(15, 25_mm);
    CHECK_NOTHROW(calibrate_by_slices(strip, 5.4_kg, slices));
    CHECK_THROWS_WITH(calibrate_by_slices(strip, 5.94_kg, slices),
                      StartsWith("weight: got 5940 g, expected one that agrees with the slices; it is "));
    CHECK_THROWS_WITH(calibrate_by_slices(strip, 54_kg, slices), StartsWith("scale weight: got 54000 g"));
}

TEST_CASE("a reading that is impossible by itself is named") {
    const auto refused = [](const std::vector<weighed_slice>& slices, const std::string& start) {
        CHECK_THROWS_WITH(calibrate_by_slices(strip, 5.4_kg, slices), StartsWith(start));
    };
    const weighed_slice good{.from = 6_mm, .to = 31_mm, .weight = 345_g};
    refused({good, {.from = 31_mm, .to = 56_mm, .weight = 0_g}}, "slices[1] (31 mm to 56 mm).weight: got 0 g");
    refused({good, {.from = 31_mm, .to = 56_mm, .weight = -1.0 * gram}}, "slices[1] (31 mm to 56 mm).weight: got -1 g");
    refused({{.from = 31_mm, .to = 31_mm, .weight = 345_g}}, "slices[0] (31 mm to 31 mm).to: got 31 mm");
    refused({{.from = 56_mm, .to = 31_mm, .weight = 345_g}}, "slices[0] (56 mm to 31 mm).to: got 31 mm");
    refused({{.from = -1.0 * millimetre, .to = 24_mm, .weight = 345_g}}, "slices[0] (-1 mm to 24 mm).from: got -1 mm");
    refused({{.from = 400_mm, .to = 425_mm, .weight = 345_g}}, "slices[0] (400 mm to 425 mm).to: got 425 mm, expected "
                                                               "at most the length of the loin, 415 mm");
    refused({{.from = 6_mm, .to = 31_mm, .weight = 5.5_kg}}, "slices[0] (6 mm to 31 mm).weight: got 5500 g, expected "
                                                             "at most that of the loin, 5400 g");
    refused({{.from = 6_mm, .to = 31_mm, .weight = 345_g, .standard_deviation = 0_g}},
            "slices[0] (6 mm to 31 mm).standard_deviation: got 0 g");
    refused({{.from = 6_mm, .to = 31_mm, .weight = mass::from_value(std::nan(""))}},
            "slices[0] (6 mm to 31 mm).weight: got nan g");
}

TEST_CASE("slices that overlap are refused but a slice cut from a weighed slice is not") {
    const weighed_slice good{.from = 6_mm, .to = 56_mm, .weight = 690_g};
    CHECK_THROWS_WITH(calibrate_by_slices(strip, 5.4_kg, {good, {.from = 40_mm, .to = 66_mm, .weight = 345_g}}),
                      Equals("slices[1] (40 mm to 66 mm): got a part of it in another slice, expected a slice beside "
                             "slices[0] (6 mm to 56 mm), or one cut from it"));
    CHECK_THROWS_WITH(calibrate_by_slices(strip, 5.4_kg, {{.from = 40_mm, .to = 66_mm, .weight = 345_g}, good}),
                      StartsWith("slices[1] (6 mm to 56 mm): got a part"));
    CHECK_THROWS_WITH(calibrate_by_slices(strip, 5.4_kg, {{.from = 6_mm, .to = 31_mm, .weight = 700_g}, good}),
                      StartsWith("slices[0] (6 mm to 31 mm).weight: got 700 g, expected at most that of the slice it"));
    CHECK_NOTHROW(calibrate_by_slices(strip, 5.4_kg, {good, {.from = 6_mm, .to = 31_mm, .weight = 345_g}}));
    CHECK_NOTHROW(calibrate_by_slices(strip, 5.4_kg, {good, good}));
    CHECK_NOTHROW(calibrate_by_slices(strip, 5.4_kg, {good, {.from = 56_mm, .to = 81_mm, .weight = 342_g}}));
}

TEST_CASE("a prior that cannot be is refused by name") {
    const auto refused = [](const slice_prior& prior, const std::string& start) {
        CHECK_THROWS_WITH(calibrate_by_slices(prism, prism_weight, {}, prior), StartsWith(start));
    };
    refused({.spread = 0.0}, "prior.spread: got 0");
    refused({.spread = 8.0}, "prior.spread: got 8");
    refused({.reach = 0.0}, "prior.reach: got 0");
    refused({.knots = 1}, "prior.knots: got 1");
    refused({.knots = 1001}, "prior.knots: got 1001");
    refused({.most_deviation = std::nan("")}, "prior.most_deviation: got nan");
}

} // namespace weighed_slices_test
