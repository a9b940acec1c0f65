// A scan as a loin: faces, masses, the scale, a plan.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

#include "loin/mesh_shapes.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <string>

namespace scanned_loin_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const scan_readings thin_cover{.probes = {{.at = 0_mm, .fat_cover = 8_mm, .silverskin = 1_mm}}};

/// Meat of 400 × 160 × 70 mm.
scanned_loin block(const scan_readings& readings = thin_cover) { return {box(0.400, 0.160, 0.070), readings}; }

tissue_densities all_one_density() {
    tissue_densities densities{};
    for (density& d : densities.values) d = 1000.0 * kilogram_per_cubic_metre;
    return densities;
}

} // namespace

static_assert(shaped_loin_model<scanned_loin>);
static_assert(shaped_loin_model<calibrated_loin<scanned_loin>>);
static_assert(detail::knows_volume<scanned_loin>);
static_assert(detail::knows_volume<calibrated_loin<scanned_loin>>);
static_assert(!detail::knows_volume<measured_loin>);

TEST_CASE("the face of a block is divided as its formula says") {
    const scanned_loin loin = block();
    CHECK_THAT(loin.extent().value(), WithinRel(0.4, 1e-14));
    const face f = loin.face_at(100_mm);
    // A = 160 × 70 mm², fat 160 × 8, connective 160 × 1, the rest lean; a few roundings each.
    CHECK_THAT(f.areas[tissue::fat_cover].value(), WithinRel(160e-3 * 8e-3, 1e-13));
    CHECK_THAT(f.areas[tissue::connective].value(), WithinRel(160e-3 * 1e-3, 1e-13));
    CHECK_THAT(f.areas[tissue::eye].value(), WithinRel(160e-3 * 61e-3, 1e-13));
    CHECK(f.areas[tissue::gluteus_medius] == area{});
    CHECK(f.areas[tissue::tail] == area{});
    CHECK_THAT(f.width.value(), WithinRel(0.160, 1e-14));
    CHECK_THAT(f.depth.value(), WithinRel(0.070, 1e-14));
    CHECK(f.fat_cover.thickness == 8_mm);
}

TEST_CASE("probe readings are interpolated and the second muscle grows in a straight line") {
    const scanned_loin loin = block({.probes = {{.at = 100_mm, .fat_cover = 10_mm}, {.at = 300_mm, .fat_cover = 6_mm}},
                                     .gluteus_medius = {.onset = 300_mm, .share_at_end = 0.40}});
    CHECK_THAT((loin.face_at(0_mm).fat_cover.thickness / 1_mm), WithinRel(10.0, 1e-13));
    CHECK_THAT((loin.face_at(200_mm).fat_cover.thickness / 1_mm), WithinRel(8.0, 1e-13));
    CHECK_THAT((loin.face_at(400_mm).fat_cover.thickness / 1_mm), WithinRel(6.0, 1e-13));
    CHECK(gluteus_medius_share(loin.face_at(300_mm).areas) == 0.0);
    CHECK_THAT(gluteus_medius_share(loin.face_at(350_mm).areas), WithinRel(0.20, 1e-12));
    CHECK_THAT(gluteus_medius_share(loin.face_at(400_mm).areas), WithinRel(0.40, 1e-12));
}

TEST_CASE("axes choose which end is the rib and which side is up") {
    const triangle_mesh wedge = frustum(4, 0.08, 0.04, 0.4); // thins upwards
    const scanned_loin rib_below{wedge, {.along = mesh_axis::z, .up = mesh_axis::x, .probes = {{.fat_cover = 5_mm}}}};
    const scanned_loin rib_above{wedge,
                                 {.along = mesh_axis::minus_z, .up = mesh_axis::x, .probes = {{.fat_cover = 5_mm}}}};
    const double half = detail::volume_of(wedge).value() / 2.0;
    CHECK(rib_below.volume_before(200_mm).value() > half);
    CHECK(rib_above.volume_before(200_mm).value() < half);
    CHECK_THAT((rib_below.volume_before(150_mm) + rib_above.volume_before(250_mm)).value(),
               WithinRel(2.0 * half, 1e-13));
}

TEST_CASE("tabulated, a scan weighs its volume to the microgram") {
    for (const cut_tilt& tilt :
         {cut_tilt{}, cut_tilt{.about_vertical = 20.0 * degree, .about_transverse = -15.0 * degree}}) {
        const triangle_mesh mesh = bumpy_loin(60, 80);
        const scanned_loin loin{mesh, {.tilt = tilt, .probes = {{.fat_cover = 6_mm, .silverskin = 1_mm}}}};
        // Steps of 7.3 mm, so that Simpson's rule alone would miss: it knows nothing of the vertices in a cell.
        const profile meat = tabulate(loin, 7.3_mm, all_one_density());
        const double micrograms_of_volume = detail::volume_of(mesh).value() * 1000.0 * 1e9;
        // 60 × 82 × 2 triangles, each off by a few ε of 3.5e9 µg, and the rounding itself.
        CHECK(std::abs(static_cast<double>(meat.total().count) - micrograms_of_volume) <=
              0.5 + 9840 * 4 * 2.3e-16 * 3.5e9);
        // So does each slice: two entries, each five tissues rounded to the nearest microgram, and the share of close_total.
        for (std::size_t i = 5; i <= meat.cells(); i += 5) {
            const volume between = loin.volume_before(meat.position(i)) - loin.volume_before(meat.position(i - 5));
            CHECK(std::abs(static_cast<double>(meat.between(i - 5, i).count) - between.value() * 1e12) <= 8.0);
        }
    }
}

