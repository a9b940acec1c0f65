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
/// interpolated to 3e-4; at a fill of 1 the cap is even.
class cap_spreads {
public:
    cap_spreads() {
        for (std::size_t i = 0; i + 1 < fills; ++i) add_row(i);
        entries_.back().fill(even_spread);
    }

    [[nodiscard]] layer_spread at(fraction fill, double slope) const {
        const auto [i, s] = place(2.0 * fill - 1.0, fills);
        const auto [k, t] = place(slope, slopes);
        const auto mix = [](double part, double x, double y) { return unfused((1.0 - part) * x) + unfused(part * y); };
        layer_spread mixed;
        const auto &a = entries_[i][k], &b = entries_[i][k + 1], &c = entries_[i + 1][k], &d = entries_[i + 1][k + 1];
        for (std::size_t m = 0; m < mixed.size(); ++m) mixed[m] = mix(s, mix(t, a[m], b[m]), mix(t, c[m], d[m]));
        mixed.back() = 1.0;
        return mixed;
    }

private:
    static constexpr std::size_t fills = 21, slopes = 11, pieces = 256;

    struct grid_place {
        std::size_t index;
        double part;
    };
    [[nodiscard]] static grid_place place(double share, std::size_t count) {
        const double entry = std::clamp(share, 0.0, 1.0) * static_cast<double>(count - 1);
        const auto index = std::min(static_cast<std::size_t>(entry), count - 2);
        return {index, entry - static_cast<double>(index)};
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
    static const detail::cap_spreads spreads;
    return spreads.at(fill, slope);
}

} // namespace tranche
