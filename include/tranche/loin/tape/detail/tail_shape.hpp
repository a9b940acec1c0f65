// The tail of a face from tape readings in proportions: how high it is where it meets the eye, and how it runs out from there.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>

#include <tranche/loin/face.hpp>
#include <tranche/loin/tape/detail/comma_face.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// What of the tail lies on the flank of the eye, where any tail that is left keeps it: all of it within the first 32nd.
inline constexpr layer_spread all_at_once = [] {
    layer_spread spread{};
    spread.fill(1.0);
    return spread;
}();

/// A tail lies partly on the flank end of the face, under its tip and over it, and partly beyond; see `taped_outlines`. With the
/// depth as 1, the tip t over the board, the mean thickness of the tail k, the fill f and r = half the width of the body over
/// the length of the tail, the tail is H high where the eye ends, has under and over the flank end the share
///     r (1 - f) (t + (1 - t) m(Y)) / k,   H = t + (1 - t) Y,
/// of its area, m being near to how much of the corner over the end an arc fills that is stretched until it is so high at the
/// end (`tail_outline` draws the rest), and falls from H in a straight line to its tip:
///     H / 2 = k - r (1 - f) (t + (1 - t) m(Y)).
/// A tail that would have to be nearly as high as the face is level first, and beside a box it is a box. The flank end lies so low
/// that no more than a quarter of the tail lies under it. Common practice, no source.
struct tail_shape {
    double tip;        ///< of the flank end, as a share of the depth
    layer_taper taper; ///< of the part beyond the eye

    /// Of a body and a tail so wide, both above zero, with `highest` the tip that the flank end has without a tail.
    tail_shape(double body, double tail, double fill, double tail_depth, double highest) {
        if (is_box(fill)) {
            tip = 0.0;
            taper = {.share = 1.0, .level = 1.0};
            return;
        }
        const double corner = 0.5 * body / tail * (1.0 - fill);
        tip = std::min({highest, 0.4 * tail_depth, 0.25 * tail_depth / corner});
        // m(Y) = a Y + b Y², by eye from the arcs of fills from 0.3 to 1.
        const double over = std::max(0.0, (fill - 0.85) / 0.15);
        const double a = std::clamp(5.5 * (0.85 - fill), 0.0, std::max(1.1, 1.1 + unfused(1.5 * (0.65 - fill))));
        const double b = 1.0 - a - unfused(over * over);
        const double first = 0.5 + unfused(corner * a), second = corner * b;
        const double left = (tail_depth - unfused((0.5 + corner) * tip)) / (1.0 - tip);
        const double root =
            2.0 * left / (first + std::sqrt(std::max(0.0, unfused(first * first) + unfused(4.0 * second * left))));
        const double most = (std::max(0.85, tail_depth) - tip) / (1.0 - tip), rise = std::min(root, most);
        const double arc = unfused(rise * (a + unfused(b * rise)));
        const double on_the_flank = unfused(corner * (tip + unfused((1.0 - tip) * arc))) / tail_depth;
        taper.share = std::clamp(1.0 - on_the_flank, 0.0, 1.0);
        if (root > most) {
            const double high = tip + unfused((1.0 - tip) * rise);
            taper.level = std::clamp(2.0 * tail_depth * taper.share / high - 1.0, 0.0, 1.0);
        }
    }

    /// How high the tail is where the eye ends, as a share of the depth.
    [[nodiscard]] double height(double tail_depth) const {
        return 2.0 * tail_depth * taper.share / (1.0 + taper.level);
    }
    /// What of the tail's area is under the flank end and over it.
    [[nodiscard]] double on_the_flank() const { return 1.0 - taper.share; }
};

} // namespace tranche::detail
