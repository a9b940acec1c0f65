// The interpolant against the one of Boost.Math, which wants four readings at least and other slopes at the ends.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#if __has_include(<boost/math/interpolators/pchip.hpp>)

#include <cmath>
#include <cstddef>
#include <math.h> // NOLINT(modernize-deprecated-headers): the interpolator of Boost 1.74 calls isnan without std::
#include <random>
#include <utility>
#include <vector>

#include <boost/math/interpolators/pchip.hpp>

#include <tranche/loin/tape/detail/monotone.hpp>

namespace monotone_oracle {

using namespace tranche_test;

namespace {

/// The three-point slope at the first of three readings, kept to the sign of its secant and, where the readings turn, to
/// three times its size (Fritsch and Butland 1984; the formula is common to monotone interpolators, from memory).
double slope_at_end(double x0, double x1, double x2, double y0, double y1, double y2) {
    const double s0 = (y1 - y0) / (x1 - x0), s1 = (y2 - y1) / (x2 - x1);
    const double parabola = s0 + (x1 - x0) * (s0 - s1) / (x2 - x0);
    if (parabola * s0 <= 0.0) return 0.0;
    return s0 * s1 <= 0.0 && std::abs(parabola) > 3.0 * std::abs(s0) ? 3.0 * s0 : parabola;
}

} // namespace

TEST_CASE("the interpolant is the one of Boost.Math with three-point slopes at the ends") {
    std::mt19937 random(2020);
    const auto share = [&] { return static_cast<double>(random()) / 4294967295.0; };
    for (int round = 0; round < 300; ++round) {
        std::vector<double> x, y; // invented
        double at = share();
        for (auto n = 4 + random() % 5; n > 0; --n) {
            x.push_back(at);
            y.push_back(share());
            at += 0.1 + share();
        }
        const std::size_t n = x.size();
        const double first = slope_at_end(x[0], x[1], x[2], y[0], y[1], y[2]);
        const double last = slope_at_end(-x[n - 1], -x[n - 2], -x[n - 3], y[n - 1], y[n - 2], y[n - 3]);
        auto xs = x, ys = y;
        const boost::math::interpolators::pchip<std::vector<double>> other(std::move(xs), std::move(ys), first, -last);
        for (int k = 0; k <= 200; ++k) {
            const double where = x.front() + (x.back() - x.front()) * (k / 200.0) * (1.0 - 1e-15);
            const double ours = tranche::detail::monotone_interpolation(
                n, [&](std::size_t i) { return x[i]; }, [&](std::size_t i) { return y[i]; }, where);
            // Values up to 1, slopes up to 10 over gaps from 0.1, some twenty roundings on either side, and t off by a
            // rounding of x (up to 10) over a gap: 10 × 1.1e-16 / 0.1 times a change of up to three times the range.
            REQUIRE(std::abs(ours - other(where)) <= 40 * 1.2e-16 + 3.0 * 10.0 * 2.3e-16 / 0.1);
        }
    }
}

#endif

} // namespace monotone_oracle
