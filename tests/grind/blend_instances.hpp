// Random blends for the tests, in whole grams and thousandths of fat, so that other solvers get the same numbers exactly.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <random>
#include <string>
#include <vector>

#include <tranche/grind/least_cost_blend.hpp>

namespace tranche_test {

struct small_source {
    std::int64_t fat = 0, price = 0;  // thousandths, cents a kilogram
    std::int64_t least = 0, most = 0; // grams
};

struct small_blend {
    std::vector<small_source> sources;
    std::int64_t batch = 0;                // grams; 0: as much as possible
    std::int64_t leanest = 0, fattest = 0; // thousandths
};

/// A whole number from low to high that is the same on every platform.
inline std::int64_t whole(std::mt19937& random, std::int64_t low, std::int64_t high) {
    return low + static_cast<std::int64_t>(random() % static_cast<std::uint64_t>(high - low + 1));
}

/// Often with equal fats, equal prices, sources on one line of price over fat, least masses, and ranges that bind.
inline small_blend random_blend(std::mt19937& random, int most_sources, bool open) {
    small_blend b;
    const auto n = static_cast<std::size_t>(whole(random, 1, most_sources));
    const std::int64_t fat_step = whole(random, 0, 1) == 0 ? 1 : 100, price_step = whole(random, 0, 1) == 0 ? 1 : 300;
    std::int64_t all = 0;
    for (std::size_t i = 0; i < n; ++i) {
        small_source s;
        s.fat = whole(random, 0, 1000 / fat_step) * fat_step;
        s.price = whole(random, -1, 1200 / price_step) * price_step;
        s.most = whole(random, 0, 4) == 0 ? 0 : whole(random, 1, 900) * 1000;
        if (whole(random, 0, 4) == 0) s.least = whole(random, 0, s.most);
        all += s.most;
        b.sources.push_back(s);
    }
    if (!open) b.batch = std::max<std::int64_t>(100'000, whole(random, all / 8, std::max<std::int64_t>(all, 1)));
    b.leanest = whole(random, 0, 2) == 0 ? 0 : whole(random, 0, 10) * 50;
    b.fattest = whole(random, 0, 2) == 0 ? b.leanest : whole(random, b.leanest, 1000);
    return b;
}

inline std::vector<tranche::grind_source<tranche::usd>> sources_of(const small_blend& b) {
    using namespace tranche;
    std::vector<grind_source<usd>> sources;
    for (const small_source& s : b.sources)
        sources.push_back({"source " + std::to_string(sources.size()),
                           static_cast<double>(s.fat) / 1000.0,
                           unit_price<usd>::from_value(static_cast<double>(s.price) / 100.0),
                           {static_cast<double>(s.least) * gram, static_cast<double>(s.most) * gram}});
    return sources;
}

inline tranche::blend_request request_of(const small_blend& b) {
    tranche::blend_request r;
    if (b.batch > 0) r.batch = static_cast<double>(b.batch) * tranche::gram;
    r.fat = {static_cast<double>(b.leanest) / 1000.0, static_cast<double>(b.fattest) / 1000.0};
    return r;
}

/// How many random instances a test runs: many more with TRANCHE_LONG_TESTS set.
inline std::uint32_t blends(std::uint32_t usual) {
    return std::getenv("TRANCHE_LONG_TESTS") != nullptr ? 50 * usual : usual; // NOLINT(concurrency-mt-unsafe)
}

} // namespace tranche_test