TEST_CASE("tabulated, all tissues of a loin with flat ends are there from the first cell to the last") {
    const profile meat = tabulate(block({.tilt = {}, .probes = {{.fat_cover = 7_mm}}}), 10_mm, all_one_density());
    for (std::size_t i = 0; i < meat.cells(); ++i) {
        // 160 mm × 10 mm × 7 mm of fat at 1 µg per 1e-12 m³, to the microgram at both ends.
        CHECK(std::abs(static_cast<double>(meat.between(i, i + 1, tissue::fat_cover).count) - 11'200'000.0) <= 1.0);
        CHECK(std::abs(static_cast<double>(meat.between(i, i + 1).count) - 112'000'000.0) <= 3.0);
    }
}

namespace {
/// Knows its volume, but shows no meat on any face.
struct unseen_loin {
    [[nodiscard]] length extent() const { return 100_mm; }
    [[nodiscard]] face face_at(length /*at*/) const { return {}; }
    [[nodiscard]] volume volume_before(length at) const { return at * (1_mm * 1_mm); }
};
} // namespace

TEST_CASE("volume that no face shows is tabulated as eye") {
    const profile meat = tabulate(unseen_loin{}, 10_mm, all_one_density());
    CHECK(meat.total().count == 100'000); // 100 mm3 at 1 g/cm3, 0.1 g
    CHECK(meat.total(tissue::eye).count == 100'000);
}

TEST_CASE("a scan is brought in line with the scale to the microgram") {
    const scanned_loin loin{bumpy_loin(24, 30), {.probes = {{.fat_cover = 6_mm}}}};
    const mass modelled = tabulate(loin).unrounded_total();
    const profile meat = calibrated_profile(loin, 1.03 * modelled);
    CHECK(meat.total() == to_micrograms(1.03 * modelled));
    // A scan leaves only the density open: 0.90 to 1.15.
    CHECK_THROWS_WITH(calibrate(loin, 0.89 * modelled), StartsWith("scale weight: "));
    CHECK_THROWS_WITH(calibrate(loin, 1.16 * modelled), StartsWith("scale weight: "));
}

TEST_CASE("a scan is planned like any other loin") {
    const scanned_loin loin{bumpy_loin(60, 80), {.probes = {{.fat_cover = 6_mm}}}};
    const profile meat = tabulate(loin);
    const cut_spec steak{.name = "steak", .thickness = {20_mm, 35_mm}, .portion = {250_g, 300_g}};
    const auto planned = most_portions(meat, steak);
    REQUIRE(planned.feasible());
    // 3.5 kg of meat in portions of 250 to 300 g: at most 14, and the windows are wide enough for 11.
    CHECK(planned.plan.portion_count() >= 11);
    CHECK(planned.plan.portion_count() <= 14);
}

TEST_CASE("an oblique cut of a block grows its faces and keeps its fat") {
    // 5° 1.00382, 20° 1.06418 (computed): area 1 / cos, and the layer of fat with it, whichever way the knife is tilted.
    const double plain_area = 0.160 * 0.070, plain_fat = 0.160 * 0.008;
    for (const auto& [tilt, factor] :
         {std::pair{cut_tilt{.about_vertical = 20.0 * degree}, 1.06418},
          std::pair{cut_tilt{.about_transverse = 20.0 * degree}, 1.06418},
          std::pair{cut_tilt{.about_vertical = -5.0 * degree, .about_transverse = 20.0 * degree}, 1.00382 * 1.06418}}) {
        scan_readings readings = thin_cover;
        readings.tilt = tilt;
        const scanned_loin loin = block(readings);
        const face f = loin.face_at(0.5 * loin.extent());
        CHECK_THAT(f.areas.sum().value() / plain_area, WithinAbs(factor, 1e-5)); // five decimals published
        CHECK_THAT(f.areas[tissue::fat_cover].value() / plain_fat, WithinAbs(factor, 1e-5));
    }
}

TEST_CASE("towards a pointed end the cover takes all, and never more") {
    const scanned_loin loin{ball(0.1, 40, 20), {.probes = {{.fat_cover = 20_mm, .silverskin = 5_mm}}}};
    for (int k = 0; k <= 200; ++k) {
        const face f = loin.face_at(loin.extent() * (k / 200.0));
        for (const tissue t : all_tissues) CHECK(f.areas[t] >= area{});
    }
    const face tip = loin.face_at(0.5_mm);
    CHECK(tip.areas[tissue::fat_cover] > area{});
    CHECK(tip.areas[tissue::eye] == area{});
}

TEST_CASE("the tail is cut off straight up and down on the flank side") {
    // A wedge 160 mm wide, 70 mm deep along its left edge (y = 160 mm) and 40 mm along the right one.
    triangle_mesh wedge = box(0.400, 0.160, 0.070);
    for (mesh_point& p : wedge.vertices)
        if (p.y == 0.0 && p.z > 0.0) p.z = 0.040;
    scan_readings readings{.probes = {{.fat_cover = 8_mm, .tail = 30_mm}}};
    const face left = scanned_loin(wedge, readings).face_at(100_mm);
    readings.flank = loin_side::right;
    const face right = scanned_loin(wedge, readings).face_at(100_mm);
    // The upper side rises by 30 in 160: tails of 30 mm × (70 - 30 × 15/160) mm and × (40 + 30 × 15/160) mm.
    CHECK_THAT(left.areas[tissue::tail].value(), WithinRel(30e-3 * 67.1875e-3, 1e-12));
    CHECK_THAT(right.areas[tissue::tail].value(), WithinRel(30e-3 * 42.8125e-3, 1e-12));
    for (const face& f : {left, right}) {
        CHECK_THAT(f.areas[tissue::fat_cover].value(), WithinRel(130e-3 * 8e-3, 1e-12));
        CHECK_THAT(f.areas.sum().value(), WithinRel(160e-3 * 55e-3, 1e-12));
        CHECK_THAT(f.tail.thickness.value(), WithinRel(30e-3, 1e-12));
        CHECK_THAT(f.fat_cover.within(4_mm), WithinRel(0.5 * std::hypot(30.0, 160.0) / 160.0, 1e-12)); // on a slope
    }
    // The first half of the tail, from the eye: 15 mm × (70 - 30 × 22.5/160) mm, and × (40 + 30 × 22.5/160) mm.
    CHECK_THAT(left.tail.within(15_mm), WithinRel(15.0 * 65.78125 / (30.0 * 67.1875), 1e-12));
    CHECK_THAT(right.tail.within(15_mm), WithinRel(15.0 * 44.21875 / (30.0 * 42.8125), 1e-12));
}

TEST_CASE("readings that cannot be are refused by name") {
    const auto complaint = [](const scan_readings& readings) -> std::string {
        try {
            (void)block(readings);
        } catch (const invalid_input& e) {
            return e.field();
        }
        return "none";
    };
    CHECK(complaint(thin_cover) == "none");
    CHECK(complaint({}) == "probes");
    CHECK(complaint({.probes = {{.at = -1_mm}}}) == "probes[0].at");
    CHECK(complaint({.probes = {{.at = 401_mm}}}) == "probes[0].at");
    CHECK(complaint({.probes = {{.at = 9_mm}, {.at = 9_mm}}}) == "probes[1].at");
    CHECK(complaint({.probes = {{.fat_cover = -1_mm}}}) == "probes[0].fat_cover");
    CHECK(complaint({.probes = {{.silverskin = -1_mm}}}) == "probes[0].silverskin");
    CHECK(complaint({.probes = {{.fat_cover = 69_mm, .silverskin = 1_mm}}}) == "probes[0].fat_cover");
    CHECK(complaint({.probes = {{.tail = -1_mm}}}) == "probes[0].tail");
    CHECK(complaint({.probes = {{.tail = 160_mm}}}) == "probes[0].tail");
    CHECK(complaint({.up = mesh_axis::minus_x, .probes = {{}}}) == "up");
    CHECK(complaint({.tilt = {.about_vertical = 31.0 * degree}, .probes = {{}}}) == "tilt.about_vertical");
    CHECK(complaint({.probes = {{}}, .gluteus_medius = {.onset = 400_mm, .share_at_end = 0.1}}) ==
          "gluteus_medius.onset");
    CHECK(complaint({.probes = {{}}, .gluteus_medius = {.share_at_end = 1.1}}) == "gluteus_medius.share_at_end");
    CHECK(complaint({.probes = {{}}, .gluteus_medius = {.share_at_end = 0.1}}) == "gluteus_medius.onset");
}

TEST_CASE("a scan in the wrong unit and an open one are refused") {
    const scan_readings readings{.probes = {{}}};
    CHECK_THROWS_WITH(scanned_loin(box(0.0004, 0.00016, 0.00007), readings),
                      Equals("extent of the scan: got 0.4 mm, expected 20 mm to 2000 mm; check the unit of the file"));
    CHECK_THROWS_WITH(scanned_loin(box(400.0, 160.0, 70.0), readings), StartsWith("extent of the scan: "));
    triangle_mesh open = box(0.4, 0.16, 0.07);
    open.triangles.pop_back();
    CHECK_THROWS_WITH(scanned_loin(open, readings), StartsWith("mesh: got 3 open edges"));
}

} // namespace scanned_loin_test
