// Outlines between two outlines: point by point, or shrinking away.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include <tranche/loin/outline/outline.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// `count` points along a closed curve, evenly spaced, from its point nearest the chine on, against the clock.
template <class = when_called>
[[nodiscard]] std::vector<flat_point> evenly_spaced(const std::vector<outline_point>& curve, std::size_t count) {
    flat_ring ring = flattened(curve);
    if (signed_area(ring) < 0.0) std::reverse(ring.begin(), ring.end());
    std::rotate(ring.begin(),
                std::min_element(ring.begin(), ring.end(), [](flat_point a, flat_point b) { return a.x < b.x; }),
                ring.end());
    ring.push_back(ring.front());
    const auto side = [&](std::size_t i) { return std::hypot(ring[i + 1].x - ring[i].x, ring[i + 1].y - ring[i].y); };
    double around = 0.0;
    for (std::size_t i = 0; i + 1 < ring.size(); ++i) around += side(i);
    std::vector<flat_point> points;
    double passed = 0.0;
    for (std::size_t i = 0; points.size() < count;) {
        const double wanted = around * static_cast<double>(points.size()) / static_cast<double>(count);
        if (wanted > passed + side(i) && i + 2 < ring.size()) {
            passed += side(i++);
            continue;
        }
        const double t = (wanted - passed) / side(i);
        points.push_back({ring[i].x + unfused(t * (ring[i + 1].x - ring[i].x)),
                          ring[i].y + unfused(t * (ring[i + 1].y - ring[i].y))});
    }
    return points;
}

template <class = when_called>
[[nodiscard]] std::vector<outline_point> blended_points(const std::vector<outline_point>& a,
                                                        const std::vector<outline_point>& b, double t) {
    constexpr std::size_t count = 128;
    const auto one = evenly_spaced(a, count), other = evenly_spaced(b, count);
    std::vector<outline_point> mixed;
    for (std::size_t i = 0; i < count; ++i)
        mixed.push_back(to_outline_point({unfused((1.0 - t) * one[i].x) + unfused(t * other[i].x),
                                          unfused((1.0 - t) * one[i].y) + unfused(t * other[i].y)}));
    return mixed;
}

/// The mean of its corners.
template <class = when_called>
[[nodiscard]] outline_point middle_of(const std::vector<outline_point>& curve) {
    outline_point middle;
    for (const outline_point& p : curve) {
        middle.across += p.across / static_cast<double>(curve.size());
        middle.up += p.up / static_cast<double>(curve.size());
    }
    return middle;
}

template <class = when_called>
[[nodiscard]] std::vector<outline_point> shrunk_points(std::vector<outline_point> curve, outline_point towards,
                                                       double factor) {
    for (outline_point& p : curve)
        p = {towards.across + unfused(factor * (p.across - towards.across)),
             towards.up + unfused(factor * (p.up - towards.up))};
    return curve;
}

/// Towards the mean of its corners, holes and all.
template <class = when_called>
[[nodiscard]] outline shrunk(const outline& curve, double factor) {
    const outline_point middle = middle_of(curve.points);
    outline result{.points = shrunk_points(curve.points, middle, factor)};
    for (const auto& hole : curve.holes) result.holes.push_back(shrunk_points(hole, middle, factor));
    return result;
}

/// Holes between those of two outlines. Pairs are made of what lies nearest to each other, nearest first, and blended; one
/// that is left over shrinks towards its middle, its area in a straight line. O(holes³).
template <class = when_called>
[[nodiscard]] std::vector<std::vector<outline_point>> blended_holes(const outline& a, const outline& b, double t) {
    std::vector<std::vector<outline_point>> mixed, left = a.holes, other = b.holes;
    while (!left.empty() && !other.empty()) {
        double least = std::numeric_limits<double>::infinity();
        auto one = left.begin(), with = other.begin();
        for (auto i = left.begin(); i != left.end(); ++i)
            for (auto k = other.begin(); k != other.end(); ++k) {
                const outline_point p = middle_of(*i), q = middle_of(*k);
                const double apart = std::hypot((p.across - q.across).value(), (p.up - q.up).value());
                if (apart < least) least = apart, one = i, with = k;
            }
        mixed.push_back(blended_points(*one, *with, t));
        left.erase(one);
        other.erase(with);
    }
    for (const auto& hole : left) mixed.push_back(shrunk_points(hole, middle_of(hole), std::sqrt(1.0 - t)));
    for (const auto& hole : other) mixed.push_back(shrunk_points(hole, middle_of(hole), std::sqrt(t)));
    return mixed;
}

/// The outline at a part `t` of the way from one to the other, with its holes; at 0 and 1 it is the one and the other.
template <class = when_called>
[[nodiscard]] outline blended(const outline& a, const outline& b, double t) {
    if (t == 0.0) return a;
    if (t == 1.0) return b;
    return {.points = blended_points(a.points, b.points, t), .holes = blended_holes(a, b, t)};
}

} // namespace tranche::detail
