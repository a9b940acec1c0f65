// A body as the triangles of its surface, and the volume inside them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// A point of a scan. In metres and plain numbers, because a scan has a million of them.
struct mesh_point {
    double x = 0.0, y = 0.0, z = 0.0;

    friend constexpr mesh_point operator+(mesh_point a, mesh_point b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
    friend constexpr mesh_point operator-(mesh_point a, mesh_point b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
    friend constexpr mesh_point operator*(double k, mesh_point a) {
        return {detail::unfused(k * a.x), detail::unfused(k * a.y), detail::unfused(k * a.z)};
    }
    friend constexpr bool operator==(const mesh_point&, const mesh_point&) = default;
};

namespace detail {

[[nodiscard]] constexpr double dot(mesh_point a, mesh_point b) {
    return detail::unfused(a.x * b.x) + detail::unfused(a.y * b.y) + detail::unfused(a.z * b.z);
}
[[nodiscard]] constexpr mesh_point cross(mesh_point a, mesh_point b) {
    const auto minor = [](double p, double q, double r, double s) {
        return detail::unfused(p * q) - detail::unfused(r * s);
    };
    return {minor(a.y, b.z, a.z, b.y), minor(a.z, b.x, a.x, b.z), minor(a.x, b.y, a.y, b.x)};
}

} // namespace detail

/// Triangles as triples of indices into `vertices`, counter-clockwise seen from outside. Made by `read_obj`, `read_ply`
/// and `read_stl`, or by hand; `validate` says whether it is the whole surface of a body.
struct triangle_mesh {
    using triangle = std::array<std::uint32_t, 3>;

    std::vector<mesh_point> vertices{};
    std::vector<triangle> triangles{};

    friend bool operator==(const triangle_mesh&, const triangle_mesh&) = default;
};

/// The box around all vertices, its sides along x, y and z. Of a mesh without vertices: `low` above `high`.
struct mesh_bounds {
    mesh_point low{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity(),
                   std::numeric_limits<double>::infinity()};
    mesh_point high = -1.0 * low;

    /// The middle of the box, in metres; NaN or infinite where the mesh had no vertices. Throws nothing.
    [[nodiscard]] mesh_point centre() const { return low + 0.5 * (high - low); }
    /// Whether `p`, in metres, lies in the box or on its surface; never for NaN. Throws nothing.
    [[nodiscard]] bool contains(mesh_point p) const {
        return low.x <= p.x && p.x <= high.x && low.y <= p.y && p.y <= high.y && low.z <= p.z && p.z <= high.z;
    }
    /// Widens the box so that it holds `p`, in metres; coordinates are finite, which is not checked. Throws nothing.
    void add(mesh_point p) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
    }

    friend bool operator==(const mesh_bounds&, const mesh_bounds&) = default;
};

namespace detail {

[[nodiscard]] inline mesh_bounds bounds_of(const triangle_mesh& mesh) {
    mesh_bounds box;
    for (const mesh_point& p : mesh.vertices) box.add(p);
    return box;
}

/// With every coordinate on its grain; see `snapped_coordinate`.
[[nodiscard]] inline triangle_mesh snapped(triangle_mesh mesh) {
    for (mesh_point& p : mesh.vertices) p = {snapped_coordinate(p.x), snapped_coordinate(p.y), snapped_coordinate(p.z)};
    return mesh;
}

/// Volume inside a closed mesh, by the divergence theorem: Σ a · (b × c) / 6 over its triangles (a, b, c), seen from the
/// centre of the box around it so that a body far from the origin loses no digits. Negative for a mesh that is inside out.
/// Indices must be in range. O(triangles).
[[nodiscard]] inline volume volume_of(const triangle_mesh& mesh) {
    const mesh_point origin = bounds_of(mesh).centre();
    double sixfold = 0.0;
    for (const auto& [a, b, c] : mesh.triangles)
        sixfold += dot(mesh.vertices[a] - origin, cross(mesh.vertices[b] - origin, mesh.vertices[c] - origin));
    return volume::from_value(sixfold / 6.0);
}

} // namespace detail

} // namespace tranche
