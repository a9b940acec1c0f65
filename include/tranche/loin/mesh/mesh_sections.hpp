// The sections of a mesh at right angles to a direction, as closed curves: exact at any place.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include <tranche/loin/mesh/cut_direction.hpp>
#include <tranche/loin/mesh/detail/mesh_levels.hpp>
#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/loin/outline/detail/sweep.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// Where planes at right angles to `frame.along` meet the surface of a closed mesh, in the frame's own directions.
/// Coordinates are measured from the lowest that any vertex has across and up, so all sections share one origin.
///
/// A vertex on the plane counts as in front of it, and at the last vertex of all as behind it, so that a section is that on
/// the side of more s, as with `cumulative_volume::area_at`. Every edge of the mesh is then either crossed by the plane or
/// not, whatever vertices, edges and flat faces lie in it. A crossed edge stands on two triangles, of which one sees it fall
/// and one rise, so each crossing ends one side of the section and begins the next: following them gives closed curves,
/// without any tolerance. They run against the clock around meat and with it around hollows.
///
/// `frame.across` may also point the other way: then every section is its mirror image. Immutable; safe to share.
class mesh_sections {
public:
    /// O(n log n) for n triangles. The mesh passed `validate`. Throws `invalid_input` for a mesh without extent.
    /// Coordinates are metres.
    mesh_sections(const triangle_mesh& mesh, const detail::cut_frame& frame)
        : mesh_sections(mesh, frame, detail::mesh_levels(mesh, frame.along)) {}
    /// The same with `levels` of the mesh along `frame.along`. Throws nothing of its own.
    mesh_sections(const triangle_mesh& mesh, const detail::cut_frame& frame, const detail::mesh_levels& levels);

    /// From the foremost to the last vertex. In metres, above zero. Throws nothing.
    [[nodiscard]] length extent() const { return length::from_value(positions_.back()); }
    /// Of the whole mesh, across, in metres, zero or more. Throws nothing.
    [[nodiscard]] length greatest_width() const { return length::from_value(sizes_.x); }
    /// The same up, in metres. Throws nothing.
    [[nodiscard]] length greatest_depth() const { return length::from_value(sizes_.y); }

    /// The section at `at` as outlines with their holes; none beyond the mesh. A hollow that lies in no meat, as the
    /// skin of a part that is inside out, is left out. O(k log n + holes × k) for k triangles that the plane meets.
    /// Lengths are in metres, `at` any but NaN; throws nothing but for lack of memory.
    [[nodiscard]] std::vector<outline> outlines_at(length at) const;

    /// The curves of the section in metres, without points that stand twice in a row and curves without area. O(k log
    /// n). `at` is any length but NaN. Throws nothing but for lack of memory.
    [[nodiscard]] std::vector<detail::flat_ring> rings_at(length at) const;

private:
    /// From one edge of the mesh to the next.
    using crossing = detail::curve_step<std::uint64_t>;
    /// Calls f with each triangle that has corners both in front of and behind a plane just behind level `front`.
    template <class F>
    void for_each_met(std::uint32_t front, F&& f) const;
    [[nodiscard]] std::vector<crossing> crossings(double s, std::uint32_t front) const;
    [[nodiscard]] std::uint32_t level(std::uint32_t vertex) const { return levels_[vertex]; }

    std::vector<double> positions_;                  ///< of the levels, metres
    std::vector<detail::flat_point> places_;         ///< of the vertices, across and up
    std::vector<std::uint32_t> levels_;              ///< of the vertices
    std::vector<triangle_mesh::triangle> triangles_; ///< by the level of their foremost corners
    std::vector<std::uint32_t> first_;               ///< those levels
    std::vector<std::uint32_t> last_;                ///< a binary tree: the last level of any triangle below a node
    detail::flat_point sizes_{};
};

