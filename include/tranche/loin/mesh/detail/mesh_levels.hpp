// How far along a direction the vertices of a mesh lie, and which of them are level.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// Where the vertices of a mesh lie along a direction, measured from the foremost one. Vertices closer together than
/// 10⁻¹² of the extent are taken as level, so that a flat face which stands a rounding error askew is met as a whole.
/// Vertices of no triangle do not count. Whatever cuts one mesh at one place (`cumulative_volume`, `mesh_sections`) tells
/// by it which vertices lie in front.
class mesh_levels {
public:
    /// O(n log n). `direction` has any length but zero; indices are in range. Throws `invalid_input` for a bad direction
    /// and for a mesh without extent along it.
    mesh_levels(const triangle_mesh& mesh, mesh_point direction);

    /// Of length one.
    [[nodiscard]] mesh_point along() const { return along_; }
    /// Strictly rising from 0 to the extent, in metres; two or more.
    [[nodiscard]] const std::vector<double>& positions() const { return positions_; }
    /// The index in `positions()` of a vertex that is a corner of some triangle.
    [[nodiscard]] std::uint32_t level(std::size_t vertex) const { return levels_[vertex]; }

private:
    mesh_point along_;
    std::vector<double> positions_;
    std::vector<std::uint32_t> levels_; ///< beside the vertices
};

inline mesh_levels::mesh_levels(const triangle_mesh& mesh, mesh_point direction) {
    // The one of three numbers is a template of the standard library, which compilers fuse.
    const double size = std::hypot(std::hypot(direction.x, direction.y), direction.z);
    if (!(size > 0.0) || !std::isfinite(size))
        throw invalid_input("direction", "one of no finite length", "a finite vector that is not zero");
    along_ = 1.0 / size * direction;
    const mesh_point origin = bounds_of(mesh).centre();
    std::vector<char> used(mesh.vertices.size());
    for (const triangle_mesh::triangle& corners : mesh.triangles)
        for (const std::uint32_t v : corners) used[v] = 1;
    std::vector<std::pair<double, std::uint32_t>> order;
    order.reserve(used.size());
    for (std::uint32_t v = 0; v < used.size(); ++v)
        if (used[v] != 0) order.emplace_back(dot(mesh.vertices[v] - origin, along_), v);
    std::sort(order.begin(), order.end());
    const double extent = order.empty() ? 0.0 : order.back().first - order.front().first;
    if (!(extent > 0.0)) throw invalid_input("mesh", "no extent along the direction", "a body");
    levels_.resize(used.size());
    for (const auto& [height, v] : order) {
        const double s = height - order.front().first;
        if (positions_.empty() || s - positions_.back() > unfused(1e-12 * extent)) positions_.push_back(s);
        levels_[v] = static_cast<std::uint32_t>(positions_.size() - 1);
    }
}

} // namespace tranche::detail
