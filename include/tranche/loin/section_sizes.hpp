// How wide and how deep the sections of a mesh are, along a direction.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>
#include <vector>

#include <tranche/loin/cut_direction.hpp>
#include <tranche/loin/triangle_mesh.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// Width and depth of the sections of a mesh at right angles to `frame.along`: how far each reaches in the directions
/// `frame.across` and `frame.up`, which need not lie in the section. Exact at 513 even stations
/// from the foremost vertex to the last, and in a straight line between them; so, unlike areas and volumes, sampled. That
/// is enough for pictures and for a layer of fat. A hollow in the outline counts as full.
class section_sizes {
public:
    static constexpr std::size_t intervals = 512;

    /// O(triangles × stations that each of them meets), at most O(triangles × 513). The mesh has vertices, and its indices
    /// are in range.
    section_sizes(const triangle_mesh& mesh, const cut_frame& frame);

    [[nodiscard]] length width(length at) const { return length::from_value(read(&reach::across, at)); }
    [[nodiscard]] length depth(length at) const { return length::from_value(read(&reach::up, at)); }
    [[nodiscard]] length greatest_depth() const {
        double greatest = 0.0;
        for (const reach& r : reaches_) greatest = std::max(greatest, r.up.size());
        return length::from_value(greatest);
    }

private:
    struct interval {
        double low = std::numeric_limits<double>::infinity(), high = -low;
        void include(double value) {
            low = std::min(low, value);
            high = std::max(high, value);
        }
        [[nodiscard]] double size() const { return std::max(0.0, high - low); }
    };
    struct reach {
        interval across{}, up{};
        void include(mesh_point p) {
            across.include(p.x);
            up.include(p.y);
        }
    };
    [[nodiscard]] double read(interval reach::*side, length at) const {
        const double place = std::clamp<double>(at.value() / step_, 0.0, static_cast<double>(intervals));
        const auto i = std::min(static_cast<std::size_t>(place), intervals - 1);
        const double t = place - static_cast<double>(i);
        return (1.0 - t) * (reaches_[i].*side).size() + t * (reaches_[i + 1].*side).size();
    }
    void add(std::array<mesh_point, 3> corners);

    double step_ = 0.0; ///< metres
    std::vector<reach> reaches_{intervals + 1};
};

inline section_sizes::section_sizes(const triangle_mesh& mesh, const cut_frame& frame) {
    const mesh_point origin = bounds_of(mesh).centre();
    std::vector<mesh_point> places(mesh.vertices.size()); // across, up, along
    for (std::size_t v = 0; v < places.size(); ++v) {
        const mesh_point p = mesh.vertices[v] - origin;
        places[v] = {dot(p, frame.across), dot(p, frame.up), dot(p, frame.along)};
    }
    interval whole;
    for (const auto& corners : mesh.triangles)
        for (const std::uint32_t v : corners) whole.include(places[v].z);
    for (mesh_point& p : places) p.z -= whole.low;
    step_ = whole.size() / static_cast<double>(intervals);
    for (const auto& [a, b, c] : mesh.triangles) add({places[a], places[b], places[c]});
}

inline void section_sizes::add(std::array<mesh_point, 3> corners) {
    std::sort(corners.begin(), corners.end(), [](const mesh_point& a, const mesh_point& b) { return a.z < b.z; });
    const auto& [p, q, r] = corners;
    const double near = 1e-9; // in steps: a flat face that stands a rounding error askew is still met as a whole
    const double last = static_cast<double>(intervals);
    const auto from = static_cast<std::size_t>(std::clamp(std::ceil(p.z / step_ - near), 0.0, last));
    const auto to = static_cast<std::size_t>(std::clamp(std::floor(r.z / step_ + near), 0.0, last));
    const auto between = [](const mesh_point& a, const mesh_point& b, double s) {
        const double t = b.z > a.z ? std::clamp((s - a.z) / (b.z - a.z), 0.0, 1.0) : 0.0;
        return a + t * (b - a);
    };
    for (std::size_t i = from; i <= to; ++i) {
        const double s = static_cast<double>(i) * step_;
        if (r.z - p.z <= 2.0 * near * step_) {
            for (const mesh_point& corner : corners) reaches_[i].include(corner);
        } else {
            reaches_[i].include(between(p, r, s));
            reaches_[i].include(s < q.z ? between(p, q, s) : between(q, r, s));
        }
    }
}

} // namespace tranche
