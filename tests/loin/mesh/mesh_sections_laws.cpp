// Laws of sections, on random bodies under random motions, cut in random directions and through their vertices.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/mesh/cumulative_volume.hpp>
#include <tranche/loin/mesh/mesh_faults.hpp>
#include <tranche/loin/mesh/mesh_sections.hpp>

#include "loin/mesh_shapes.hpp"
#include "support/catch.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <map>
#include <tuple>
#include <vector>

namespace mesh_sections_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

detail::cut_frame frame_along(mesh_point direction) {
    const double size = std::sqrt(detail::dot(direction, direction));
    detail::cut_frame frame{.along = 1.0 / size * direction};
    std::tie(frame.across, frame.up) = detail::plane_of(frame.along);
    return frame;
}

triangle_mesh some_body(dice& d) {
    switch (d.below(6)) {
    case 0: return box(d.between(0.01, 0.2), d.between(0.01, 0.2), d.between(0.01, 0.2));
    case 1: return frustum(3 + d.below(30), d.between(0.02, 0.1), d.between(0.02, 0.1), d.between(0.05, 0.3));
    case 2: return bumpy_loin(8 + d.below(20), 4 + d.below(20));
    case 3:
        return torus(d.between(0.06, 0.1), d.between(0.01, 0.05), 8 + static_cast<std::uint32_t>(d.below(20)),
                     3 + static_cast<std::uint32_t>(d.below(20)));
    case 4:
        return together(ball(0.1, 5 + d.below(20), 4 + d.below(16)), ball(0.03, 5 + d.below(9), 4 + d.below(9)), true);
    default: {
        triangle_mesh dented = ball(0.1, 5 + d.below(20), 4 + d.below(16));
        for (mesh_point& p : dented.vertices) p = d.between(0.5, 1.0) * p;
        return dented;
    }
    }
}

double total(const std::vector<detail::flat_ring>& rings) {
    double sum = 0.0;
    for (const auto& ring : rings) sum += detail::signed_area(ring);
    return sum;
}
double total(const std::vector<outline>& outlines) {
    double sum = 0.0;
    for (const auto& curve : outlines) sum += area_of(curve).value();
    return sum;
}
double perimeter(const std::vector<detail::flat_ring>& rings) {
    double sum = 0.0;
    for (const auto& ring : rings)
        detail::for_each_side(ring, [&](auto a, auto b) { sum += std::hypot(b.x - a.x, b.y - a.y); });
    return sum;
}

/// A body of cubes of a centimetre on a lattice: as many flat faces, level vertices and corners that touch as there can be.
struct brickwork {
    static constexpr std::size_t side = 5;
    std::array<bool, side * side * side> filled{};

    [[nodiscard]] bool has(std::size_t x, std::size_t y, std::size_t z) const {
        return x < side && y < side && z < side && filled[(z * side + y) * side + x]; // one below 0 is above `side`
    }
    [[nodiscard]] triangle_mesh surface() const {
        triangle_mesh mesh;
        std::map<std::array<std::size_t, 3>, std::uint32_t> known;
        const auto corner = [&](std::array<std::size_t, 3> p) {
            const auto [place, fresh] = known.try_emplace(p, static_cast<std::uint32_t>(mesh.vertices.size()));
            if (fresh)
                mesh.vertices.push_back({0.01 * static_cast<double>(p[0]), 0.01 * static_cast<double>(p[1]),
                                         0.01 * static_cast<double>(p[2])});
            return place->second;
        };
        for (std::size_t z = 0; z < side; ++z)
            for (std::size_t y = 0; y < side; ++y)
                for (std::size_t x = 0; x < side; ++x) {
                    if (!has(x, y, z)) continue;
                    for (std::size_t axis = 0; axis < 3; ++axis)
                        for (const bool high : {false, true}) {
                            std::array<std::size_t, 3> next{x, y, z};
                            next[axis] += high ? 1 : ~std::size_t{0};
                            if (has(next[0], next[1], next[2])) continue;
                            std::array<std::array<std::size_t, 3>, 4> square{};
                            for (std::size_t k = 0; k < 4; ++k) {
                                square[k] = {x, y, z};
                                square[k][axis] += high ? 1 : 0;
                                square[k][(axis + 1) % 3] += k == 1 || k == 2 ? 1 : 0;
                                square[k][(axis + 2) % 3] += k > 1 ? 1 : 0;
                            }
                            if (!high) std::swap(square[1], square[3]);
                            const std::uint32_t a = corner(square[0]), b = corner(square[1]), c = corner(square[2]);
                            mesh.triangles.push_back({a, b, c});
                            mesh.triangles.push_back({a, c, corner(square[3])});
                        }
                }
        return mesh;
    }
};

} // namespace

