// Which of many boxes lie in one of many others, without comparing each with each.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>
#include <vector>

#include <tranche/loin/mesh/triangle_mesh.hpp>

namespace tranche::detail {

/// A k-d tree over boxes as points of six coordinates. O(n log n) to build. To ask whether one box lies in any of them takes
/// O(log n) where boxes lie apart, and never more than O(n^(5/6)), which takes boxes that all cross each other, as those of long
/// rods that stand askew do.
class nested_boxes {
public:
    explicit nested_boxes(std::vector<mesh_bounds> boxes) : boxes_(std::move(boxes)), around_(boxes_.size()) {
        build(0, boxes_.size(), 0);
    }

    /// Whether `inner` lies in one of the boxes, its sides on theirs or not. Adds to `looked_at` how many boxes it took.
    [[nodiscard]] bool any_around(const mesh_bounds& inner, std::size_t& looked_at) const {
        return any_around(inner, 0, boxes_.size(), looked_at);
    }

private:
    /// Those of [from, to): the middle one stands for itself, in front of it are those with less of one coordinate.
    void build(std::size_t from, std::size_t to, std::size_t coordinate) {
        if (from == to) return;
        const std::size_t middle = from + (to - from) / 2;
        const auto at = [&](std::size_t i) { return boxes_.begin() + static_cast<std::ptrdiff_t>(i); };
        std::nth_element(at(from), at(middle), at(to), [&](const mesh_bounds& a, const mesh_bounds& b) {
            return coordinates_of(a)[coordinate] < coordinates_of(b)[coordinate];
        });
        around_[middle] = boxes_[middle];
        for (const auto& [begin, end] : {std::pair{from, middle}, std::pair{middle + 1, to}}) {
            build(begin, end, (coordinate + 1) % 6);
            if (begin == end) continue;
            const mesh_bounds& part = around_[begin + (end - begin) / 2];
            around_[middle].add(part.low);
            around_[middle].add(part.high);
        }
    }

    [[nodiscard]] bool any_around(const mesh_bounds& inner, std::size_t from, std::size_t to,
                                  std::size_t& looked_at) const {
        if (from == to) return false;
        const std::size_t middle = from + (to - from) / 2;
        ++looked_at;
        if (!contains(around_[middle], inner)) return false;
        return contains(boxes_[middle], inner) || any_around(inner, from, middle, looked_at) ||
               any_around(inner, middle + 1, to, looked_at);
    }

    [[nodiscard]] static bool contains(const mesh_bounds& outer, const mesh_bounds& inner) {
        return outer.contains(inner.low) && outer.contains(inner.high);
    }
    [[nodiscard]] static std::array<double, 6> coordinates_of(const mesh_bounds& box) {
        return {box.low.x, box.low.y, box.low.z, box.high.x, box.high.y, box.high.z};
    }

    std::vector<mesh_bounds> boxes_;
    std::vector<mesh_bounds> around_; ///< what all boxes of a part lie in, at the place of the part's middle one
};

} // namespace tranche::detail
