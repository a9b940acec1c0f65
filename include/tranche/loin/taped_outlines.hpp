// The outlines that tape readings stand for: a superellipse with layers on top and a tail at its side.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/taped_face.hpp>

namespace tranche {

/// The exponent of the superellipse that fills this share of its width × depth: the inverse of `superellipse_fill`, by
/// bisection to the last bits. `fill` is above 0.5 (a diamond, exponent 1) and below 1, both kept at a distance of 1e-3.
[[nodiscard]] inline double superellipse_exponent(fraction fill) {
    const fraction wanted = std::clamp(fill, 0.5, 1.0 - 1e-3);
    double low = 1.0, high = 100.0;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (superellipse_fill(middle) < wanted ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

/// |2x/width|ⁿ + |2y/depth|ⁿ = 1 from `left` and the board on, as a polygon of 96 corners at even angles. Its area misses the
/// curve's by less than 1 part in 500.
[[nodiscard]] inline outline superellipse(length left, length width, length depth, double exponent) {
    constexpr std::size_t corners = 96;
    outline curve;
    for (std::size_t i = 0; i < corners; ++i) {
        const double turn = 2.0 * std::numbers::pi * (static_cast<double>(i) + 0.5) / corners;
        const double c = std::cos(turn), s = std::sin(turn);
        const auto stretched = [&](double x) { return std::copysign(std::pow(std::abs(x), 2.0 / exponent), x); };
        curve.points.push_back({left + 0.5 * width * (1.0 + stretched(c)), 0.5 * depth * (1.0 + stretched(s))});
    }
    return curve;
}

/// The face that the readings describe, chine edge at 0: tail, then fat, silverskin and lean as superellipses of one width,
/// each lower by the layer above it, as the areas of `taped_face` have it. The gluteus medius is the part of the lean on the
/// flank side that has its share: common practice, no source.
[[nodiscard]] inline painted_face taped_outlines(const taped_readings& r, const face_shape& shape,
                                                 fraction gluteus_medius) {
    const length width = r.width - r.tail;
    const double exponent = superellipse_exponent(shape.fill);
    const length lean_depth = r.depth - r.fat_cover - shape.silverskin;
    painted_face painted;
    if (r.tail > length{}) {
        const length from = 0.5 * width, top = shape.tail_depth * r.depth; // reaches below the eye, where it is covered
        painted.push_back({tissue::tail, {.points = {{from, {}}, {r.width, {}}, {r.width, top}, {from, top}}}});
    }
    if (r.fat_cover > length{}) painted.push_back({tissue::fat_cover, superellipse({}, width, r.depth, exponent)});
    if (shape.silverskin > length{})
        painted.push_back({tissue::connective, superellipse({}, width, r.depth - r.fat_cover, exponent)});
    const outline lean = superellipse({}, width, lean_depth, exponent);
    painted.push_back({tissue::eye, lean});
    if (!(gluteus_medius > 0.0)) return painted;

    // The polygon clipped to the right of a line; the line is moved until the share is right.
    const auto right_of = [&](length line) {
        outline part;
        for (std::size_t i = 0; i < lean.points.size(); ++i) {
            const outline_point a = lean.points[i], b = lean.points[(i + 1) % lean.points.size()];
            if (a.across >= line) part.points.push_back(a);
            if ((a.across >= line) != (b.across >= line))
                part.points.push_back({line, a.up + (b.up - a.up) * ((line - a.across) / (b.across - a.across))});
        }
        return part;
    };
    length low{}, high = width;
    for (int i = 0; i < 40; ++i) {
        const length line = 0.5 * (low + high);
        const outline part = right_of(line);
        (part.points.size() > 2 && area_of(part) > gluteus_medius * area_of(lean) ? low : high) = line;
    }
    painted.push_back({tissue::gluteus_medius, right_of(low)});
    return painted;
}

} // namespace tranche
