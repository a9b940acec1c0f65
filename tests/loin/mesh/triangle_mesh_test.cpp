// Volume and bounds of meshes, against handbook solids.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/mesh/triangle_mesh.hpp>

#include "loin/mesh_shapes.hpp"
#include "support/catch.hpp"

namespace triangle_mesh_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("the volume of a mesh is that of the solid it bounds") {
    CHECK(detail::volume_of(box(1.0, 2.0, 3.0)).value() == 6.0); // whole numbers throughout: exact
    // Moscow mathematical papyrus, problem 14: square frustum, sides 4 and 2, height 6, volume 56 (computed). Sums of 16
    // terms of at most 56, each with a few roundings.
    const double half_diagonal = std::sqrt(0.5);
    CHECK_THAT(detail::volume_of(frustum(4, 4.0 * half_diagonal, 2.0 * half_diagonal, 6.0)).value(),
               WithinRel(56.0, 1e-14));
}

TEST_CASE("an inside-out mesh has a negative volume") {
    triangle_mesh mesh = box(1.0, 2.0, 3.0);
    for (auto& t : mesh.triangles) std::swap(t[1], t[2]);
    CHECK(detail::volume_of(mesh).value() == -6.0);
}

TEST_CASE("a mesh of nothing has no volume") { CHECK(detail::volume_of(triangle_mesh{}).value() == 0.0); }

TEST_CASE("bounds reach from the lowest to the highest coordinate on each axis") {
    triangle_mesh mesh = box(1.0, 2.0, 3.0);
    mesh.vertices[0] = {-4.0, 0.0, 0.5};
    const mesh_bounds bounds = detail::bounds_of(mesh);
    CHECK(bounds.low == mesh_point{-4.0, 0.0, 0.0});
    CHECK(bounds.high == mesh_point{1.0, 2.0, 3.0});
    CHECK(bounds.centre() == mesh_point{-1.5, 1.0, 1.5});
}

TEST_CASE("the volume of a body a kilometre away keeps its digits") {
    motion far_away;
    far_away.shift = {1000.0, -1000.0, 1000.0};
    // A coordinate near 1000 m is off by at most 5.7e-14 m, so a side of the box by 1.2e-13 of 1 m at most.
    CHECK_THAT(detail::volume_of(far_away(box(1.0, 2.0, 3.0))).value(), WithinRel(6.0, 4e-13));
}

} // namespace triangle_mesh_test
