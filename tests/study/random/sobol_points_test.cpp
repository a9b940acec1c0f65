// Nets: their strata, their scrambling, and how fast the error falls.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/random/sobol_points.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <set>
#include <vector>

#include <tranche/study/random/random_stream.hpp>

#include "support/catch.hpp"

namespace sobol_points_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("of the first 2^m points one lies in each interval of 2^-m of each dimension, the origin's among them",
          "[study]") {
    const sobol_points points(12, 5);
    std::array<double, 12> x{};
    for (const std::uint32_t n : {1U, 2U, 16U, 256U, 1024U}) {
        std::vector<std::set<std::uint32_t>> seen(12);
        for (std::uint32_t i = 0; i < n; ++i) {
            points.point(i, x);
            for (std::size_t d = 0; d < 12; ++d) seen[d].insert(static_cast<std::uint32_t>(x[d] * n));
        }
        for (const auto& intervals : seen) CHECK(intervals.size() == n);
    }
}

TEST_CASE("the first two dimensions are a net in base 2 with t = 0") {
    // Each elementary interval of area 2^-8 holds one of 2^8 points (Niederreiter 1992, definition 4.1, from memory).
    const sobol_points points(2, 77);
    std::array<double, 2> x{};
    for (std::uint32_t across = 0; across <= 8; ++across) {
        std::set<std::uint32_t> seen;
        for (std::uint32_t i = 0; i < 256; ++i) {
            points.point(i, x);
            const auto column = static_cast<std::uint32_t>(x[0] * (1U << across));
            const auto row = static_cast<std::uint32_t>(x[1] * (1U << (8 - across)));
            seen.insert(column << (8 - across) | row);
        }
        CHECK(seen.size() == 256);
    }
}

TEST_CASE("without scrambling the points would be those of Boost.Random, the origin before them") {
    // Scrambling keeps which leading bits two points have in common: that is compared, for pairs of points in each dimension.
    constexpr std::size_t dimensions = 5;
    constexpr std::uint32_t n = 64;
    std::vector<std::array<std::uint32_t, dimensions>> plain(n); // by index, which Boost runs through in Gray code
    boost::random::sobol_engine<std::uint32_t, 32> engine(dimensions);
    for (std::uint32_t i = 1; i < n; ++i)
        for (std::size_t d = 0; d < dimensions; ++d) plain[i ^ (i >> 1U)][d] = engine();
    const sobol_points points(dimensions, 3);
    std::array<double, dimensions> x{}, y{};
    const auto bits = [](double u) { return static_cast<std::uint32_t>(u * 0x1p32); };
    for (std::uint32_t i = 0; i < n; ++i)
        for (std::uint32_t j = 0; j < i; ++j) {
            points.point(i, x);
            points.point(j, y);
            for (std::size_t d = 0; d < dimensions; ++d)
                CHECK(std::countl_zero(bits(x[d]) ^ bits(y[d])) == std::countl_zero(plain[i][d] ^ plain[j][d]));
        }
}

TEST_CASE("each scrambled point alone is uniform, over randomisations") {
    const sobol_points points(3, 0);
    std::array<double, 3> x{};
    for (const std::uint32_t index : {0U, 1U, 37U}) {
        std::array<std::array<int, 16>, 3> counts{};
        for (std::uint64_t r = 0; r < 3200; ++r) {
            points.randomised(r).point(index, x);
            for (std::size_t d = 0; d < 3; ++d) ++counts[d][static_cast<std::size_t>(x[d] * 16.0)];
        }
        for (const auto& of_dimension : counts) {
            double chi_squared = 0.0;
            for (const int count : of_dimension) chi_squared += (count - 200.0) * (count - 200.0) / 200.0;
            CHECK(chi_squared <
                  37.7); // 15 degrees of freedom, once in 1000 (NIST/SEMATECH e-Handbook, section 1.3.6.7.4)
        }
    }
}

