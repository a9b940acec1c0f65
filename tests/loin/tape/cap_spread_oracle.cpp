// The cap of tape readings against true distances from the lean, by the offsets of Boost.Geometry.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cmath>
#include <cstddef>

#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/literals.hpp>

#include "loin/tape/geometry.hpp"
#include "support/catch.hpp"

namespace cap_spread_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr taped_readings faces[] = {{.width = 17_cm, .depth = 7.5_cm, .fat_cover = 5_mm},
                                    {.width = 20_cm, .depth = 7_cm, .fat_cover = 16_mm},
                                    {.width = 12_cm, .depth = 5_cm, .fat_cover = 10_mm},
                                    {.width = 10_cm, .depth = 6.5_cm, .fat_cover = 19_mm}};

/// Of a superellipse's polygon every column keeps this share of its height, from below.
outline lowered(outline curve, double share) {
    const std::size_t corners = curve.points.size();
    for (std::size_t i = 0; i < corners / 2; ++i) {
        const length foot = curve.points[corners - 1 - i].up; // straight below
        curve.points[i].up = foot + share * (curve.points[i].up - foot);
    }
    return curve;
}

double share_at(const layer_spread& spread, double part) { // parts that are whole 32nds
    return spread[static_cast<std::size_t>(32.0 * part) - 1];
}

} // namespace

TEST_CASE("cap_spread: what lies within a depth of a superellipse's lean, at right angles to it") {
    for (const taped_readings& r : faces)
        for (const double fill : {0.80, 0.90}) {
            const outline all = superellipse({}, r.width, r.depth, detail::superellipse_exponent(fill));
            const region whole = flat(all), lean = flat(lowered(all, 1.0 - r.fat_cover / r.depth));
            const layer_spread spread = cap_spread(fill, double((r.depth - 2.0 * r.fat_cover) / r.width));
            for (const double part : {0.25, 0.5, 0.75}) {
                CAPTURE(fill, r.fat_cover / 1_mm, part);
                // cap_spread promises 0.005; the polygons of 96 corners, both of them inside their curves, leave 0.001.
                CHECK_THAT(share_at(spread, part),
                           WithinAbs(share_within(whole, lean, part * (r.fat_cover / 1_cm)), 0.006));
            }
        }
}

TEST_CASE("taped_face: a trim leaves what is drawn within its thickness of the lean") {
    // How near: 0.007 from a fill of 0.70 up. Below, a bell is the steeper and bends the more the less it fills: measured
    // on the highest and fattest of these faces.
    const auto promised = [](double fill) {
        return fill < 0.5 ? 0.026 : fill < 0.6 ? 0.0125 : fill < 0.7 ? 0.008 : 0.007;
    };
    for (const taped_readings& read : faces)
        for (const double fill : {0.45, 0.55, 0.62, 0.70, 0.80, 0.90})
            for (const length& tail : {0_cm, 4_cm}) {
                taped_readings r = read;
                r.width += tail;
                r.tail = tail;
                const face_shape shape{.fill = fill};
                const face f = taped_face(r, shape, 0.0);
                const painted_face painted = taped_outlines(r, shape, 0.0);
                const std::size_t body = painted.size() - 2; // the whole as fat, and the eye on it
                REQUIRE(painted[body].fill == tissue::fat_cover);
                const region whole = flat(painted[body].curve), lean = flat(painted[body + 1].curve);
                for (const double part : {0.25, 0.5, 0.75}) {
                    CAPTURE(fill, r.fat_cover / 1_mm, tail / 1_cm, part);
                    CHECK_THAT(f.fat_cover.within(part * r.fat_cover),
                               WithinAbs(share_within(whole, lean, part * (r.fat_cover / 1_cm)), promised(fill)));
                }
            }
}

} // namespace cap_spread_oracle
