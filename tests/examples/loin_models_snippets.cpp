// The code that docs/loin_models.md shows, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstdint>
#include <vector>

#include <tranche/scans.hpp>
#include <tranche/tranche.hpp>

namespace loin_models_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A rectangle from the board up, `across` from the chine.
outline rectangle(length from, length to, length top) {
    return {.points = {{from, 0_mm}, {to, 0_mm}, {to, top}, {from, top}}};
}

/// A box of 420 by 200 by 80 mm, its corners in metres. Invented.
triangle_mesh box() {
    triangle_mesh mesh;
    for (const double x : {0.0, 0.42})
        for (const double y : {0.0, 0.2})
            for (const double z : {0.0, 0.08}) mesh.vertices.push_back({x, y, z});
    mesh.triangles = {{0, 1, 3}, {0, 3, 2}, {4, 6, 7}, {4, 7, 5}, {0, 4, 5}, {0, 5, 1},
                      {2, 3, 7}, {2, 7, 6}, {0, 2, 6}, {0, 6, 4}, {1, 5, 7}, {1, 7, 3}};
    return mesh;
}

} // namespace

TEST_CASE("docs on loin models: traced faces make a loin") {
    const std::vector<traced_face> faces{
        {.at = 0_mm, .whole = rectangle(0_mm, 200_mm, 80_mm), .eye = rectangle(0_mm, 200_mm, 70_mm)}};
    const traced_loin loin(420_mm, faces, 1_mm); // silverskin
    CHECK_THAT(loin.face_at(0_mm).areas[tissue::eye] / (centimetre * centimetre), WithinRel(20.0 * 7.0, 1e-9));
    CHECK(tabulate(loin).total() > micrograms{});
}

TEST_CASE("docs on loin models: a mesh and one probe make a loin") {
    const triangle_mesh mesh = box();
    const scanned_loin loin(mesh, {.flank = loin_side::right,
                                   .probes = {{.at = 20_mm, .fat_cover = 11_mm, .silverskin = 1_mm, .tail = 45_mm}}});
    CHECK_THAT(loin.extent() / millimetre, WithinRel(420.0, 1e-12));
    CHECK(tabulate(loin).total() > micrograms{});
}

} // namespace loin_models_snippets