// Tolerance: a point of a section is off by a few ε of half a metre; the area by that times the perimeter. Where triangles
// stand nearly level, positions that are off by 1e-16 m move the point along them; 1e-12 of the box around it covers slopes
// up to a few thousand, the steepest that random bodies of these sizes show.
TEST_CASE("mesh_sections: areas are the derivative of the cumulative volume, also through vertices") {
    dice d(20240601);
    for (int trial = 0; trial < 80; ++trial) {
        const triangle_mesh mesh = random_motion(d, 0.5)(some_body(d));
        const detail::cut_frame frame = frame_along(random_motion(d, 0.0).rows[0]);
        const detail::mesh_levels levels(mesh, frame.along);
        const mesh_sections sections(mesh, frame, levels);
        const cumulative_volume volumes(mesh, levels);
        const double box_area = (sections.greatest_width() * sections.greatest_depth()).value();
        CAPTURE(trial, mesh.triangles.size());
        for (int k = 0; k < 20; ++k) {
            const std::vector<double>& vertices = volumes.breakpoints();
            const double s = k % 2 == 0 ? d.between(0.0, vertices.back()) : vertices[d.below(vertices.size())];
            const length at = length::from_value(s);
            const double expected = volumes.area_at(at).value();
            CHECK_THAT(total(sections.rings_at(at)), WithinAbs(expected, 1e-12 * box_area));
            CHECK_THAT(total(sections.outlines_at(at)), WithinAbs(expected, 1e-12 * box_area));
        }
    }
}

TEST_CASE("mesh_sections: turning and shifting mesh and frame together changes neither areas nor lengths") {
    dice d(20240602);
    for (int trial = 0; trial < 40; ++trial) {
        const triangle_mesh mesh = some_body(d);
        const motion m = random_motion(d, 0.5);
        const detail::cut_frame frame = frame_along(random_motion(d, 0.0).rows[0]);
        const mesh_sections here(mesh, frame),
            there(m(mesh), {m.turned(frame.across), m.turned(frame.up), m.turned(frame.along)});
        for (int k = 1; k < 10; ++k) {
            const length at = here.extent() * (k / 10.0);
            const auto one = here.rings_at(at), other = there.rings_at(at);
            REQUIRE(one.size() == other.size());
            CHECK_THAT(total(other), WithinAbs(total(one), 1e-13));
            CHECK_THAT(perimeter(other), WithinAbs(perimeter(one), 1e-11));
        }
    }
}

TEST_CASE("mesh_sections: brickwork shows as many squares as it has bricks there") {
    dice d(20240603);
    int accepted = 0;
    for (int trial = 0; trial < 300 && accepted < 40; ++trial) {
        brickwork bricks;
        const double share = trial % 2 == 0 ? d.between(0.01, 0.1) : d.between(0.85, 0.99);
        for (bool& b : bricks.filled) b = d.between(0.0, 1.0) < share;
        const triangle_mesh mesh = bricks.surface();
        if (!faults_of(mesh).closed()) continue; // bricks that meet in an edge alone
        ++accepted;
        for (const mesh_axis axis : {mesh_axis::x, mesh_axis::y, mesh_axis::z}) {
            const detail::cut_frame frame = detail::frame_of(axis, axis == mesh_axis::z ? mesh_axis::x : mesh_axis::z);
            const mesh_sections sections(mesh, frame);
            const auto first =
                static_cast<std::size_t>(std::lround(100.0 * detail::dot(detail::bounds_of(mesh).low, frame.along)));
            const auto layers = static_cast<std::size_t>(std::lround(100.0 * sections.extent().value()));
            for (std::size_t half = 0; half <= 2 * layers; ++half) {
                const std::size_t layer = first + std::min(half / 2, layers - 1); // of the last level, that before it
                int count = 0;
                for (std::size_t a = 0; a < brickwork::side; ++a)
                    for (std::size_t b = 0; b < brickwork::side; ++b)
                        count += axis == mesh_axis::x   ? bricks.has(layer, a, b)
                                 : axis == mesh_axis::y ? bricks.has(a, layer, b)
                                                        : bricks.has(a, b, layer);
                const length at = half == 2 * layers
                                      ? sections.extent()
                                      : length::from_value(0.005 * static_cast<double>(half) * (1.0 + 1e-15));
                CHECK_THAT(total(sections.outlines_at(at)), WithinAbs(1e-4 * count, 1e-15));
            }
        }
        // Askew through rows of corners.
        for (const mesh_point direction : {mesh_point{1, 1, 0}, mesh_point{1, 1, 1}, mesh_point{1, -2, 3}}) {
            const detail::cut_frame frame = frame_along(direction);
            const detail::mesh_levels levels(mesh, frame.along);
            const mesh_sections sections(mesh, frame, levels);
            const cumulative_volume volumes(mesh, levels);
            for (const double s : volumes.breakpoints()) {
                const length at = length::from_value(s);
                CHECK_THAT(total(sections.outlines_at(at)), WithinAbs(volumes.area_at(at).value(), 1e-15));
            }
        }
    }
    CHECK(accepted >= 20);
}

} // namespace mesh_sections_laws
