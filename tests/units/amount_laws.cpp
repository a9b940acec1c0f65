// Laws of rounding and of splitting by largest remainder, over generated totals and weights.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <random>
#include <vector>

#include <tranche/units/amount.hpp>

namespace amount_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

using counts = std::vector<std::int64_t>;

/// Invented weights: of all magnitudes, some of them zero, some of them equal.
counts some_weights(std::mt19937_64& random) {
    counts weights(1 + random() % 12);
    const auto shift = 5 + random() % 58;
    for (auto& w : weights) {
        w = random() % 5 == 0 ? 0 : static_cast<std::int64_t>(random() >> shift) / 16;
        if (random() % 4 == 0) w = weights.front();
    }
    if (std::all_of(weights.begin(), weights.end(), [](std::int64_t w) { return w == 0; })) weights.back() = 1;
    return weights;
}

std::int64_t some_total(std::mt19937_64& random) {
    const auto size = static_cast<std::int64_t>(random() >> (1 + random() % 63));
    return random() % 2 == 0 ? size : -size;
}

} // namespace

TEST_CASE("the parts of a split add up to the total and stay within one of their quotas") {
    __extension__ using wide = __int128;
    std::mt19937_64 random(1790);
    for (int round = 0; round < 20000; ++round) {
        const counts weights = some_weights(random);
        const std::int64_t total = some_total(random);
        const counts parts = detail::split_by_largest_remainder(total, weights);
        REQUIRE(parts.size() == weights.size());
        REQUIRE(std::accumulate(parts.begin(), parts.end(), wide{0}) == total);
        const wide sum = std::accumulate(weights.begin(), weights.end(), wide{0});
        for (std::size_t i = 0; i < parts.size(); ++i) {
            // |part - total × weight / sum| < 1, times the sum, in whole numbers. Products stay below 2^126 as the
            // weights stay below 2^55 each.
            const wide off = wide{parts[i]} * sum - wide{total} * weights[i];
            REQUIRE(-sum < off);
            REQUIRE(off < sum);
            if (weights[i] == 0) REQUIRE(parts[i] == 0);
        }
    }
}

TEST_CASE("a heavier weight never gets the smaller part") {
    std::mt19937_64 random(1791);
    for (int round = 0; round < 5000; ++round) {
        const counts weights = some_weights(random);
        const auto total = static_cast<std::int64_t>(random() >> (1 + random() % 63));
        const counts parts = detail::split_by_largest_remainder(total, weights);
        for (std::size_t i = 0; i < parts.size(); ++i)
            for (std::size_t k = 0; k < parts.size(); ++k) {
                if (weights[i] > weights[k]) REQUIRE(parts[i] >= parts[k]);
                // Of equal weights the earlier one gets as much, and at most one more.
                if (weights[i] == weights[k] && i < k) REQUIRE((parts[i] - parts[k] == 0 || parts[i] - parts[k] == 1));
            }
    }
}

TEST_CASE("a negative total splits into the opposites of the positive one") {
    std::mt19937_64 random(1792);
    for (int round = 0; round < 5000; ++round) {
        const counts weights = some_weights(random);
        const std::int64_t total = some_total(random);
        counts opposite = detail::split_by_largest_remainder(-total, weights);
        for (auto& part : opposite) part = -part;
        REQUIRE(opposite == detail::split_by_largest_remainder(total, weights));
    }
}

TEST_CASE("a rounded amount is within half a minor unit of the money") {
    std::mt19937_64 random(754);
    for (int i = 0; i < 20000; ++i) {
        const auto thousandths = static_cast<std::int64_t>(random() % 2'000'000'001) - 1'000'000'000;
        const auto value = money<usd>::from_value(static_cast<double>(thousandths) / 1000.0);
        for (const rounding how : {rounding::half_even, rounding::half_up}) {
            const std::int64_t cents = rounded<usd>(value, how).minor;
            const std::int64_t off = cents * 10 - thousandths; // exact, in thousandths
            REQUIRE(std::abs(off) <= 5);
            if (std::abs(off) == 5 && how == rounding::half_even) REQUIRE(cents % 2 == 0);
            if (std::abs(off) == 5 && how == rounding::half_up) REQUIRE(std::abs(cents * 10) > std::abs(thousandths));
        }
    }
}

} // namespace amount_laws
