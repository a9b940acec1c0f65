// How the fat towards one end of a face is spread over its thickness, measured at right angles to the lean.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include <tranche/loin/face.hpp>
#include <tranche/loin/tape/detail/comma_face.hpp>
#include <tranche/units/detail/column_arithmetic.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// Spreads over a grid of fills (0.3 to 1) and slopes (0 to 1). Between its entries they run so straight that a share is
/// interpolated to 0.001 for fills of 0.45 to 0.975; it is off by up to 0.002 below, and above by up to 0.012, where the ends
/// become walls: at a fill of 1 the cap is even. A spread between entries is a mixture of them, and so never falls.
class cap_spreads {
public:
    cap_spreads() {
        for (std::size_t i = 0; i + 1 < fills; ++i) add_row(i);
        entries_.back().fill(even_spread);
    }

    static constexpr std::size_t slopes = 11;

    /// Where a slope, 0 or more, lies among the spreads of one fill, 0 to slopes - 1.
    [[nodiscard]] static double place_of_slope(double slope) {
        constexpr double last = slopes - 1;
        return lesser(unfused(slope * last), last);
    }
    /// The spread of one fill at slope `k` / (slopes - 1).
    [[nodiscard]] layer_spread at_slope(fraction fill, std::size_t k) const {
        const double entry =
            unfused(std::clamp((fill - least_fill) / (1.0 - least_fill), 0.0, 1.0) * static_cast<double>(fills - 1));
        const auto index = std::min(static_cast<std::size_t>(entry), fills - 2);
        return mixed(entry - static_cast<double>(index), entries_[index][k], entries_[index + 1][k]);
    }
    [[nodiscard]] layer_spread at(fraction fill, double slope) const {
        const double place = place_of_slope(std::max(0.0, slope));
        const auto below = std::min(static_cast<std::size_t>(place), slopes - 2);
        return mixed(place - static_cast<double>(below), at_slope(fill, below), at_slope(fill, below + 1));
    }

private:
    static constexpr std::size_t fills = 29, pieces = 256;
    static constexpr double least_fill = 0.3;

    [[nodiscard]] static layer_spread mixed(double part, const layer_spread& from, const layer_spread& to) {
        layer_spread result;
        for (std::size_t m = 0; m < result.size(); ++m) result[m] = mixed_share(part, from[m], to[m]);
        result.back() = 1.0;
        return result;
    }

    /// By the middles of chords of the curve.
    void add_row(std::size_t i) {
        const height_course course(least_fill + (1.0 - least_fill) * static_cast<double>(i) / (fills - 1));
        std::array<double, pieces + 1> x, y;
        for (std::size_t p = 0; p <= pieces; ++p) {
            x[p] = course.place(static_cast<double>(p) / pieces);
            y[p] = course.height(x[p]);
        }
        for (std::size_t k = 0; k < slopes; ++k) {
            const double slope = static_cast<double>(k) / (slopes - 1);
            layer_spread& spread = entries_[i][k];
            spread.fill(0.0);
            double all = 0.0;
            for (std::size_t p = 0; p < pieces; ++p) {
                const double run = x[p] - x[p + 1], rise = slope * (y[p + 1] - y[p]), height = 0.5 * (y[p] + y[p + 1]);
                const double amount = unfused(height * run), per_depth = std::hypot(run, rise); // = amount / thickness
                all += amount;
                for (std::size_t m = 0; m < spread.size(); ++m)
                    spread[m] += std::min(amount, unfused(even_spread[m] * per_depth));
            }
            for (double& share : spread) share /= all;
        }
    }

    std::array<std::array<layer_spread, slopes>, fills> entries_{};
};

/// Tabulated once, when first asked for.
template <class = when_called>
[[nodiscard]] const cap_spreads& all_cap_spreads() {
    static const cap_spreads spreads;
    return spreads;
}

} // namespace detail

/// The spread of a fat cover towards one end of a face as `taped_outlines` draws it: thickest in the middle, where it was
/// measured, and running out at the end. In units of half the width let X be the place across and y the height of a
/// column over that of the middle: (1 - Xⁿ)^(1/n), a superellipse, or below a fill of pi/4 a bell, (1 - X²)^q, so that the
/// mean of y is `fill`. Straight up the cover has thickness c y over the lean, whose upper edge rises by `slope` × y' there;
/// at right angles to that edge it is thinner by the cosine of the rise,
///     c y / √(1 + slope² y'²).
/// A face is not alike at both ends; the spread of its cover is the mean of theirs (`taped_face`). Thickness at right angles by
/// the slope alone leaves out how the lean bends within the cover: against true distances on what is drawn the share
/// within a depth is off by less than 0.007 from a fill of 0.70 up, for covers of up to 0.3 of the depth; a bell bends more,
/// 0.008 at 0.62, 0.026 at 0.45.
///
/// `fill` is above 0 to 1: below 0.3 it counts as 0.3, at 1 the cover is even. `slope`, towards an end whose tip lies t
/// over the board, is that of the lean's upper edge from there to the middle, |(1 - t) depth - c| over half the width,
/// 0 or more; above 1 it counts as 1. Spreads are tabulated once, when first asked for; after that O(entries). Plain
/// numbers both. Source: the geometry of the drawing, computed. Throws nothing for them.
template <class = detail::when_called>
[[nodiscard]] layer_spread cap_spread(fraction fill, double slope) {
    if (fill >= 1.0) return even_spread;
    return detail::all_cap_spreads().at(fill, slope);
}

} // namespace tranche
