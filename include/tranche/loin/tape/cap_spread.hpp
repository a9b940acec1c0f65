// How the fat over a superellipse is spread over its thickness, measured at right angles to the lean.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include <tranche/loin/face.hpp>
#include <tranche/loin/tape/superellipse.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// Spreads over a grid of fills (0.5 to 1) and slopes (0 to 1). Between its entries they run so straight that a share is
/// interpolated to 3e-4; at a fill of 1 the cap is even. A spread between entries is a mixture of them, and so never falls.
class cap_spreads {
public:
    cap_spreads() {
        for (std::size_t i = 0; i + 1 < fills; ++i) add_row(i);
        entries_.back().fill(even_spread);
    }

    static constexpr std::size_t slopes = 11;

    /// Where a slope lies among the spreads of one fill, 0 to slopes - 1.
    [[nodiscard]] static double place_of_slope(double slope) {
        return unfused(std::clamp(slope, 0.0, 1.0) * static_cast<double>(slopes - 1));
    }
    /// The spread of one fill at slope `k` / (slopes - 1).
    [[nodiscard]] layer_spread at_slope(fraction fill, std::size_t k) const {
        const double entry = unfused(std::clamp(2.0 * fill - 1.0, 0.0, 1.0) * static_cast<double>(fills - 1));
        const auto index = std::min(static_cast<std::size_t>(entry), fills - 2);
        return mixed(entry - static_cast<double>(index), entries_[index][k], entries_[index + 1][k]);
    }
    [[nodiscard]] layer_spread at(fraction fill, double slope) const {
        const double place = place_of_slope(slope);
        const auto below = std::min(static_cast<std::size_t>(place), slopes - 2);
        return mixed(place - static_cast<double>(below), at_slope(fill, below), at_slope(fill, below + 1));
    }

private:
    static constexpr std::size_t fills = 21, pieces = 256;

    [[nodiscard]] static layer_spread mixed(double part, const layer_spread& from, const layer_spread& to) {
        layer_spread result;
        for (std::size_t m = 0; m < result.size(); ++m) result[m] = mixed_share(part, from[m], to[m]);
        result.back() = 1.0;
        return result;
    }

    /// By the middles of chords of the curve X = cos^(2/n) t, y = sin^(2/n) t.
    void add_row(std::size_t i) {
        const double power = 2.0 / superellipse_exponent(0.5 + 0.5 * static_cast<double>(i) / (fills - 1));
        std::array<double, pieces + 1> x, y;
        for (std::size_t p = 0; p <= pieces; ++p) {
            const double turn = 0.5 * std::numbers::pi * static_cast<double>(p) / pieces;
            x[p] = p == pieces ? 0.0 : std::pow(std::cos(turn), power);
            y[p] = std::pow(std::sin(turn), power);
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

/// The spread of a fat cover that lies on a superellipse as `taped_outlines` draws it: thickest in the middle, where it was
/// measured, and running out at both edges. In units of half the width let X be the place across and y = (1 - Xⁿ)^(1/n)
/// the superellipse that fills `fill` of its box. Straight up the cover has thickness c y over the lean, whose upper edge
/// rises by `slope` × y' there; at right angles to that edge it is thinner by the cosine of the rise,
///     c y / √(1 + slope² y'²).
/// Thickness at right angles by the slope alone leaves out how the lean bends within the cover: against true distances the
/// share within a depth is off by less than 0.005 for covers of up to 0.3 of the depth.
///
/// `fill` is above 0 to 1: below 0.5 it counts as a diamond, at 1 the cover is even. `slope` is the height of the lean over
/// the middle of the face over half its width, 0 or more; above 1 it counts as 1. Spreads are tabulated once, when first
/// asked for; after that O(entries). Plain numbers both. Throws nothing for them.
template <class = detail::when_called>
[[nodiscard]] layer_spread cap_spread(fraction fill, double slope) {
    if (fill >= 1.0) return even_spread;
    return detail::all_cap_spreads().at(fill, slope);
}

} // namespace tranche
