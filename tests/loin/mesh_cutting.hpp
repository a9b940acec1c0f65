// Cuts a mesh in two the plain way, one triangle after the other and anew for each plane: the oracle.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/mesh/triangle_mesh.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace tranche_test {

/// Signed volume of the tetrahedron a b c d.
inline double tetrahedron(tranche::mesh_point a, tranche::mesh_point b, tranche::mesh_point c, tranche::mesh_point d) {
    return tranche::detail::dot(b - a, tranche::detail::cross(c - a, d - a)) / 6.0;
}

/// Volume of the part of a tetrahedron where direction · p < s, not negative.
inline double clipped_tetrahedron(std::array<tranche::mesh_point, 4> v, tranche::mesh_point direction, double s) {
    std::array<double, 4> h{};
    std::sort(v.begin(), v.end(),
              [&](auto p, auto q) { return tranche::detail::dot(direction, p) < tranche::detail::dot(direction, q); });
    for (std::size_t i = 0; i < 4; ++i) h[i] = tranche::detail::dot(direction, v[i]) - s;
    const double whole = std::abs(tetrahedron(v[0], v[1], v[2], v[3]));
    const auto on = [&](std::size_t i, std::size_t j) { return v[i] + h[i] / (h[i] - h[j]) * (v[j] - v[i]); };
    if (h[0] >= 0.0) return 0.0;
    if (h[3] <= 0.0) return whole;
    if (h[1] >= 0.0) return std::abs(tetrahedron(v[0], on(0, 1), on(0, 2), on(0, 3)));
    if (h[2] <= 0.0) return whole - std::abs(tetrahedron(v[3], on(0, 3), on(1, 3), on(2, 3)));
    // A wedge between the edge 0-1 and the quadrilateral 02, 03, 13, 12: three tetrahedra.
    const auto a = on(0, 2), b = on(0, 3), c = on(1, 3), d = on(1, 2);
    return std::abs(tetrahedron(v[0], v[1], c, d)) + std::abs(tetrahedron(v[0], a, b, c)) +
           std::abs(tetrahedron(v[0], a, c, d));
}

/// Volume of the mesh where direction · p < s: each triangle makes a tetrahedron with the first vertex, counted as
/// negative where the triangle faces it.
inline double clipped_volume(const tranche::triangle_mesh& mesh, tranche::mesh_point direction, double s) {
    double sum = 0.0;
    const tranche::mesh_point apex = mesh.vertices.front();
    for (const auto& [a, b, c] : mesh.triangles) {
        const std::array<tranche::mesh_point, 4> v{apex, mesh.vertices[a], mesh.vertices[b], mesh.vertices[c]};
        const double part = clipped_tetrahedron(v, direction, s);
        sum += tetrahedron(v[0], v[1], v[2], v[3]) < 0.0 ? -part : part;
    }
    return sum;
}

/// Area of the section where direction · p = s, for a direction of length one and an s at which no vertex lies: half the
/// sum of direction · (p × q) over the edges p q of the section.
inline double sliced_area(const tranche::triangle_mesh& mesh, tranche::mesh_point direction, double s) {
    double sum = 0.0;
    const tranche::mesh_point apex = mesh.vertices.front();
    for (const auto& triangle : mesh.triangles) {
        tranche::mesh_point p{}, q{}; // where a side falls through the plane, and where one rises
        bool met = false;
        for (std::size_t k = 0; k < 3; ++k) {
            const auto from = mesh.vertices[triangle[k]], to = mesh.vertices[triangle[(k + 1) % 3]];
            const double h0 = tranche::detail::dot(direction, from) - s, h1 = tranche::detail::dot(direction, to) - s;
            if ((h0 < 0.0) == (h1 < 0.0)) continue;
            met = true;
            (h0 < 0.0 ? q : p) = from + h0 / (h0 - h1) * (to - from) - apex;
        }
        if (met) sum += tranche::detail::dot(direction, tranche::detail::cross(p, q));
    }
    return 0.5 * sum;
}

} // namespace tranche_test
