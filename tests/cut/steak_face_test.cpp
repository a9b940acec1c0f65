// SPDX-License-Identifier: BSL-1.0
#include <tranche/cut/steak_face.hpp>
#include <tranche/units/literals.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "support/catch.hpp"

namespace steak_face_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

mass weight_of(const face& f, length thickness, const tissue_densities& densities = densities_at_4_celsius()) {
    mass sum{};
    for (const tissue t : all_tissues) sum += f.areas[t] * thickness * densities[t];
    return sum;
}

/// Share of a steak's weight that is separable fat: the cover, and half of the tail (`densities_at_4_celsius`).
fraction separable_fat(const face& f) {
    const tissue_densities densities = densities_at_4_celsius();
    const mass fat = (f.areas[tissue::fat_cover] * densities[tissue::fat_cover] +
                      0.5 * f.areas[tissue::tail] * densities[tissue::tail]) *
                     metre;
    return fat / weight_of(f, metre);
}

} // namespace

TEST_CASE("a steak without cover or tail is one lean superellipse of the weight over the thickness") {
    // Closed form: area = m / (t rho); with a depth of r times the width w, f r w^2 is that area.
    const steak_shape shape{.depth_to_width = 0.5, .filled = {.fill = 0.8}};
    const face f = steak_face(340.2_g, {.thickness = 31.8_mm}, shape);
    const area all = 340.2_g / (31.8_mm * densities_at_4_celsius()[tissue::eye]);
    CHECK_THAT(f.areas[tissue::eye].value(), WithinRel(all.value(), 1e-14)); // a dozen roundings
    CHECK_THAT(f.width.value(), WithinRel(std::sqrt(all.value() / 0.4), 1e-14));
    CHECK_THAT(f.depth.value(), WithinRel(0.5 * f.width.value(), 1e-14));
    // Steele et al. 2020, Transl. Anim. Sci. 4:txaa107: portions of 340.2 g and 31.8 mm. With lean of 1.06 g/cm3 they have
    // a face of 100.9 cm2 (computed).
    tissue_densities lean = densities_at_4_celsius();
    lean[tissue::eye] = 1060_kg_per_m3;
    const face theirs = steak_face(340.2_g, {.thickness = 31.8_mm}, shape, lean);
    CHECK_THAT(theirs.areas[tissue::eye] / 1_cm2, WithinAbs(100.9, 0.05)); // as it is printed
}

TEST_CASE("the face of a steak gives back its weight and readings") {
    std::mt19937 random(7);
    const auto between = [&](double low, double high) {
        return low + (high - low) * (double(random()) / 4294967295.0);
    };
    for (int i = 0; i < 2000; ++i) {
        const mass weight = between(60, 900) * gram;
        const steak_readings seen{.thickness = between(6, 60) * millimetre,
                                  .fat_cover = between(0, 25) * millimetre,
                                  .tail = between(0, 40) * millimetre,
                                  .gluteus_medius = between(0, 1)};
        const steak_shape shape{.depth_to_width = between(0.2, 1.0),
                                .filled = {.fill = between(0.6, 1.0), .silverskin = between(0, 2) * millimetre}};
        const face f = steak_face(weight, seen, shape);
        CHECK_THAT(weight_of(f, seen.thickness).value(), WithinRel(weight.value(), 1e-13)); // some thirty roundings
        CHECK(f.fat_cover.thickness == seen.fat_cover);
        CHECK(f.tail.thickness == seen.tail);
        const length wide = f.width - seen.tail, deep = f.depth - seen.fat_cover - shape.filled.silverskin;
        CHECK_THAT(deep / wide, WithinRel(shape.depth_to_width, 1e-12));
        CHECK_THAT(gluteus_medius_share(f.areas), WithinAbs(seen.gluteus_medius, 1e-14));
    }
}

TEST_CASE("a thicker cover on a steak of the same weight leaves less lean") {
    double before = std::numeric_limits<double>::infinity();
    for (double mm = 0; mm <= 30; ++mm) {
        const face f = steak_face(400_g, {.thickness = 25_mm, .fat_cover = mm * millimetre, .tail = 20_mm});
        CHECK(f.areas[tissue::eye].value() < before);
        before = f.areas[tissue::eye].value();
    }
}

TEST_CASE("the size of a steak in another unit changes nothing") {
    const face metric = steak_face(453.59237_g, {.thickness = 25.4_mm, .fat_cover = 12.7_mm});
    const face us = steak_face(1_lb, {.thickness = 1_in, .fat_cover = 0.5_in});
    for (const tissue t : all_tissues)
        CHECK_THAT(metric.areas[t].value(), WithinRel(us.areas[t].value(), 1e-14)); // conversions are an ulp apart
}

