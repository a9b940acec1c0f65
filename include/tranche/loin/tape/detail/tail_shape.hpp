// The tail of a face from tape readings in proportions: how high it is where it meets the eye, and how it runs out from there.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>

#include <tranche/loin/face.hpp>
#include <tranche/loin/tape/detail/comma_face.hpp>
#include <tranche/units/detail/column_arithmetic.hpp>
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

    /// How high the tail is where the eye ends, as a share of the depth.
    [[nodiscard]] double height(double tail_depth) const {
        return 2.0 * tail_depth * taper.share / (1.0 + taper.level);
    }
    /// What of the tail's area is under the flank end and over it.
    [[nodiscard]] double on_the_flank() const { return 1.0 - taper.share; }
};

/// All tails beside faces of one fill, in steps that loops over columns of them take one by one. Divisions are what such a loop
/// waits for, so there are three.
class tail_shapes {
public:
    /// With `highest` the tip that the flank end has without a tail; no box, and a tail depth above zero.
    tail_shapes(double fill, double tail_depth, double highest)
        : tail_depth_(tail_depth), whole_(1.0 / tail_depth), highest_(std::min(highest, 0.4 * tail_depth)),
          open_(0.5 * (1.0 - fill)), lowest_(0.25 * tail_depth / open_) {
        // m(Y) = a Y + b Y², by eye from the arcs of fills from 0.3 to 1.
        const double over = std::max(0.0, (fill - 0.85) / 0.15);
        a_ = std::clamp(5.5 * (0.85 - fill), 0.0, std::max(1.1, 1.1 + unfused(1.5 * (0.65 - fill))));
        b_ = 1.0 - a_ - unfused(over * over);
    }

    /// The tail of a body, both so wide and above zero.
    [[nodiscard]] tail_shape of(double body, double tail) const {
        const start s = start_of(body, tail);
        const double rise = rise_of(s, std::sqrt(s.squared));
        const double share = std::max(0.0, share_of(s.corner, s.tip, std::min(rise, s.most)));
        return {.tip = s.tip, .taper = {.share = share, .level = level_of(s.tip, rise, s.most, share)}};
    }

    /// r (1 - f), the tip, the most that Y may be, and of the equation for Y what its root is taken from.
    struct start {
        double corner, tip, most, left, squared;
    };
    [[nodiscard]] start start_of(double body, double tail) const {
        const double per_both = 1.0 / (body * tail);
        const double corner = unfused(unfused(body * body) * per_both) * open_;
        const double tip = lesser(highest_, unfused(unfused(tail * tail) * per_both) * lowest_);
        const double above = 1.0 / (1.0 - tip);
        const double first = first_of(corner), second = corner * b_;
        const double left = (tail_depth_ - unfused((0.5 + corner) * tip)) * above;
        const double squared = unfused(first * first) + unfused(4.0 * second * left);
        return {corner, tip, (greater(0.85, tail_depth_) - tip) * above, left, greater(0.0, squared)};
    }
    /// What Y would be if no tail were level.
    [[nodiscard]] double rise_of(const start& s, double root) const {
        return 2.0 * s.left / (first_of(s.corner) + root);
    }
    /// The share that tapers, where that is not below zero.
    [[nodiscard]] double share_of(double corner, double tip, double rise) const {
        const double arc = unfused(rise * (a_ + unfused(b_ * rise)));
        const double on_the_flank = unfused(corner * (tip + unfused((1.0 - tip) * arc))) * whole_;
        return lesser(1.0 - unfused(on_the_flank), 1.0);
    }
    [[nodiscard]] double level_of(double tip, double rise, double most, double share) const {
        if (!(rise > most)) return 0.0;
        const double high = tip + unfused((1.0 - tip) * most);
        return std::clamp(2.0 * tail_depth_ * share / high - 1.0, 0.0, 1.0);
    }

private:
    [[nodiscard]] double first_of(double corner) const { return 0.5 + unfused(corner * a_); }

    double tail_depth_, whole_, highest_, open_, lowest_, a_ = 0.0, b_ = 0.0;
};

} // namespace tranche::detail
