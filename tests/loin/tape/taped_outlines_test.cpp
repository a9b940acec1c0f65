// The outlines of tape readings against the areas that the same readings give.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/literals.hpp>

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

TEST_CASE("taped_outlines: have the areas of the readings") {
    const taped_readings readings{.width = 20_cm, .depth = 8_cm, .fat_cover = 11_mm, .tail = 4_cm};
    for (const double fill : {0.65, 0.785, 0.80, 0.9}) {
        const face_shape shape{.fill = fill, .silverskin = 1_mm};
        const face expected = taped_face(readings, shape, 0.25);
        const painted_face painted = taped_outlines(readings, shape, 0.25);
        const area lean = area_of(outline_of(painted, tissue::eye)),
                   other_muscle = area_of(outline_of(painted, tissue::gluteus_medius));
        const area skin = area_of(outline_of(painted, tissue::connective)),
                   all = area_of(outline_of(painted, tissue::fat_cover));
        // Polygons of 96 corners lie inside the curve: up to 1 part in 500 is lost, of the whole face.
        const double lost = 0.002 * (all / 1_cm2);
        CHECK_THAT((lean - other_muscle) / 1_cm2, WithinAbs(expected.areas[tissue::eye] / 1_cm2, lost));
        CHECK_THAT(other_muscle / lean, WithinAbs(0.25, 1e-6));
        CHECK_THAT((skin - lean) / 1_cm2, WithinAbs(expected.areas[tissue::connective] / 1_cm2, lost));
        CHECK_THAT((all - skin) / 1_cm2, WithinAbs(expected.areas[tissue::fat_cover] / 1_cm2, lost));
        for (const painted_outline& p : painted) CHECK_NOTHROW(validate(p.curve, "outline"));
    }
}

TEST_CASE("taped_outlines: what is seen of each tissue has its area") {
    // Unlike differences of outlines, this finds a layer that hangs out of the one around it.
    const taped_readings readings{.width = 20_cm, .depth = 8_cm, .fat_cover = 11_mm, .tail = 4_cm};
    for (const double tail_depth : {0.2, 0.4, 0.7, 1.0}) {
        const face_shape shape{.tail_depth = tail_depth, .silverskin = 1_mm};
        const face expected = taped_face(readings, shape, 0.25);
        const painted_face painted = taped_outlines(readings, shape, 0.25);
        by_tissue<double> seen;
        constexpr int columns = 4000;
        for (int i = 0; i < columns; ++i) {
            detail::chord_list covered;
            for (auto p = painted.rbegin(); p != painted.rend(); ++p) {
                const auto chords = detail::flat_region(p->curve).chords(0.2 * (i + 0.5) / columns);
                seen[p->fill] += detail::total_length(detail::without(chords, covered)) * 0.2 / columns;
                covered.insert(covered.end(), chords.begin(), chords.end());
            }
        }
        // 1 part in 500 of a tissue is lost to the polygon. Columns are exact for straight sides but where they cross a
        // corner, at most 96 a curve: there half a column, 25 um, of at most the depth may be wrong, with either sign.
        for (const tissue t : all_tissues) {
            CAPTURE(tail_depth, name_of(t));
            CHECK_THAT(seen[t] / expected.areas[t].value(), WithinAbs(0.999, 0.002));
        }
    }
}

TEST_CASE("taped_outlines: leave out what is not there") {
    const painted_face plain = taped_outlines({.width = 20_cm, .depth = 8_cm}, {}, 0.0);
    REQUIRE(plain.size() == 1);
    CHECK(plain[0].fill == tissue::eye);
}

} // namespace taped_outlines_test
