// Largest remainder against brute force: of all ways to hand out the units, it is one of those nearest to the quotas.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstdint>
#include <limits>
#include <numeric>
#include <random>
#include <vector>

#include <tranche/units/amount.hpp>

namespace amount_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

using counts = std::vector<std::int64_t>;

/// Σ (part × sum - total × weight)², which orders splits as the sum of squared distances from the quotas does.
std::int64_t distance(const counts& parts, const counts& weights, std::int64_t total) {
    const std::int64_t sum = std::accumulate(weights.begin(), weights.end(), std::int64_t{0});
    std::int64_t squares = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const std::int64_t off = parts[i] * sum - total * weights[i];
        squares += off * off;
    }
    return squares;
}

/// The least distance over all splits of `left` among the parts from `next` on.
std::int64_t least_distance(counts& parts, std::size_t next, std::int64_t left, const counts& weights,
                            std::int64_t total) {
    if (next + 1 == parts.size()) {
        parts[next] = left;
        return distance(parts, weights, total);
    }
    std::int64_t least = std::numeric_limits<std::int64_t>::max();
    for (parts[next] = 0; parts[next] <= left; ++parts[next]) {
        const std::int64_t taken = parts[next];
        least = std::min(least, least_distance(parts, next + 1, left - taken, weights, total));
        parts[next] = taken;
    }
    return least;
}

} // namespace

TEST_CASE("no split is nearer to the quotas than the one by largest remainder") {
    std::mt19937 random(60);
    for (int round = 0; round < 300; ++round) {
        counts weights(1 + random() % 4);
        for (auto& w : weights) w = static_cast<std::int64_t>(random() % 9);
        weights.back() += 1;
        const auto total = static_cast<std::int64_t>(random() % 13);
        counts tried(weights.size());
        REQUIRE(distance(detail::split_by_largest_remainder(total, weights), weights, total) ==
                least_distance(tried, 0, total, weights, total));
    }
}

} // namespace amount_oracle
