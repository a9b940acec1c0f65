// Shape-preserving interpolation between tape-measure readings: never above or below the readings on either side.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/wide_columns.hpp>

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

/// The slope at reading `i` of `count` that stand at strictly rising at(i).
template <class At, class Value>
[[nodiscard]] double slope_at(std::size_t count, const At& at, const Value& value, std::size_t i) {
    const auto width = [&](std::size_t k) { return at(k + 1) - at(k); };
    const auto secant = [&](std::size_t k) { return (value(k + 1) - value(k)) / width(k); };
    if (count == 2) return secant(0);
    if (i == 0) return end_slope(width(0), width(1), secant(0), secant(1));
    if (i == count - 1) return end_slope(width(i - 1), width(i - 2), secant(i - 1), secant(i - 2));
    return inner_slope(width(i - 1), width(i), secant(i - 1), secant(i));
}

/// The cubic in the gap behind reading `k`.
class monotone_cubic {
public:
    monotone_cubic(double width, double from, double to, double slope_from, double slope_to)
        : from_(from), low_(std::min(from, to)), high_(std::max(from, to)) {
        const double rise = to - from, first = unfused(width * slope_from), last = unfused(width * slope_to);
        linear_ = first;
        square_ = unfused(3.0 * rise) - unfused(2.0 * first) - last;
        cube_ = first + last - 2.0 * rise;
    }
    template <class At, class Value>
    monotone_cubic(std::size_t count, const At& at, const Value& value, std::size_t k)
        : monotone_cubic(at(k + 1) - at(k), value(k), value(k + 1), slope_at(count, at, value, k),
                         slope_at(count, at, value, k + 1)) {}

    /// At a share `t` of the gap.
    [[nodiscard]] TRANCHE_INLINED inline double operator()(double t) const {
        const double y = from_ + unfused(t * (linear_ + unfused(t * (square_ + unfused(t * cube_)))));
        // The last digit may stray beyond the readings; the promise is that it does not.
        const double above = y < low_ ? low_ : y;
        return above > high_ ? high_ : above;
    }

private:
    double from_, low_, high_, linear_, square_, cube_;
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
    return monotone_cubic(count, at, value, k)((x - at(k)) / (at(k + 1) - at(k)));
}

/// The places of a block among readings that several columns share: where in its gap each lies is found once for all of them,
/// slopes once a gap.
class places_among {
public:
    /// `count` readings stand at at(i), strictly rising. The block has to outlive this.
    template <class At>
    places_among(std::size_t count, const At& at, const grid_block& block) : count_(count), block_(block) {
        for_each_gap(at, [&](const stretches& both, std::size_t k, bool outside) {
            if (outside) return;
            const double from = at(k), gap = at(k + 1) - from;
            in_columns([=, place = block_.places.data(), part = parts_.data()]() TRANCHE_INLINED {
                for (const auto& [first, end] : both)
                    for (std::size_t i = first; i < end; ++i) part[i] = (place[i] - from) / gap;
            });
        });
    }

    /// `monotone_interpolation` of one column at all places.
    template <class At, class Value>
    void interpolate(const At& at, const Value& value, double* y) const {
        for_each_gap(at, [&](const stretches& both, std::size_t k, bool outside) {
            if (outside) {
                for (const auto& [first, end] : both) std::fill(y + first, y + end, value(k));
                return;
            }
            const monotone_cubic cubic(count_, at, value, k);
            in_columns([=, part = parts_.data()]() TRANCHE_INLINED {
                for (const auto& [first, end] : both)
                    for (std::size_t i = first; i < end; ++i) y[i] = cubic(part[i]);
            });
        });
    }

private:
    /// Of the positions and of the middles, which both rise, the places first to end - 1.
    struct stretch {
        std::size_t first, end;
    };
    using stretches = std::array<stretch, 2>;

    /// Calls f(both, k, outside) for the places in the gap behind reading `k`, or outside them all beside it.
    template <class At, class F>
    void for_each_gap(const At& at, const F& f) const {
        const double* const x = block_.places.data();
        const std::size_t positions = block_.cells + 1, places = block_.size();
        stretches both{{{0, 0}, {positions, positions}}};
        const auto up_to = [&](const auto& end_of, std::size_t k, bool outside) {
            both = {{{both[0].end, end_of(both[0].end, positions)}, {both[1].end, end_of(both[1].end, places)}}};
            if (both[0].first < both[0].end || both[1].first < both[1].end) f(both, k, outside);
        };
        const auto last = [](std::size_t, std::size_t end) { return end; };
        if (count_ == 1) return up_to(last, 0, true);
        // Most blocks lie in one gap: only where a reading stands on one, its place is searched.
        const auto first_behind = [&](std::size_t from, std::size_t end) {
            if (from == end || x[end - 1] <= at(0)) return end;
            return at(0) < x[from] ? from : static_cast<std::size_t>(std::upper_bound(x + from, x + end, at(0)) - x);
        };
        up_to(first_behind, 0, true);
        for (std::size_t k = 0; k + 1 < count_ && both[1].end < places; ++k) {
            const auto next = at(k + 1);
            const auto first_at = [&](std::size_t from, std::size_t end) {
                if (from == end || x[end - 1] < next) return end;
                return next <= x[from] ? from : static_cast<std::size_t>(std::lower_bound(x + from, x + end, next) - x);
            };
            up_to(first_at, k, false);
        }
        up_to(last, count_ - 1, true);
    }

    std::size_t count_;
    const grid_block& block_;
    place_column parts_; // of the gap that a place lies in
};

} // namespace tranche::detail
