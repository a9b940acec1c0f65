// The outlines that tape readings stand for: a superellipse in layers, with a tail at its side.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/tape/superellipse.hpp>
#include <tranche/loin/tape/taped_face.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// |2x/width|ⁿ + |2y/depth|ⁿ = 1 from `left` and the board on, as a polygon of 96 corners at even angles. Its area misses the
/// curve's by less than 1 part in 500. `width` and `depth` are above zero, `exponent` is a plain number above zero (2
/// an ellipse, large a rectangle), `left` any length. Throws nothing for such. Source: Lamé (1818), from memory.
template <class = detail::when_called>
[[nodiscard]] outline superellipse(length left, length width, length depth, double exponent) {
    constexpr std::size_t corners = 96;
    outline curve;
    for (std::size_t i = 0; i < corners; ++i) {
        const double turn = 2.0 * std::numbers::pi * (static_cast<double>(i) + 0.5) / corners;
        const double c = std::cos(turn), s = std::sin(turn);
        const auto stretched = [&](double x) { return std::copysign(std::pow(std::abs(x), 2.0 / exponent), x); };
        curve.points.push_back(
            {left + detail::unfused(0.5 * width * (1.0 + stretched(c))), 0.5 * depth * (1.0 + stretched(s))});
    }
    return curve;
}

namespace detail {

/// What a superellipse's polygon leaves when every column of it keeps this share of its height, from below.
template <class = when_called>
[[nodiscard]] outline lowered(outline curve, double share) {
    const std::size_t corners = curve.points.size();
    for (std::size_t i = 0; i < corners / 2; ++i) {
        const length foot = curve.points[corners - 1 - i].up; // straight below
        curve.points[i].up = foot + unfused(share * (curve.points[i].up - foot));
    }
    return curve;
}

/// A band of even length across, up to `top`, along the flank side of a superellipse's polygon: up its side, and back.
template <class = when_called>
[[nodiscard]] outline beside(const outline& curve, length across, length top) {
    const std::size_t corners = curve.points.size(), lowest = 3 * corners / 4;
    std::vector<outline_point> side{{curve.points[lowest].across, {}}};
    for (std::size_t k = 0; k < corners / 2; ++k) {
        const outline_point next = curve.points[(lowest + k) % corners], last = side.back();
        if (next.up < top) {
            side.push_back(next);
            continue;
        }
        const double t = (top - last.up) / (next.up - last.up);
        side.push_back({last.across + unfused(t * (next.across - last.across)), top});
        break;
    }
    if (side.back().up < top) side.push_back({side.back().across, top});
    outline band{.points = side};
    for (auto p = side.rbegin(); p != side.rend(); ++p) band.points.push_back({p->across + across, p->up});
    return band;
}

} // namespace detail

/// The face that the readings describe, chine edge at 0. The whole but for the tail is a superellipse; silverskin and lean
/// are what each column of it has below the layers above, as shares of its height, so that every layer runs out at the
/// sides. The tail is a band along its flank side, as long across at every height. What is seen of each tissue has its
/// area in `taped_face`, but for the polygon. The gluteus medius is the part of the lean on the flank side that has its
/// share: common practice, no source. Readings and shape are as `validate` wants them, `gluteus_medius` is 0 to 1;
/// nothing is checked here. Throws nothing of its own. O(corners).
template <class = detail::when_called>
[[nodiscard]] painted_face taped_outlines(const taped_readings& r, const face_shape& shape, fraction gluteus_medius) {
    const length width = r.width - r.tail;
    const outline whole = superellipse({}, width, r.depth, detail::superellipse_exponent(shape.fill));
    painted_face painted;
    if (r.tail > length{} && shape.tail_depth > 0.0)
        painted.push_back({tissue::tail, detail::beside(whole, r.tail, shape.tail_depth * r.depth)});
    if (r.fat_cover > length{}) painted.push_back({tissue::fat_cover, whole});
    if (shape.silverskin > length{})
        painted.push_back({tissue::connective, detail::lowered(whole, 1.0 - r.fat_cover / r.depth)});
    const outline lean = detail::lowered(whole, 1.0 - (r.fat_cover + shape.silverskin) / r.depth);
    painted.push_back({tissue::eye, lean});
    if (!(gluteus_medius > 0.0)) return painted;

    // The polygon clipped to the right of a line; the line is moved until the share is right.
    const auto right_of = [&](length line) {
        outline part;
        for (std::size_t i = 0; i < lean.points.size(); ++i) {
            const outline_point a = lean.points[i], b = lean.points[(i + 1) % lean.points.size()];
            if (a.across >= line) part.points.push_back(a);
            if ((a.across >= line) != (b.across >= line))
                part.points.push_back(
                    {line, a.up + detail::unfused((b.up - a.up) * double((line - a.across) / (b.across - a.across)))});
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