inline mesh_sections::mesh_sections(const triangle_mesh& mesh, const detail::cut_frame& frame,
                                    const detail::mesh_levels& levels)
    : positions_(levels.positions()) {
    const mesh_point origin = detail::bounds_of(mesh).centre();
    const auto count = mesh.vertices.size();
    places_.resize(count);
    levels_.resize(count);
    for (std::size_t v = 0; v < count; ++v) {
        const mesh_point p = mesh.vertices[v] - origin;
        places_[v] = {detail::dot(p, frame.across), detail::dot(p, frame.up)};
        levels_[v] = levels.level(v);
    }
    detail::flat_box box;
    for (const auto& corners : mesh.triangles)
        for (const std::uint32_t v : corners) box.add(places_[v]);
    sizes_ = {box.high.x - box.low.x, box.high.y - box.low.y};
    for (detail::flat_point& p : places_) p = {p.x - box.low.x, p.y - box.low.y};

    const auto foremost = [&](const triangle_mesh::triangle& t) {
        return std::min({level(t[0]), level(t[1]), level(t[2])});
    };
    triangles_ = mesh.triangles;
    const bool mirrored = detail::dot(detail::cross(frame.across, frame.up), frame.along) < 0.0;
    if (mirrored)
        for (auto& corners : triangles_) std::swap(corners[1], corners[2]);
    std::sort(triangles_.begin(), triangles_.end(), [&](const auto& a, const auto& b) {
        return foremost(a) != foremost(b) ? foremost(a) < foremost(b) : a < b;
    });
    first_.reserve(triangles_.size());
    const std::size_t leaves = std::bit_ceil(triangles_.size());
    last_.assign(2 * leaves, 0);
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
        const auto& [a, b, c] = triangles_[t];
        first_.push_back(foremost(triangles_[t]));
        last_[leaves + t] = std::max({level(a), level(b), level(c)});
    }
    for (std::size_t node = leaves - 1; node > 0; --node) last_[node] = std::max(last_[2 * node], last_[2 * node + 1]);
}

template <class F>
void mesh_sections::for_each_met(std::uint32_t front, F&& f) const {
    const std::size_t leaves = last_.size() / 2;
    const auto end = static_cast<std::size_t>(std::upper_bound(first_.begin(), first_.end(), front) - first_.begin());
    const auto visit = [&](const auto& self, std::size_t node, std::size_t from, std::size_t width) -> void {
        if (from >= end || last_[node] <= front) return;
        if (width == 1) {
            f(triangles_[from]);
            return;
        }
        self(self, 2 * node, from, width / 2);
        self(self, 2 * node + 1, from + width / 2, width / 2);
    };
    visit(visit, 1, 0, leaves);
}

inline std::vector<mesh_sections::crossing> mesh_sections::crossings(double s, std::uint32_t front) const {
    std::vector<crossing> found;
    for_each_met(front, [&](const triangle_mesh::triangle& corners) {
        const auto edge_of = [](std::uint32_t a, std::uint32_t b) {
            return (static_cast<std::uint64_t>(std::min(a, b)) << 32U) | std::max(a, b);
        };
        crossing c;
        for (std::size_t k = 0; k < 3; ++k) {
            const std::uint32_t from = corners[k], to = corners[(k + 1) % 3];
            const bool begins_behind = level(from) > front, ends_behind = level(to) > front;
            if (begins_behind == ends_behind) continue;
            if (ends_behind) {
                c.to = edge_of(from, to);
                continue;
            }
            c.from = edge_of(from, to);
            const detail::flat_point p = places_[to], q = places_[from]; // in front and behind
            const double height = positions_[level(to)];
            const double t = std::clamp((s - height) / (positions_[level(from)] - height), 0.0, 1.0);
            c.place = {p.x + detail::unfused(t * (q.x - p.x)), p.y + detail::unfused(t * (q.y - p.y))};
        }
        found.push_back(c);
    });
    return found;
}

inline std::vector<detail::flat_ring> mesh_sections::rings_at(length at) const {
    const double s = at.value();
    if (!(s >= 0.0 && s <= positions_.back())) return {};
    const auto behind = std::upper_bound(positions_.begin(), positions_.end() - 1, s);
    const auto front = static_cast<std::uint32_t>(behind - positions_.begin() - 1);
    return detail::closed_curves(crossings(s, front), [](const detail::flat_ring& ring, detail::flat_point next) {
        return !ring.empty() && ring.back() == next;
    });
}

inline std::vector<outline> mesh_sections::outlines_at(length at) const { return detail::outlines_of(rings_at(at)); }

} // namespace tranche
