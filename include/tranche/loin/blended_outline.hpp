// Outlines between two outlines: point by point, or shrinking away.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include <tranche/loin/outline.hpp>

namespace tranche::detail {

/// `count` points along an outline, evenly spaced, from its point nearest the chine on, against the clock. Without holes.
[[nodiscard]] inline std::vector<flat_point> evenly_spaced(const outline& curve, std::size_t count) {
    flat_ring ring = flattened(curve.points);
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
        points.push_back({ring[i].x + t * (ring[i + 1].x - ring[i].x), ring[i].y + t * (ring[i + 1].y - ring[i].y)});
    }
    return points;
}

[[nodiscard]] inline outline blended(const outline& a, const outline& b, double t) {
    if (t == 0.0) return a;
    if (t == 1.0) return b;
    constexpr std::size_t count = 128;
    const auto one = evenly_spaced(a, count), other = evenly_spaced(b, count);
    outline mixed;
    for (std::size_t i = 0; i < count; ++i)
        mixed.points.push_back(
            to_outline_point({(1.0 - t) * one[i].x + t * other[i].x, (1.0 - t) * one[i].y + t * other[i].y}));
    return mixed;
}

/// Towards the mean of its corners.
[[nodiscard]] inline outline shrunk(const outline& curve, double factor) {
    length across{}, up{};
    const auto corners = static_cast<double>(curve.points.size());
    for (const outline_point& p : curve.points) {
        across += p.across / corners;
        up += p.up / corners;
    }
    outline result;
    for (const outline_point& p : curve.points)
        result.points.push_back({across + factor * (p.across - across), up + factor * (p.up - up)});
    return result;
}

} // namespace tranche::detail
