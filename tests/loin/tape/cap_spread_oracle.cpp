// The cap of tape readings against true distances from the lean, by the offsets of Boost.Geometry.
// SPDX-License-Identifier: BSL-1.0
#include <vector>

#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized" // g++ 12 raises it from inside Boost.Geometry 1.74
#endif
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace cap_spread_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

namespace bg = boost::geometry;
using point = bg::model::d2::point_xy<double>;
using polygon = bg::model::polygon<point>;
using region = bg::model::multi_polygon<polygon>;

/// In centimetres.
region flat(const outline& curve) {
    polygon p;
    for (const auto& corner : curve.points) bg::append(p.outer(), point(corner.across / 1_cm, corner.up / 1_cm));
    bg::correct(p);
    return {p};
}

} // namespace

TEST_CASE("taped_face: a trim leaves what lies within its thickness of the lean, at right angles to it") {
    namespace strategy = bg::strategy::buffer;
    for (const taped_readings& readings : {taped_readings{.width = 17_cm, .depth = 7.5_cm, .fat_cover = 5_mm},
                                           taped_readings{.width = 20_cm, .depth = 7_cm, .fat_cover = 16_mm},
                                           taped_readings{.width = 12_cm, .depth = 5_cm, .fat_cover = 10_mm},
                                           taped_readings{.width = 10_cm, .depth = 6.5_cm, .fat_cover = 19_mm}})
        for (const double fill : {0.70, 0.80, 0.90}) {
            const face_shape shape{.fill = fill};
            const face f = taped_face(readings, shape, 0.0);
            const painted_face painted = taped_outlines(readings, shape, 0.0);
            REQUIRE(painted.size() == 2); // the whole as fat, and the eye on it
            const region whole = flat(painted[0].curve), lean = flat(painted[1].curve);
            // The lean lies in the whole, and on its edge below: differences of areas are safer than areas of differences.
            const double fat = bg::area(whole) - bg::area(lean);
            for (const double part : {0.25, 0.5, 0.75}) {
                region grown, near;
                bg::buffer(lean, grown, strategy::distance_symmetric<double>(part * (readings.fat_cover / 1_cm)),
                           strategy::side_straight(), strategy::join_round(90), strategy::end_flat(),
                           strategy::point_circle(90));
                bg::intersection(grown, whole, near);
                CAPTURE(fill, readings.fat_cover / 1_mm, part);
                // cap_spread promises 0.005; the polygons of 96 corners, both of them inside their curves, leave 0.001.
                CHECK_THAT(f.fat_cover.within(part * readings.fat_cover),
                           WithinAbs((bg::area(near) - bg::area(lean)) / fat, 0.006));
            }
        }
}

} // namespace cap_spread_oracle
