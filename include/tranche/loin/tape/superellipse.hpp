// How much of its box a superellipse fills, and which one fills a given share.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>

#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Area of a superellipse of exponent `n` over width × depth: Γ(1 + 1/n)² / Γ(1 + 2/n); pi/4 for an ellipse (n = 2), 1
/// in the limit of a rectangle. `n` is 0.02 or more (below it the gamma functions leave the range of double). A plain
/// number; so is the share, above 0 to 1. Throws `invalid_input` for less, and for what is not finite. The formula: any
/// handbook, by the beta function; tests integrate it.
[[nodiscard]] inline fraction superellipse_fill(double n) {
    if (!(n >= 0.02) || !std::isfinite(n))
        throw invalid_input("superellipse exponent", detail::shown(n), "a finite number, 0.02 or more");
    const double g = std::tgamma(1.0 + 1.0 / n);
    return g * g / std::tgamma(1.0 + 2.0 / n);
}

namespace detail {

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

} // namespace detail

} // namespace tranche
