// Shape-preserving interpolation between tape-measure readings: never above or below the readings on either side.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>

#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// Slope at an inner reading from the secants and widths on both sides: the weighted harmonic mean of Fritsch and
/// Butland (1984, SIAM J. Sci. Stat. Comput. 5:300), zero where the readings turn. The pair lies inside the region of
/// monotonicity of Fritsch and Carlson (1980, SIAM J. Numer. Anal. 17:238).
[[nodiscard]] inline double inner_slope(double h0, double h1, double secant0, double secant1) {
    if (secant0 * secant1 <= 0.0) return 0.0;
    const double w0 = 2.0 * h1 + h0, w1 = h1 + 2.0 * h0;
    return (w0 + w1) / (w0 / secant0 + w1 / secant1);
}

/// Slope at the first reading (or the last, mirrored): the three-point estimate, cut down until it keeps the shape.
[[nodiscard]] inline double end_slope(double h0, double h1, double secant0, double secant1) {
    const double slope = (unfused((2.0 * h0 + h1) * secant0) - unfused(h0 * secant1)) / (h0 + h1);
    if (slope * secant0 <= 0.0) return 0.0;
    if (secant0 * secant1 <= 0.0 && std::abs(slope) > std::abs(3.0 * secant0)) return 3.0 * secant0;
    return slope;
}

/// The slope at reading i of `count`, two or more, from width(k) and secant(k) of the gap behind each reading.
template <class Width, class Secant>
[[nodiscard]] double slope_at(std::size_t count, std::size_t i, Width width, Secant secant) {
    if (count == 2) return secant(0);
    if (i == 0) return end_slope(width(0), width(1), secant(0), secant(1));
    if (i == count - 1) return end_slope(width(i - 1), width(i - 2), secant(i - 1), secant(i - 2));
    return inner_slope(width(i - 1), width(i), secant(i - 1), secant(i));
}

/// The cubic between two readings with given slopes, at a place between them.
class hermite_weights {
public:
    hermite_weights(double from, double to, double x) : h_(to - from), t_((x - from) / h_), u_(1.0 - t_) {}

    [[nodiscard]] double operator()(double from, double to, double slope_from, double slope_to) const {
        const double y = unfused(u_ * u_ * (1.0 + 2.0 * t_) * from) + unfused(t_ * t_ * (3.0 - 2.0 * t_) * to) +
                         unfused(h_ * t_ * u_ * (unfused(u_ * slope_from) - unfused(t_ * slope_to)));
        // The last digit may stray beyond the readings; the promise is that it does not.
        return std::clamp(y, std::min(from, to), std::max(from, to));
    }

private:
    double h_, t_, u_;
};

/// The interpolant at `x` through `count` readings (at(i), value(i)) with strictly rising at(i); constant outside them.
/// One reading gives a constant, two a straight line. O(count); nothing is stored, so a model can stay a plain
/// aggregate. (The interpolators of Boost.Math want four readings at least; a loin often has two or three.)
template <class At, class Value>
[[nodiscard]] double monotone_interpolation(std::size_t count, At at, Value value, double x) {
    if (count == 1 || x <= at(0)) return value(0);
    if (x >= at(count - 1)) return value(count - 1);
    std::size_t k = 0;
    while (x >= at(k + 1)) ++k;

    const auto width = [&](std::size_t i) { return at(i + 1) - at(i); };
    const auto secant = [&](std::size_t i) { return (value(i + 1) - value(i)) / width(i); };
    const auto slope = [&](std::size_t i) { return slope_at(count, i, width, secant); };
    return hermite_weights(at(k), at(k + 1), x)(value(k), value(k + 1), slope(k), slope(k + 1));
}

} // namespace tranche::detail