TEST_CASE("default proportions lie between what tables of composition say of fat on strip steaks") {
    // USDA SR28 (read in the source): top loin steak, lip-on, 1/8 in fat, raw, has 302 g and 12.68 % fat; lip-off, 0 in
    // fat, 267 g and 8.17 %; lean 5.67 %, separable fat 70.89 %. Computed from these: separable fat, seams included, is
    // (12.68 - 5.67) / (70.89 - 5.67) = 10.7 % of the first and 3.8 % of the second, so that lip and cover account for
    // 6.9 %; and trimming both off took 35 of 302 g, 11.6 %. The thickness of 1 in and a lip of about 1 in are from
    // memory. The model knows no seams: its fat must stay below 10.7 %, and lip with cover come to about the 11.6 %.
    // A lip of 1/2 to 1 1/2 in is what the words leave open.
    const auto steak = [](length lip) {
        return steak_face(302_g, {.thickness = 1_in, .fat_cover = 0.125_in, .tail = lip});
    };
    CHECK(separable_fat(steak(1_in)) < 0.107);
    CHECK(separable_fat(steak(1_in)) > 0.069 / 2.0);
    const auto comes_off = [&](length lip) {
        const face f = steak(lip);
        const tissue_densities densities = densities_at_4_celsius();
        const mass off = (f.areas[tissue::fat_cover] * densities[tissue::fat_cover] +
                          f.areas[tissue::tail] * densities[tissue::tail]) *
                         metre;
        return off / weight_of(f, metre);
    };
    CHECK(comes_off(0.5_in) < 0.116);
    CHECK(comes_off(1.5_in) > 0.116);
}

TEST_CASE("the shape of steaks follows from the middle of a kind of loin") {
    // Computed: (8.2 - 1.2) / (22.0 - 6.0).
    CHECK_THAT(shape_of_steaks(beef_strip_loin).depth_to_width, WithinRel(0.4375, 1e-14));
    CHECK(shape_of_steaks(beef_strip_loin).filled.fill == 0.80);
    CHECK(shape_of_steaks(tuna_loin).filled.fill == 0.785);
    loin_proportions flat = beef_strip_loin;
    flat.fat_cover.middle = flat.depth.middle;
    CHECK_THROWS_WITH(shape_of_steaks(flat), StartsWith("depth less fat_cover: got 0 mm"));
}

TEST_CASE("a steak that cannot be is refused by the name of its reading") {
    const double nan = std::numeric_limits<double>::quiet_NaN(), infinity = std::numeric_limits<double>::infinity();
    const steak_readings good{.thickness = 25_mm, .fat_cover = 6_mm, .tail = 20_mm};
    const auto with = [&](auto change) {
        steak_readings bad = good;
        change(bad);
        return [bad] { (void)steak_face(300_g, bad); };
    };
    CHECK_THROWS_WITH(steak_face(0_g, good), StartsWith("weight: got 0 g"));
    CHECK_THROWS_WITH(steak_face(nan * 1_g, good), StartsWith("weight: got nan"));
    CHECK_THROWS_WITH(with([](auto& s) { s.thickness = 0_mm; })(), StartsWith("thickness"));
    CHECK_THROWS_WITH(with([&](auto& s) { s.thickness = infinity * 1_mm; })(), StartsWith("thickness: got inf"));
    CHECK_THROWS_WITH(with([](auto& s) { s.fat_cover = -1_mm; })(), StartsWith("fat_cover: got -1 mm"));
    CHECK_THROWS_WITH(with([&](auto& s) { s.tail = nan * 1_mm; })(), StartsWith("tail: got nan"));
    CHECK_THROWS_WITH(with([](auto& s) { s.gluteus_medius = 1.1; })(), StartsWith("gluteus_medius: got 1.1"));
    CHECK_THROWS_WITH(steak_face(10_g, {.thickness = 50_mm, .fat_cover = 40_mm, .tail = 40_mm}),
                      StartsWith("tail: got 40 mm") && ContainsSubstring("weigh more than the 10 g"));
    CHECK_THROWS_WITH(steak_face(300_g, good, {.depth_to_width = 0.0}), StartsWith("depth_to_width"));
    CHECK_THROWS_WITH(steak_face(300_g, good, {.depth_to_width = 0.4, .filled = {.fill = 0.0}}), StartsWith("fill"));
}

} // namespace steak_face_test
