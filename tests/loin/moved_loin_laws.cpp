// Moving a loin, or looking at it from the other side, changes no area and no layer.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <array>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/units/literals.hpp>

#include "loin/mesh_shapes.hpp"

namespace moved_loin_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// `off`: relative to the whole face, and to the deepest layer. Spreads are shares.
void check_same(const face& a, const face& b, double off, double off_spread) {
    const area whole = a.areas.sum();
    for (const tissue t : all_tissues) {
        CAPTURE(name_of(t));
        CHECK(std::abs((a.areas[t] - b.areas[t]) / whole) <= off);
    }
    for (layer face::*which : {&face::fat_cover, &face::tail}) {
        CHECK(std::abs(((a.*which).thickness - (b.*which).thickness).value()) <= off_spread * 0.01);
        for (std::size_t k = 0; k < even_spread.size(); ++k)
            CHECK(std::abs((a.*which).spread[k] - (b.*which).spread[k]) <= off_spread);
    }
    CHECK(std::abs((a.width - b.width) / 1_cm) <= 20.0 * off);
    CHECK(std::abs((a.depth - b.depth) / 1_cm) <= 20.0 * off);
}

/// Every point through `place`, which maps (across, up) to (across, up). Invented outlines.
template <class Place>
traced_loin traced(Place place) {
    const auto curve = [&](const std::vector<std::pair<double, double>>& points, double size) {
        outline o;
        for (const auto& [x, y] : points) {
            const auto [across, up] = place(size * x, size * y);
            o.points.push_back({across * 1_cm, up * 1_cm});
        }
        return o;
    };
    std::vector<traced_face> faces;
    for (const double at : {0.0, 20.0, 40.0}) {
        const double size = 1.0 - 0.004 * at;
        faces.push_back(
            {.at = at * 1_cm,
             .whole = curve({{0, 0},
                             {9, -0.2},
                             {14, 0.3},
                             {20, 0.8},
                             {20.3, 2.4},
                             {15, 3.1},
                             {13.5, 6.4},
                             {9, 8.1},
                             {4, 8.4},
                             {-0.8, 7.2},
                             {-1, 2}},
                            size),
             .eye = curve(
                 {{0.2, 0.2}, {7.5, 0.1}, {9.5, 1}, {9.8, 4}, {8, 6.2}, {5, 5.8}, {3, 6.5}, {0, 6}, {-0.6, 2.5}}, size),
             .tail = curve({{13.6, 0.5}, {19.9, 0.95}, {20.1, 2.3}, {14.9, 2.9}, {13.7, 2.6}}, size)});
        if (at > 30.0)
            faces.back().gluteus_medius =
                curve({{9.9, 0.3}, {13.2, 0.6}, {13.4, 2.2}, {12.6, 5.2}, {10.1, 4.6}, {9.9, 2}}, size);
    }
    return {40_cm, faces, 1_mm};
}

} // namespace

TEST_CASE("traced_loin: faces shifted, or traced from the other side of the paper, are the same faces") {
    const traced_loin as_it_is = traced([](double x, double y) { return std::pair{x, y}; });
    const traced_loin shifted = traced([](double x, double y) { return std::pair{x + 31.7, y - 5.3}; });
    const traced_loin mirrored = traced([](double x, double y) { return std::pair{12.5 - x, y}; });
    for (const length& at : {0_cm, 7_cm, 20_cm, 33_cm, 40_cm}) {
        CAPTURE(at.value());
        const face f = as_it_is.face_at(at);
        // Areas: roundings of coordinates that are larger by half. Layers: the deepest place is found to a tenth of a
        // micrometre of some millimetres.
        check_same(f, shifted.face_at(at), 1e-12, 1e-4);
        check_same(f, mirrored.face_at(at), 1e-12, 1e-4);
    }
}

TEST_CASE("scanned_loin: a scan shifted, and one that lies along another axis, give the same faces") {
    const triangle_mesh mesh = bumpy_loin(24, 30); // along x, up z
    scan_readings readings{.along = mesh_axis::x,
                           .up = mesh_axis::z,
                           .probes = {{.at = 2_cm, .fat_cover = 9_mm, .silverskin = 1_mm, .tail = 3_cm},
                                      {.at = 38_cm, .fat_cover = 6_mm, .silverskin = 1_mm, .tail = 2_cm}},
                           .gluteus_medius = {.onset = 30_cm, .share_at_end = 0.3}};
    const auto through = [&](auto place) {
        triangle_mesh moved = mesh;
        for (mesh_point& p : moved.vertices) p = place(p);
        return moved;
    };
    const scanned_loin as_it_is(mesh, readings);
    const scanned_loin shifted(through([](mesh_point p) { return p + mesh_point{0.7, -0.2, 0.4}; }), readings);
    // A third of a turn about the diagonal: x to y, y to z, z to x.
    scan_readings other_axes = readings;
    other_axes.along = mesh_axis::y, other_axes.up = mesh_axis::x;
    const scanned_loin turned(through([](mesh_point p) { return mesh_point{p.z, p.x, p.y}; }), other_axes);
    for (const length& at : {1_cm, 9.7_cm, 21_cm, 36.3_cm, 41_cm}) {
        CAPTURE(at.value());
        const face f = as_it_is.face_at(at);
        REQUIRE(f.areas[tissue::tail] > area{});
        check_same(f, shifted.face_at(at), 1e-9,
                   1e-7); // coordinates of a metre, to 1e-16 of it, over a face of 0.01 m2
        check_same(f, turned.face_at(at), 1e-12, 1e-10);
    }
}

} // namespace moved_loin_laws
