// Bodies whose volume is known, as meshes, and motions to test them under. All invented.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/mesh/triangle_mesh.hpp>

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <random>
#include <vector>

namespace tranche_test {

using tranche::mesh_point;
using tranche::triangle_mesh;

/// Numbers that are the same with every standard library.
class dice {
public:
    explicit dice(std::uint64_t seed) : bits_(seed) {}
    double between(double low, double high) {
        return low + (high - low) * static_cast<double>(bits_() >> 11U) * 0x1p-53;
    }
    std::size_t below(std::size_t count) { return static_cast<std::size_t>(bits_() % count); }

private:
    std::mt19937_64 bits_;
};

/// A ring of points around the z axis, counter-clockwise seen from above.
template <class Radius>
std::vector<mesh_point> ring(std::size_t slices, double z, Radius radius) {
    std::vector<mesh_point> points;
    for (std::size_t j = 0; j < slices; ++j) {
        const double turn = 2.0 * std::numbers::pi * static_cast<double>(j) / static_cast<double>(slices);
        points.push_back({radius(turn) * std::cos(turn), radius(turn) * std::sin(turn), z});
    }
    return points;
}

/// The surface through rings of equally many points, rising in z, closed by fans around `bottom` and `top`.
inline triangle_mesh tube(const std::vector<std::vector<mesh_point>>& rings, mesh_point bottom, mesh_point top) {
    triangle_mesh mesh;
    const auto slices = static_cast<std::uint32_t>(rings.front().size());
    for (const auto& points : rings) mesh.vertices.insert(mesh.vertices.end(), points.begin(), points.end());
    const auto low = static_cast<std::uint32_t>(mesh.vertices.size()), high = low + 1;
    const std::uint32_t upper = slices * static_cast<std::uint32_t>(rings.size() - 1);
    mesh.vertices.push_back(bottom);
    mesh.vertices.push_back(top);
    for (std::uint32_t j = 0; j < slices; ++j) {
        const std::uint32_t next = (j + 1) % slices;
        mesh.triangles.push_back({low, next, j});
        mesh.triangles.push_back({high, upper + j, upper + next});
        for (std::uint32_t from = 0; from < upper; from += slices) {
            mesh.triangles.push_back({from + j, from + next, from + slices + next});
            mesh.triangles.push_back({from + j, from + slices + next, from + slices + j});
        }
    }
    return mesh;
}

/// A regular prism or frustum of a pyramid on the z axis: n corners at `r0` from it below, at `r1` above.
inline triangle_mesh frustum(std::size_t corners, double r0, double r1, double height) {
    return tube({ring(corners, 0.0, [&](double) { return r0; }), ring(corners, height, [&](double) { return r1; })},
                {0.0, 0.0, 0.0}, {0.0, 0.0, height});
}
/// Its volume: h / 3 (A0 + A1 + √(A0 A1)), where A = n / 2 sin(2 pi / n) r².
inline double frustum_volume(std::size_t corners, double r0, double r1, double height) {
    const double n = static_cast<double>(corners), per_square = n / 2.0 * std::sin(2.0 * std::numbers::pi / n);
    return height / 3.0 * per_square * (r0 * r0 + r1 * r1 + r0 * r1);
}

/// A ball of latitudes and longitudes around the origin, poles on the z axis.
inline triangle_mesh ball(double radius, std::size_t slices, std::size_t stacks) {
    std::vector<std::vector<mesh_point>> rings;
    for (std::size_t k = 1; k < stacks; ++k) {
        const double polar = std::numbers::pi * static_cast<double>(k) / static_cast<double>(stacks);
        rings.push_back(ring(slices, -radius * std::cos(polar), [&](double) { return radius * std::sin(polar); }));
    }
    return tube(rings, {0.0, 0.0, -radius}, {0.0, 0.0, radius});
}

/// A ring of `slices` discs of `radius`, each of `stacks` corners, whose middles stand `middle` from the z axis.
inline triangle_mesh torus(double middle, double radius, std::uint32_t slices, std::uint32_t stacks) {
    triangle_mesh mesh;
    for (std::uint32_t i = 0; i < slices; ++i)
        for (std::uint32_t k = 0; k < stacks; ++k) {
            const double around = 2.0 * std::numbers::pi * i / slices, turn = 2.0 * std::numbers::pi * k / stacks;
            const double from_axis = middle + radius * std::cos(turn);
            mesh.vertices.push_back(
                {from_axis * std::cos(around), from_axis * std::sin(around), radius * std::sin(turn)});
            const std::uint32_t next = (i + 1) % slices * stacks, here = i * stacks, above = (k + 1) % stacks;
            mesh.triangles.push_back({here + k, next + k, next + above});
            mesh.triangles.push_back({here + k, next + above, here + above});
        }
    return mesh;
}

/// Two bodies in one mesh; of a body that is turned inside out, the room it fills is a hollow.
inline triangle_mesh together(triangle_mesh mesh, const triangle_mesh& other, bool inside_out = false) {
    const auto known = static_cast<std::uint32_t>(mesh.vertices.size());
    mesh.vertices.insert(mesh.vertices.end(), other.vertices.begin(), other.vertices.end());
    for (const auto& [a, b, c] : other.triangles)
        mesh.triangles.push_back({known + a, known + (inside_out ? c : b), known + (inside_out ? b : c)});
    return mesh;
}
inline triangle_mesh moved(triangle_mesh mesh, mesh_point by) {
    for (mesh_point& p : mesh.vertices) p = p + by;
    return mesh;
}

/// A box from the origin with sides `a`, `b` and `c`.
inline triangle_mesh box(double a, double b, double c) {
    triangle_mesh mesh;
    for (const double z : {0.0, c})
        for (const double y : {0.0, b})
            for (const double x : {0.0, a}) mesh.vertices.push_back({x, y, z});
    mesh.triangles = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6}, {0, 1, 5}, {0, 5, 4},
                      {2, 6, 7}, {2, 7, 3}, {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};
    return mesh;
}

