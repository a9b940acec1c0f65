// How far along a direction vertices lie, and which are level.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/mesh/detail/mesh_levels.hpp>

#include "loin/mesh_shapes.hpp"
#include "loin/samples.hpp"
#include "support/catch.hpp"

namespace mesh_levels_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("mesh_levels: are measured from the foremost vertex, along the direction, whatever its length") {
    const triangle_mesh mesh = moved(box(0.1, 0.2, 0.4), {5, 6, 7});
    for (const double size : {1.0, 1e-3, 7.0}) {
        const detail::mesh_levels levels(mesh, {0, 0, -size});
        REQUIRE(levels.positions().size() == 2);
        CHECK(levels.positions()[0] == 0.0);
        CHECK_THAT(levels.positions()[1], WithinRel(0.4, 1e-14)); // coordinates of 7 m are rounded to 1e-15 m
        for (std::size_t v = 0; v < 8; ++v) CHECK(levels.level(v) == (v < 4 ? 1 : 0));
    }
}

TEST_CASE("mesh_levels: a rounding error does not tell vertices apart, a nanometre does") {
    triangle_mesh mesh = box(0.1, 0.2, 0.4);
    mesh.vertices[5].z += 1e-13;
    CHECK(detail::mesh_levels(mesh, {0, 0, 1}).positions().size() == 2);
    mesh.vertices[5].z += 1e-9;
    CHECK(detail::mesh_levels(mesh, {0, 0, 1}).positions().size() == 3);
}

TEST_CASE("mesh_levels: vertices of no triangle do not count") {
    triangle_mesh mesh = box(0.1, 0.2, 0.4);
    mesh.vertices.push_back({0, 0, -9});
    CHECK_THAT(detail::mesh_levels(mesh, {0, 0, 1}).positions().back(), WithinRel(0.4, 1e-14));
}

TEST_CASE("mesh_levels: a direction that is none and a mesh without extent are refused") {
    const triangle_mesh mesh = box(0.1, 0.2, 0.4);
    CHECK_THAT(message_of([&] { (void)detail::mesh_levels(mesh, {0, 0, 0}); }), StartsWith("direction: "));
    CHECK_THAT(message_of([&] { (void)detail::mesh_levels(mesh, {0, infinite, 0}); }), StartsWith("direction: "));
    CHECK_THAT(message_of([&] { (void)detail::mesh_levels({}, {0, 0, 1}); }), StartsWith("mesh: "));
}

} // namespace mesh_levels_test
