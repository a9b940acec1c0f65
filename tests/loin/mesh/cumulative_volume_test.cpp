// Cumulative volume of handbook solids, and what is refused.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/mesh/cumulative_volume.hpp>
#include <tranche/loin/mesh/cut_direction.hpp>
#include <tranche/loin/mesh/mesh_faults.hpp>

#include "loin/mesh_shapes.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <limits>
#include <numbers>

namespace cumulative_volume_test {

using namespace tranche;
using namespace tranche_test;

namespace {
constexpr mesh_point upwards{0.0, 0.0, 1.0};
double before(const cumulative_volume& v, double metres) { return v.volume_before(length::from_value(metres)).value(); }
double section(const cumulative_volume& v, double metres) { return v.area_at(length::from_value(metres)).value(); }
} // namespace

// Tolerances here: each section sums the terms of at most a few dozen triangles, each off by a few ε = 2.2e-16 of the whole;
// 1e-13 leaves that a factor of ten. Where a mesh is finer the bound is said again.

// Of a prism, V = A s and its integral A s² / 2; of a pyramid from its tip, V = A s³ / (3 h²) and A s⁴ / (12 h²).
TEST_CASE("the moment in front of a plane is the integral of the volume in front of it") {
    const cumulative_volume block(box(0.4, 0.1, 0.05), {1.0, 0.0, 0.0});
    for (const double s : {0.0, 0.1, 0.4})
        CHECK_THAT(block.moment_before(length::from_value(s)).value(), WithinAbs(0.005 * s * s / 2.0, 1e-17));
    CHECK_THAT(block.moment_before(length::from_value(0.5)).value(), WithinRel(0.005 * (0.08 + 0.04), 1e-14)); // beyond
    CHECK(block.moment_before(length::from_value(-0.1)).value() == 0.0);
    const cumulative_volume pyramid(frustum(4, 0.1, 1e-9, 0.3), {0.0, 0.0, -1.0});
    for (const double s : {0.05, 0.2, 0.3}) // a base of 0.02 m2; the tip is cut off by a nanometre
        CHECK_THAT(pyramid.moment_before(length::from_value(s)).value(),
                   WithinRel(0.02 * s * s * s * s / (12.0 * 0.09), 1e-6));
}

TEST_CASE("a box fills in proportion to the way through it") {
    const cumulative_volume v(box(0.1, 0.2, 0.3), upwards);
    CHECK_THAT(v.extent().value(), WithinULP(0.3, 1));
    CHECK_THAT(v.total().value(), WithinRel(0.006, 1e-13));
    CHECK(v.breakpoints().size() == 2);
    for (const double s : {0.0, 0.05, 0.1, 0.2, 0.299}) {
        CHECK_THAT(before(v, s), WithinAbs(0.02 * s, 1e-13 * 0.006));
        CHECK_THAT(section(v, s), WithinRel(0.02, 1e-13));
    }
}

TEST_CASE("nothing lies in front of a mesh and all of it behind its end") {
    const cumulative_volume v(box(0.1, 0.2, 0.3), {1.0, 1.0, 1.0});
    CHECK(before(v, -1.0) == 0.0);
    CHECK(before(v, 0.0) == 0.0);
    CHECK(before(v, v.extent().value()) == v.total().value());
    CHECK(before(v, 1.0) == v.total().value());
    CHECK(section(v, -1e-9) == 0.0);
    CHECK(section(v, v.extent().value() * 1.001) == 0.0);
    CHECK(section(v, std::numeric_limits<double>::quiet_NaN()) == 0.0);
}

TEST_CASE("a cube cut along its diagonal has a hexagon in the middle") {
    // Unit cube along (1, 1, 1), s = t √3: the corner in front is a pyramid of volume (3 t)³ / 6 up to t = 1/3, and the
    // section in the middle a regular hexagon of side √2 / 2, area 3 √3 / 4 (computed).
    const cumulative_volume v(box(1.0, 1.0, 1.0), {1.0, 1.0, 1.0});
    const double root3 = std::sqrt(3.0);
    CHECK_THAT(v.extent().value(), WithinRel(root3, 1e-15));
    CHECK(v.breakpoints().size() == 4);
    CHECK_THAT(before(v, root3 / 6.0), WithinRel(0.125 / 6.0, 1e-13));
    CHECK_THAT(before(v, root3 / 3.0), WithinRel(1.0 / 6.0, 1e-13));
    CHECK_THAT(before(v, root3 / 2.0), WithinRel(0.5, 1e-13));
    CHECK_THAT(section(v, root3 / 2.0), WithinRel(3.0 * root3 / 4.0, 1e-13));
}

TEST_CASE("a square frustum holds what the papyrus says") {
    // Moscow mathematical papyrus, problem 14: height 6, sides 4 and 2, volume 56 (computed).
    const double half_diagonal = std::sqrt(0.5);
    const cumulative_volume v(frustum(4, 4.0 * half_diagonal, 2.0 * half_diagonal, 6.0), upwards);
    CHECK_THAT(v.total().value(), WithinRel(56.0, 1e-13));
    // In front of s the side has shrunk to 4 - s / 3, so V = 64 - (4 - s / 3)³.
    for (const double s : {0.5, 1.0, 3.0, 5.9}) {
        const double side = 4.0 - s / 3.0;
        CHECK_THAT(before(v, s), WithinRel(64.0 - side * side * side, 1e-13));
        CHECK_THAT(section(v, s), WithinRel(side * side, 1e-13));
    }
}

TEST_CASE("prisms and frustums of many corners converge to cylinder and cone with order two") {
    // Cylinder of radius 1 and height 2: 2 pi. Conical frustum, radii 3 and 1, height 5: 68.0678408277788535 (computed).
    const auto error_of = [](std::size_t corners, double r0, double height, double smooth) {
        const cumulative_volume v(frustum(corners, r0, 1.0, height), upwards);
        // 4 n triangles, ε each
        CHECK_THAT(v.total().value(),
                   WithinRel(frustum_volume(corners, r0, 1.0, height), 4.0 * static_cast<double>(corners) * 2.3e-16));
        return smooth - v.total().value();
    };
    // With x = 2 pi / n the share missing is x²/6 (1 - x²/20): twice the corners leave a quarter, but for a share of
    // 3/4 x²/20, which is 3.6e-4 at 64 corners and 1.5e-3 of the ratio of 4.
    const double cylinder =
        error_of(64, 1.0, 2.0, 2.0 * std::numbers::pi) / error_of(128, 1.0, 2.0, 2.0 * std::numbers::pi);
    CHECK_THAT(cylinder, WithinAbs(4.0, 2e-3));
    const double cone = error_of(64, 3.0, 5.0, 68.0678408277788535) / error_of(128, 3.0, 5.0, 68.0678408277788535);
    CHECK_THAT(cone, WithinAbs(4.0, 2e-3));
}

TEST_CASE("a ball of triangles converges to a sphere and its caps with order two") {
    const auto error_of = [](std::size_t stacks, double s, mesh_point direction) {
        const cumulative_volume v(ball(1.0, 2 * stacks, stacks), direction);
        return std::numbers::pi * s * s * (3.0 - s) / 3.0 - before(v, s); // a cap of height s
    };
    // Halving the triangles quarters the error; what follows is of the fourth power of the angle, (pi / 24)² = 2 % of it.
    CHECK_THAT(error_of(24, 2.0, upwards) / error_of(48, 2.0, upwards), WithinAbs(4.0, 0.08));
    CHECK_THAT(error_of(24, 0.5, upwards) / error_of(48, 0.5, upwards), WithinAbs(4.0, 0.08));
    CHECK_THAT(error_of(24, 2.0, {1.0, 2.0, 0.5}) / error_of(48, 2.0, {1.0, 2.0, 0.5}), WithinAbs(4.0, 0.08));
}

TEST_CASE("a prism cut obliquely has a face larger by one over the cosine") {
    // 5° 1.00382, 10° 1.01543, 15° 1.03528, 20° 1.06418 (computed; published to five decimals).
    const triangle_mesh mesh = box(1.0, 0.1, 0.1);
    const auto [degrees, factor] =
        GENERATE(table<double, double>({{5.0, 1.00382}, {10.0, 1.01543}, {15.0, 1.03528}, {20.0, 1.06418}}));
    for (const cut_tilt& tilt :
         {cut_tilt{.about_vertical = degrees * degree}, cut_tilt{.about_vertical = -degrees * degree},
          cut_tilt{.about_transverse = degrees * degree}, cut_tilt{.about_transverse = -degrees * degree}}) {
        const cumulative_volume v(mesh, detail::frame_of(mesh_axis::x, mesh_axis::z, tilt).along);
        CHECK_THAT(section(v, 0.5 * v.extent().value()) / 0.01, WithinAbs(factor, 0.5e-5));
    }
}

TEST_CASE("the area of a section that jumps is that behind the jump") {
    // A step: 2 wide up to z = 1, then 1 wide up to z = 2; its profile is not convex, its ends are flat.
    const std::vector<std::array<double, 2>> profile{{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}};
    triangle_mesh mesh;
    for (const double y : {0.0, 1.0})
        for (const auto& [x, z] : profile) mesh.vertices.push_back({x, y, z});
    for (std::uint32_t i = 0; i < 6; ++i) {
        const std::uint32_t next = (i + 1) % 6;
        mesh.triangles.push_back({i, next + 6, next});
        mesh.triangles.push_back({i, i + 6, next + 6});
    }
    for (const triangle_mesh::triangle t : {triangle_mesh::triangle{0, 1, 2}, {0, 2, 3}, {0, 3, 4}, {0, 4, 5}}) {
        mesh.triangles.push_back({t[0], t[1], t[2]});
        mesh.triangles.push_back({t[0] + 6, t[2] + 6, t[1] + 6});
    }
    REQUIRE_NOTHROW(validate(mesh));
    const cumulative_volume v(mesh, upwards);
    CHECK_THAT(v.total().value(), WithinRel(3.0, 1e-14));
    CHECK_THAT(section(v, 0.0), WithinRel(2.0, 1e-13));
    CHECK_THAT(section(v, 0.999), WithinRel(2.0, 1e-13));
    CHECK_THAT(section(v, 1.0), WithinRel(1.0, 1e-13));
    CHECK_THAT(section(v, 2.0), WithinRel(1.0, 1e-13));
    CHECK_THAT(before(v, 1.0), WithinRel(2.0, 1e-13));
}

TEST_CASE("a flat end that stands a rounding error askew keeps its area") {
    triangle_mesh mesh = frustum(40, 0.05, 0.04, 0.3);
    dice d(7);
    for (mesh_point& p : mesh.vertices) p.z += d.between(-1e-15, 1e-15);
    const cumulative_volume v(mesh, upwards);
    CHECK(v.breakpoints().size() == 2);
    const double n = 40.0, per_square = n / 2.0 * std::sin(2.0 * std::numbers::pi / n);
    CHECK_THAT(section(v, 0.0), WithinRel(per_square * 0.05 * 0.05, 1e-12));
    CHECK_THAT(section(v, v.extent().value()), WithinRel(per_square * 0.04 * 0.04, 1e-12));
}

TEST_CASE("vertices of no triangle do not count") {
    triangle_mesh mesh = box(0.1, 0.2, 0.3);
    mesh.vertices.push_back({0.0, 0.0, 5.0});
    CHECK_THAT(cumulative_volume(mesh, upwards).extent().value(), WithinRel(0.3, 1e-14));
}

TEST_CASE("a direction that is none and a mesh without extent are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN(), infinity = std::numeric_limits<double>::infinity();
    for (const mesh_point bad : {mesh_point{0, 0, 0}, mesh_point{nan, 0, 1}, mesh_point{1, -infinity, 0}})
        CHECK_THROWS_WITH(cumulative_volume(box(1.0, 1.0, 1.0), bad), StartsWith("direction: "));
    CHECK_THROWS_WITH(cumulative_volume(triangle_mesh{}, upwards), StartsWith("mesh: got no extent"));
    const triangle_mesh flat{.vertices = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, .triangles = {{0, 1, 2}, {0, 2, 1}}};
    CHECK_THROWS_WITH(cumulative_volume(flat, upwards), StartsWith("mesh: got no extent"));
}

} // namespace cumulative_volume_test
