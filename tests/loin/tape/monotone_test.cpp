// That interpolation between readings keeps their shape, from one reading to the reference data.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <vector>

#include <tranche/loin/tape/detail/monotone.hpp>

namespace monotone_test {

using namespace tranche_test;

namespace {

double interpolate(const std::vector<double>& x, const std::vector<double>& y, double at) {
    return tranche::detail::monotone_interpolation(
        x.size(), [&](std::size_t i) { return x[i]; }, [&](std::size_t i) { return y[i]; }, at);
}

} // namespace

TEST_CASE("one reading holds everywhere") {
    for (const double at : {-1.0, 0.0, 3.0, 100.0}) CHECK(interpolate({3.0}, {7.5}, at) == 7.5);
}

TEST_CASE("two readings make a straight line that ends at them") {
    const std::vector<double> x{1.0, 5.0}, y{2.0, 10.0};
    CHECK(interpolate(x, y, 1.0) == 2.0);
    CHECK(interpolate(x, y, 2.0) == 4.0);
    CHECK(interpolate(x, y, 3.5) == 7.0);
    CHECK(interpolate(x, y, 5.0) == 10.0);
    CHECK(interpolate(x, y, 0.0) == 2.0);
    CHECK(interpolate(x, y, 9.0) == 10.0);
}

TEST_CASE("three readings give the values worked out by hand") {
    // Secants 1 and 1/2, widths 1 and 2. Slopes: inside 9 / (5/1 + 4/(1/2)) = 9/13; at the ends by three points
    // (4 - 1/2) / 3 = 7/6 and (5/2 - 2) / 3 = 1/6. A cubic's value half way is the mean, and an eighth of its width times
    // the difference of the slopes: 1/2 + 37/624 and 3/2 + 41/312. A dozen roundings of values of order one.
    const std::vector<double> x{0.0, 1.0, 3.0}, y{0.0, 1.0, 2.0};
    CHECK_THAT(interpolate(x, y, 0.5), WithinAbs(0.5 + 37.0 / 624.0, 12 * 1.2e-16));
    CHECK_THAT(interpolate(x, y, 2.0), WithinAbs(1.5 + 41.0 / 312.0, 12 * 2.3e-16));
    CHECK(interpolate(x, y, 1.0) == 1.0);
}

TEST_CASE("an end slope is cut down where it would turn or overshoot") {
    // Steep behind the end: three points say (3 × 1 - 10) / 2 < 0, so the end is flat: 1/2 - slope/8 with the inner slope
    // 6 / (3/1 + 3/10) = 20/11.
    CHECK_THAT(interpolate({0, 1, 2}, {0, 1, 11}, 0.5), WithinAbs(0.5 - 20.0 / 88.0, 12 * 1.2e-16));
    // Falling behind the end: three points say (3 + 10) / 2 = 6.5, cut to three times the secant; the inner slope is 0.
    CHECK_THAT(interpolate({0, 1, 2}, {0, 1, -9}, 0.5), WithinAbs(0.5 + 3.0 / 8.0, 12 * 1.2e-16));
    // The same at the other end.
    CHECK_THAT(interpolate({0, 1, 2}, {-9, 1, 0}, 1.5), WithinAbs(0.5 + 3.0 / 8.0, 12 * 1.2e-16));
}

TEST_CASE("equal readings give a level") {
    for (double at = 0.0; at <= 3.0; at += 0.125) CHECK(interpolate({0, 1, 2, 3}, {4, 4, 4, 4}, at) == 4.0);
    for (double at = 1.0; at <= 2.0; at += 0.125) CHECK(interpolate({0, 1, 2, 3}, {1, 4, 4, 9}, at) == 4.0);
}

TEST_CASE("the reference data of monotone interpolation are met without overshoot") {
    // Data set RPN 14: Fritsch and Carlson 1980, SIAM J. Numer. Anal. 17:238 (from memory, widely reprinted).
    const std::vector<double> x{7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20};
    const std::vector<double> f{0, 2.76429e-5, 4.37498e-2, 0.169183, 0.469428, 0.943740, 0.998636, 0.999919, 0.999994};
    for (std::size_t i = 0; i < x.size(); ++i) CHECK(interpolate(x, f, x[i]) == f[i]);
    double before = f.front();
    for (std::size_t i = 0; i + 1 < x.size(); ++i)
        for (int k = 0; k <= 1000; ++k) {
            const double y = interpolate(x, f, x[i] + (x[i + 1] - x[i]) * k / 1000.0);
            REQUIRE(f[i] <= y);
            REQUIRE(y <= f[i + 1]);
            // Rising but for the roundings of half a dozen sums of numbers up to one.
            REQUIRE(y >= before - 6 * 1.2e-16);
            before = std::max(before, y);
        }
}

} // namespace monotone_test
