// Width and depth of sections.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/section_sizes.hpp>

#include "loin/mesh_shapes.hpp"
#include "support/catch.hpp"

#include <cmath>

using namespace tranche;
using namespace tranche_test;

namespace {
length metres(double value) { return length::from_value(value); }
} // namespace

// Coordinates below 1 with a handful of roundings: 1e-15. Where a body is turned, its coordinates are off by another 1e-16.

TEST_CASE("the sections of a box are as wide and as deep as the box, its ends included") {
    const section_sizes sizes(box(0.3, 0.2, 0.1), frame_of(mesh_axis::x, mesh_axis::z));
    for (const double s : {0.0, 1e-5, 0.1, 0.29999, 0.3}) {
        CHECK_THAT(sizes.width(metres(s)).value(), WithinAbs(0.2, 1e-15));
        CHECK_THAT(sizes.depth(metres(s)).value(), WithinAbs(0.1, 1e-15));
    }
    CHECK_THAT(sizes.greatest_depth().value(), WithinAbs(0.1, 1e-15));
    const section_sizes other_way_up(box(0.3, 0.2, 0.1), frame_of(mesh_axis::minus_x, mesh_axis::y));
    CHECK_THAT(other_way_up.width(metres(0.1)).value(), WithinAbs(0.1, 1e-15));
    CHECK_THAT(other_way_up.depth(metres(0.1)).value(), WithinAbs(0.2, 1e-15));
}

TEST_CASE("the sections of a frustum shrink in a straight line") {
    // Four corners on the axes: as wide as two radii.
    const section_sizes sizes(frustum(4, 0.08, 0.04, 0.4), frame_of(mesh_axis::z, mesh_axis::x));
    for (const double s : {0.0, 0.0001, 0.1, 0.33333, 0.4}) {
        CHECK_THAT(sizes.width(metres(s)).value(), WithinAbs(0.16 - 0.2 * s, 1e-15));
        CHECK_THAT(sizes.depth(metres(s)).value(), WithinAbs(0.16 - 0.2 * s, 1e-15));
    }
}

TEST_CASE("a flat end that stands a rounding error askew is as wide as it is") {
    dice d(3);
    triangle_mesh mesh = box(0.3, 0.2, 0.1);
    for (mesh_point& p : mesh.vertices) p.x += d.between(-1e-16, 1e-16);
    const section_sizes sizes(mesh, frame_of(mesh_axis::x, mesh_axis::z));
    CHECK_THAT(sizes.width(metres(0.0)).value(), WithinAbs(0.2, 1e-15));
    CHECK_THAT(sizes.depth(metres(0.3)).value(), WithinAbs(0.1, 1e-15));
}

TEST_CASE("the sections of a ball are chords") {
    // 200 slices and 100 stacks: outlines of the ball of triangles lie within r (pi / 100)² / 8 = 1.2e-5 m of the sphere.
    // At s from the pole the chord is 2 √(s (2 r - s)); it follows a radius with a slope of at most 2 at s >= 0.2 r, and
    // the straight line between stations 0.4 mm apart misses it by less than 1e-6.
    const double r = 0.1;
    const section_sizes sizes(ball(r, 200, 100), frame_of(mesh_axis::y, mesh_axis::z));
    for (const double s : {0.02, 0.05, 0.1, 0.15}) {
        const double chord = 2.0 * std::sqrt(s * (2.0 * r - s));
        CHECK_THAT(sizes.width(metres(s)).value(), WithinAbs(chord, 5e-5));
        CHECK_THAT(sizes.depth(metres(s)).value(), WithinAbs(chord, 5e-5));
    }
    CHECK(sizes.width(metres(0.0)) < metres(0.01));
}

TEST_CASE("beyond the ends the sizes stay, and between two bodies they are nothing") {
    triangle_mesh mesh = box(0.1, 0.2, 0.1);
    const triangle_mesh other = box(0.1, 0.3, 0.1);
    for (auto t : other.triangles) mesh.triangles.push_back({t[0] + 8, t[1] + 8, t[2] + 8});
    for (const mesh_point& p : other.vertices) mesh.vertices.push_back(p + mesh_point{0.2, 0.0, 0.0});
    const section_sizes sizes(mesh, frame_of(mesh_axis::x, mesh_axis::z));
    CHECK_THAT(sizes.width(metres(-1.0)).value(), WithinAbs(0.2, 1e-15));
    CHECK(sizes.width(metres(0.15)).value() == 0.0);
    CHECK_THAT(sizes.width(metres(9.0)).value(), WithinAbs(0.3, 1e-15));
}
