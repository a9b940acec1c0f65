// The outlines that tape readings stand for: a superellipse in layers, with a tail at its side.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/tape/detail/comma_face.hpp>
#include <tranche/loin/tape/detail/half_moon.hpp>
#include <tranche/loin/tape/detail/taper.hpp>
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

/// The face that the readings describe, chine edge at 0: a comma, thick and round at the chine, flat on the board, with
/// one arc above from the chine to the tip of the tail. Sizes and areas are those that were read: width, depth, tail,
/// the cover straight down over the middle of the face without its tail, and the area of each tissue as `taped_face`
/// has it, to about a part in 10^12 of the face (what is seen: silverskin and lean lie on the fat, the second muscle on
/// the lean). Each column of the face has its fill's share of the depth (`detail::height_course`); silverskin and lean
/// are what it has below the layers above, as shares of its height, so that every layer runs out at the ends. The tail
/// tapers in a straight line, and counts the fat that lies on it and on the flank of the eye: over that the arc of the
/// face goes on down to the tail (`detail::tail_shape`). The gluteus medius is a round spot under the cap that grows
/// into a half-moon. The shape is common practice, no source. A fill above 0.999 is drawn with upright ends, as a box;
/// below 0.3 the ends may be thinner than numbers tell apart, and a tail thinner than a hundredth of the depth, or
/// beside a fill above 0.99, may miss its area by a part in 10^6 of the face. Readings and shape are as `validate`
/// wants them, `gluteus_medius` is 0 to 1; nothing is checked here. Throws nothing of its own. O(corners), about a
/// hundred an outline. Lengths are metres.
template <class = detail::when_called>
[[nodiscard]] painted_face taped_outlines(const taped_readings& r, const face_shape& shape, fraction gluteus_medius) {
    const double width = (r.width - r.tail).value(), depth = r.depth.value();
    const double fat = r.fat_cover / r.depth, skin = shape.silverskin / r.depth;
    const bool tail = r.tail > length{} && shape.tail_depth > 0.0;
    const detail::comma_columns columns = detail::columns_of(
        width, depth, shape.fill, detail::tips_of(r.width.value(), depth, r.fat_cover.value(), r.tail.value(), shape));
    const auto up_to = [&](const std::vector<double>& heights) {
        outline curve;
        for (std::size_t i = 0; i < heights.size(); ++i)
            curve.points.push_back(detail::to_outline_point({columns.across[i], columns.bottom[i]}));
        for (std::size_t i = heights.size(); i-- > 0;)
            if (heights[i] > columns.bottom[i])
                curve.points.push_back(detail::to_outline_point({columns.across[i], heights[i]}));
        return curve;
    };
    painted_face painted;
    if (tail)
        painted.push_back({tissue::tail, detail::tail_outline(columns, depth, r.tail.value(), shape.tail_depth,
                                                              detail::tail_shape_of(width, r.tail.value(), shape))});
    if (r.fat_cover > length{}) painted.push_back({tissue::fat_cover, up_to(columns.top)});
    if (shape.silverskin > length{})
        painted.push_back({tissue::connective, up_to(detail::heights_up_to(columns, 1.0 - fat))});
    const std::vector<double> lean = detail::heights_up_to(columns, 1.0 - (fat + skin));
    painted.push_back({tissue::eye, up_to(lean)});
    if (gluteus_medius > 0.0)
        painted.push_back(
            {tissue::gluteus_medius, detail::half_moon(columns.across, columns.bottom, lean).holding(gluteus_medius)});
    return painted;
}

} // namespace tranche
