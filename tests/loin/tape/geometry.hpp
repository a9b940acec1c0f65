// Outlines as regions of Boost.Geometry, and the warnings of g++ 12 from inside it put off.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized" // g++ 12 raises it from inside Boost.Geometry 1.74
#endif
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include <tranche/loin/outline/outline.hpp>

namespace tranche_test {

namespace bg = boost::geometry;
using point = bg::model::d2::point_xy<double>;
using polygon = bg::model::polygon<point>;
using region = bg::model::multi_polygon<polygon>;

/// In centimetres.
[[nodiscard]] inline region flat(const tranche::outline& curve) {
    polygon p;
    for (const auto& corner : curve.points)
        bg::append(p.outer(), point(corner.across / tranche::centimetre, corner.up / tranche::centimetre));
    bg::correct(p);
    return {p};
}

/// Shares of a fat layer on a lean that lie within distances from the lean, at right angles to it. The lean lies in the
/// whole, and on its edge below: differences of areas are safer than areas of differences.
[[nodiscard]] inline double share_within(const region& whole, const region& lean, double distance) {
    namespace strategy = bg::strategy::buffer;
    region grown, near;
    bg::buffer(lean, grown, strategy::distance_symmetric<double>(distance), strategy::side_straight(),
               strategy::join_round(90), strategy::end_flat(), strategy::point_circle(90));
    bg::intersection(grown, whole, near);
    return (bg::area(near) - bg::area(lean)) / (bg::area(whole) - bg::area(lean));
}

} // namespace tranche_test
