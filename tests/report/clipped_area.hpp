// The area of an outline in front of a line across it, by clipping its curves side by side.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include <tranche/loin/outline/outline.hpp>

namespace tranche_test {

/// Of one closed curve, in square metres: each side gives the trapezium between it and the board as far as `x`.
inline double area_left_of(const std::vector<tranche::outline_point>& curve, double x) {
    double twice = 0.0;
    for (std::size_t i = 0; i < curve.size(); ++i) {
        const tranche::outline_point &a = curve[i], &b = curve[(i + 1) % curve.size()];
        double ax = a.across.value(), ay = a.up.value(), bx = b.across.value(), by = b.up.value();
        const double slope = bx == ax ? 0.0 : (by - ay) / (bx - ax);
        if (ax > x) ay += slope * (x - ax), ax = x;
        if (bx > x) by += slope * (x - bx), bx = x;
        twice += (bx - ax) * (ay + by);
    }
    return 0.5 * std::abs(twice);
}

/// Of an outline, less its holes.
inline double area_left_of(const tranche::outline& region, double x) {
    double area = area_left_of(region.points, x);
    for (const auto& hole : region.holes) area -= area_left_of(hole, x);
    return area;
}

} // namespace tranche_test