TEST_CASE("the mean of a coordinate over n scrambled points has the variance of one point in each n-th, 1 / (12 n³)",
          "[study]") {
    // Owen's scrambling leaves each point uniform in its interval and the points of different intervals independent, of one
    // dimension. Chi squared with 400 degrees of freedom has a standard deviation of 7 % of its mean: four of them.
    const sobol_points points(2, 0);
    std::array<double, 2> x{};
    for (const std::uint32_t n : {1U, 8U, 64U}) {
        std::array<double, 2> squares{};
        for (std::uint64_t r = 0; r < 400; ++r) {
            const sobol_points scrambled = points.randomised(r);
            std::array<double, 2> mean{};
            for (std::uint32_t i = 0; i < n; ++i) {
                scrambled.point(i, x);
                for (std::size_t d = 0; d < 2; ++d) mean[d] += (x[d] - 0.5) / n;
            }
            for (std::size_t d = 0; d < 2; ++d) squares[d] += mean[d] * mean[d] / 400.0;
        }
        for (const double variance : squares) CHECK(variance * 12.0 * std::pow(n, 3) == Approx(1.0).epsilon(0.285));
    }
}

TEST_CASE("the error falls as n^-1/2 for random points, and as n^-1 and faster for scrambled nets") {
    // A smooth function of four numbers with a known mean: the product of 1 + (x - 1/2), which is 1.
    const auto value = [](std::span<const double> x) {
        return (0.5 + x[0]) * (0.5 + x[1]) * (0.5 + x[2]) * (0.5 + x[3]);
    };
    constexpr std::uint64_t randomisations = 32;
    const sobol_points points(4, 0);
    const auto deviation = [&](std::uint32_t n, bool net) {
        double squares = 0.0;
        for (std::uint64_t r = 0; r < randomisations; ++r) {
            const sobol_points scrambled = points.randomised(r);
            random_stream stream(1, r);
            std::array<double, 4> x{};
            double mean = 0.0;
            for (std::uint32_t i = 0; i < n; ++i) {
                if (net)
                    scrambled.point(i, x);
                else
                    for (double& u : x) u = stream.next_uniform();
                mean += (value(x) - 1.0) / n;
            }
            squares += mean * mean / randomisations;
        }
        return std::sqrt(squares);
    };
    // From 2^6 to 2^12 points, a factor of 64. Of 32 randomisations each deviation is known to 12.5 %, the ratio to 18 %, the exponent
    // to 0.18 / ln 64 = 0.043: three of them.
    const auto rate = [&](bool net) { return std::log(deviation(64, net) / deviation(4096, net)) / std::log(64.0); };
    const double of_random = rate(false), of_nets = rate(true);
    CHECK(of_random == Approx(0.5).margin(0.13));
    CHECK(of_nets > 1.0);
    CHECK(deviation(4096, true) < 0.1 * deviation(4096, false));
}

TEST_CASE("points come with the same bits everywhere") {
    // Computed with g++ 12 and clang 14, which agree: integers only, so any other must too.
    const sobol_points points(3, 0x123456789ULL);
    std::uint64_t digest = 14695981039346656037ULL; // FNV-1a
    std::array<double, 3> x{};
    for (std::uint32_t i = 0; i < 1000; ++i) {
        points.point(i * 4'000'037U, x);
        for (const double u : x) digest = (digest ^ static_cast<std::uint64_t>(u * 0x1p33)) * 1099511628211ULL;
    }
    CHECK(digest == 13607419503216324525ULL);
}

TEST_CASE("nets of no dimension or too many are refused") {
    CHECK_THROWS_WITH(sobol_points(0, 1), "dimensions: got 0, expected 1 to 3667");
    CHECK_THROWS_WITH(sobol_points(3668, 1), "dimensions: got 3668, expected 1 to 3667");
    std::array<double, 2> x{};
    CHECK_THROWS_WITH(sobol_points(3, 1).point(0, x), "out: got 2 places, expected 3");
    CHECK_NOTHROW(sobol_points(2, 1).point(0xffffffffU, x));
}

TEST_CASE("sobol_points: going through all points gives each once, as asking for it does") {
    const sobol_points net(5, 77);
    std::vector<double> walked(5), asked(5);
    std::vector<bool> seen(256);
    net.each_point(256, walked, [&](std::uint32_t index) {
        REQUIRE(index < 256);
        CHECK_FALSE(seen[index]);
        seen[index] = true;
        net.point(index, asked);
        CHECK(walked == asked);
    });
    CHECK(std::count(seen.begin(), seen.end(), true) == 256);
    CHECK_THROWS_AS(net.each_point(100, walked, [](std::uint32_t) {}), invalid_input);
    CHECK_THROWS_AS(net.each_point(0, walked, [](std::uint32_t) {}), invalid_input);
    walked.pop_back();
    CHECK_THROWS_AS(net.each_point(16, walked, [](std::uint32_t) {}), invalid_input);
}

} // namespace sobol_points_test
