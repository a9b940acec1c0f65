// The outlines of tape readings against the areas that the same readings give.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/literals.hpp>

#include <algorithm>
#include <numbers>
#include <utility>

#include "support/catch.hpp"

namespace taped_outlines_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

static_assert(shaped_loin_model<prism_loin> && shaped_loin_model<tapered_loin> && shaped_loin_model<measured_loin> &&
              shaped_loin_model<traced_loin>);

namespace {

struct areas_only { // a loin model, but without outlines
    [[nodiscard]] length extent() const { return 1_m; }
    [[nodiscard]] face face_at(length) const { return {}; }
};
static_assert(loin_model<areas_only> && !shaped_loin_model<areas_only>);

const outline& outline_of(const painted_face& painted, tissue t) {
    for (const painted_outline& p : painted)
        if (p.fill == t) return p.curve;
    FAIL("no such tissue");
    return painted.front().curve;
}

} // namespace

TEST_CASE("superellipse_exponent: is the inverse of the fill") {
    for (const double n : {1.2, 2.0, 2.12, 2.5, 3.0, 8.0})
        CHECK_THAT(detail::superellipse_exponent(superellipse_fill(n)), WithinRel(n, 1e-9));
    CHECK_THAT(detail::superellipse_exponent(0.2), WithinAbs(1.0, 1e-9)); // kept at a diamond
    CHECK(detail::superellipse_exponent(1.0) > 20.0);
}

TEST_CASE("bell_fill: is the published one of a parabola, and of an ellipse") {
    CHECK_THAT(detail::bell_fill(1.0), WithinRel(2.0 / 3.0, 1e-14)); // Archimedes' quadrature
    CHECK_THAT(detail::bell_fill(0.5), WithinRel(std::numbers::pi / 4.0, 1e-14));
    CHECK_THAT(detail::bell_fill(2.0), WithinRel(8.0 / 15.0, 1e-14)); // the integral of 1 - 2 x^2 + x^4
}

TEST_CASE("taped_outlines: a face is a comma, thick at the chine, with its tip on the board") {
    const taped_readings readings{.width = 22_cm, .depth = 8_cm, .fat_cover = 12_mm, .tail = 6_cm};
    const painted_face painted = taped_outlines(readings, {}, 0.0);
    const outline &tail = outline_of(painted, tissue::tail), &whole = outline_of(painted, tissue::fat_cover);
    const auto top_at = [](const outline& curve, double across) {
        const auto chords = detail::flat_region(curve).chords(across);
        return chords.empty() ? 0.0 : chords.back().second;
    };
    // The outer edge rises to the middle of the face without its tail, and then falls all the way.
    const auto outer = [&](double across) { return std::max(top_at(tail, across), top_at(whole, across)); };
    for (int mm = 1; mm < 80; ++mm) CHECK(outer(0.001 * mm) <= outer(0.001 * (mm + 1)));
    for (int mm = 80; mm < 218; ++mm) {
        CAPTURE(mm);
        CHECK(outer(0.001 * mm) >= outer(0.001 * (mm + 1)));
        CHECK(outer(0.001 * mm) - outer(0.001 * (mm + 1)) < 0.002); // and never steeper than 2 : 1
    }
    CHECK(top_at(whole, 0.005) > 0.05);                                 // 5 mm from the chine edge: more than 5 cm high
    CHECK(outer(0.215) < 0.02);                                         // 5 mm from the tip: less than 2 cm
    CHECK(detail::flat_region(tail).chords(0.16).front().first < 5e-4); // it lies on the board
}

TEST_CASE("taped_outlines: the second muscle begins as a round spot and becomes a half-moon") {
    const taped_readings readings{.width = 22_cm, .depth = 8_cm, .fat_cover = 12_mm, .tail = 5_cm};
    const auto extent = [](const outline& curve) {
        const detail::flat_region region(curve);
        const auto [left, right] = region.extent(&detail::flat_point::x);
        const auto [low, high] = region.extent(&detail::flat_point::y);
        return std::pair{right - left, high - low};
    };
    const painted_face early = taped_outlines(readings, {}, 0.005), late = taped_outlines(readings, {}, 0.3);
    const outline &spot = outline_of(early, tissue::gluteus_medius), &moon = outline_of(late, tissue::gluteus_medius);
    const auto [spot_wide, spot_high] = extent(spot);
    const auto wide_and_high = extent(moon);
    const double moon_wide = wide_and_high.first, moon_high = wide_and_high.second;
    CHECK(spot_wide / spot_high < 1.5);
    CHECK(moon_wide / moon_high > 1.5);
    // The half-moon's upper edge is that of the lean for more than half of its width; below, the seam is curved.
    const detail::flat_region lean(outline_of(late, tissue::eye)), part(moon);
    const double left = part.extent(&detail::flat_point::x).first;
    int on_the_cap = 0;
    for (int k = 1; k < 100; ++k) {
        const double across = left + 0.01 * k * moon_wide;
        on_the_cap += lean.chords(across).back().second - part.chords(across).back().second < 1e-9;
    }
    CHECK(on_the_cap > 50);
    const auto seam = [&](double share) { return part.chords(left + share * moon_wide).front().first; };
    CHECK(seam(0.5) < 0.5 * (seam(0.25) + seam(0.75)) - 0.002);
}

TEST_CASE("taped_outlines: leave out what is not there") {
    const painted_face plain = taped_outlines({.width = 20_cm, .depth = 8_cm}, {}, 0.0);
    REQUIRE(plain.size() == 1);
    CHECK(plain[0].fill == tissue::eye);
}

} // namespace taped_outlines_test