/// Little boxes far enough from each other, every other one inside out and smaller, none of them in another.
inline triangle_mesh crumbs(std::size_t count) {
    triangle_mesh mesh;
    dice d(count);
    const auto across = static_cast<std::size_t>(std::ceil(std::cbrt(static_cast<double>(count))));
    for (std::size_t i = 0; i < count; ++i) {
        const double most = i % 2 == 1 ? 0.4 : 0.9, least = most - 0.3;
        const triangle_mesh crumb = box(d.between(least, most), d.between(least, most), d.between(least, most));
        const auto known = static_cast<std::uint32_t>(mesh.vertices.size());
        const mesh_point corner{static_cast<double>(i % across), static_cast<double>(i / across % across),
                                static_cast<double>(i / across / across)};
        for (const mesh_point& p : crumb.vertices) mesh.vertices.push_back(p + corner);
        for (const auto& [a, b, c] : crumb.triangles)
            mesh.triangles.push_back({known + a, known + (i % 2 == 1 ? c : b), known + (i % 2 == 1 ? b : c)});
    }
    return mesh;
}

/// A bumpy loin, 420 mm along x from the origin, about 160 mm wide (y) and 75 mm deep (z), with blunt ends.
inline triangle_mesh bumpy_loin(std::size_t slices, std::size_t stacks) {
    std::vector<std::vector<mesh_point>> rings;
    for (std::size_t k = 0; k <= stacks; ++k) {
        const double t = static_cast<double>(k) / static_cast<double>(stacks);
        auto points = ring(slices, 0.420 * t, [&](double turn) {
            return 1.0 - 0.12 * t + 0.03 * std::sin(3.0 * turn + 9.0 * t) + 0.02 * std::cos(7.0 * turn - 20.0 * t);
        });
        for (mesh_point& p : points) p = {p.z, 0.080 * p.x, 0.0375 * p.y};
        rings.push_back(points);
    }
    return tube(rings, {0.0, 0.0, 0.0}, {0.420, 0.0, 0.0});
}

/// A rotation followed by a shift.
struct motion {
    std::array<mesh_point, 3> rows{mesh_point{1, 0, 0}, mesh_point{0, 1, 0}, mesh_point{0, 0, 1}};
    mesh_point shift{};

    [[nodiscard]] mesh_point turned(mesh_point p) const {
        return {tranche::detail::dot(rows[0], p), tranche::detail::dot(rows[1], p), tranche::detail::dot(rows[2], p)};
    }
    [[nodiscard]] triangle_mesh operator()(triangle_mesh mesh) const {
        for (mesh_point& p : mesh.vertices) p = turned(p) + shift;
        return mesh;
    }
};

inline motion random_motion(dice& d, double farthest) {
    double w = 0, x = 0, y = 0, z = 0, size = 0;
    do {
        w = d.between(-1, 1), x = d.between(-1, 1), y = d.between(-1, 1), z = d.between(-1, 1);
        size = w * w + x * x + y * y + z * z;
    } while (size > 1.0 || size < 0.01);
    const double k = 2.0 / size; // the rotation of a quaternion
    return {{mesh_point{1 - k * (y * y + z * z), k * (x * y - w * z), k * (x * z + w * y)},
             mesh_point{k * (x * y + w * z), 1 - k * (x * x + z * z), k * (y * z - w * x)},
             mesh_point{k * (x * z - w * y), k * (y * z + w * x), 1 - k * (x * x + y * y)}},
            {d.between(-farthest, farthest), d.between(-farthest, farthest), d.between(-farthest, farthest)}};
}

} // namespace tranche_test
