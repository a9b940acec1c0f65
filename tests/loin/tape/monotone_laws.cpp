// Laws of shape-preserving interpolation over generated readings.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <random>
#include <vector>

#include <tranche/loin/tape/detail/monotone.hpp>

namespace monotone_laws {

using namespace tranche_test;

namespace {

struct readings {
    std::vector<double> x, y;

    [[nodiscard]] double at(double where) const {
        return tranche::detail::monotone_interpolation(
            x.size(), [&](std::size_t i) { return x[i]; }, [&](std::size_t i) { return y[i]; }, where);
    }
};

/// One to seven invented readings, some of them equal, with gaps of 0.001 to 1.
readings some_readings(std::mt19937& random) {
    const auto share = [&] { return static_cast<double>(random()) / 4294967295.0; };
    readings r;
    double x = share();
    for (auto n = 1 + random() % 7; n > 0; --n) {
        r.x.push_back(x);
        r.y.push_back(random() % 4 == 0 && !r.y.empty() ? r.y.back() : 0.05 + share());
        x += 0.001 + share();
    }
    return r;
}

} // namespace

TEST_CASE("the interpolant passes through every reading") {
    std::mt19937 random(1980);
    for (int round = 0; round < 500; ++round) {
        const readings r = some_readings(random);
        for (std::size_t i = 0; i < r.x.size(); ++i) REQUIRE(r.at(r.x[i]) == r.y[i]);
        REQUIRE(r.at(r.x.front() - 1.0) == r.y.front());
        REQUIRE(r.at(r.x.back() + 1.0) == r.y.back());
    }
}

TEST_CASE("between two readings the interpolant stays between them and never turns") {
    std::mt19937 random(1981);
    for (int round = 0; round < 300; ++round) {
        const readings r = some_readings(random);
        for (std::size_t i = 0; i + 1 < r.x.size(); ++i) {
            const double low = std::min(r.y[i], r.y[i + 1]), high = std::max(r.y[i], r.y[i + 1]);
            const double sign = r.y[i + 1] < r.y[i] ? -1.0 : 1.0;
            double before = r.y[i];
            for (int k = 1; k < 64; ++k) {
                const double y = r.at(r.x[i] + (r.x[i + 1] - r.x[i]) * k / 64.0);
                REQUIRE(low <= y);
                REQUIRE(y <= high);
                // Four terms of up to four times the readings, none above 1.05, each rounded a few times.
                REQUIRE(sign * (y - before) >= -32 * 2.3e-16);
                before = y;
            }
        }
    }
}

TEST_CASE("readings turned upside down or end to end give the turned interpolant") {
    std::mt19937 random(1982);
    for (int round = 0; round < 300; ++round) {
        const readings r = some_readings(random);
        readings upside_down = r, end_to_end = r;
        for (double& y : upside_down.y) y = -y;
        std::reverse(end_to_end.y.begin(), end_to_end.y.end());
        std::reverse(end_to_end.x.begin(), end_to_end.x.end());
        for (double& x : end_to_end.x) x = -x;
        for (int k = 0; k <= 50; ++k) {
            const double x = r.x.front() + (r.x.back() - r.x.front()) * k / 50.0;
            REQUIRE(upside_down.at(x) == -r.at(x));
            // t and 1 - t change places: a last bit of t (some 4e-16 / 0.001 of a gap at worst) times a slope of up to
            // 3 × 1 / 0.001 over the gap.
            REQUIRE(std::abs(end_to_end.at(-x) - r.at(x)) <= 3.0 * 4e-16 / 0.001 + 32 * 2.3e-16);
        }
    }
}

} // namespace monotone_laws
