// Quantiles and means with their intervals: by hand, by published ranks, and how often they hold.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/summary/estimates.hpp>

#include <array>
#include <cmath>
#include <cstdint>
#include <optional>

#include <tranche/study/random/distribution.hpp>
#include <tranche/study/random/random_stream.hpp>

#include "support/catch.hpp"

namespace estimates_test {

using namespace tranche;
using namespace tranche_test;

exact_summary ranks(std::int64_t n) {
    exact_summary summary({"rank"});
    for (std::int64_t i = n; i > 0; --i) summary.add(i);
    return summary;
}

TEST_CASE("the quantile of a share is the value of that rank") {
    const exact_summary s = ranks(100);
    CHECK(estimate_quantile(s, 0.5)->value == 50.0);
    CHECK(estimate_quantile(s, 0.07)->value == 7.0); // 0.07 × 100 is a little more than 7 in binary
    CHECK(estimate_quantile(s, 0.071)->value == 8.0);
    CHECK(estimate_quantile(s, 0.001)->value == 1.0);
    CHECK(estimate_quantile(s, 0.9999)->value == 100.0);
    CHECK_FALSE(estimate_quantile(exact_summary({"x"}), 0.5));
}

TEST_CASE("intervals of the median have the ranks of the tables") {
    // Ranks r and n + 1 - r that hold the median with at least 95 %, for n = 6, 10, 20, 50 and 100: 1, 2, 6, 18, 40 (Dixon and
    // Massey, Introduction to Statistical Analysis, table A-25, from memory; they follow from sums of binomial coefficients:
    // P(B <= r - 1) <= 0.025 with B of n and 1/2).
    struct row {
        std::int64_t n = 0;
        double rank = 0.0;
    };
    for (const row r : {row{6, 1.0}, row{10, 2.0}, row{20, 6.0}, row{50, 18.0}, row{100, 40.0}}) {
        const auto e = estimate_quantile(ranks(r.n), 0.5);
        CHECK(e->low == r.rank);
        CHECK(e->high == static_cast<double>(r.n) + 1.0 - r.rank);
    }
    CHECK_FALSE(estimate_quantile(ranks(5), 0.5)->low); // 2^-5 > 0.025
    // Nothing below the smallest: the 1st percentile of 100 values has no lower bound, the 99th no upper one.
    CHECK_FALSE(estimate_quantile(ranks(100), 0.01)->low);
    // P(B >= 4) = 0.018 <= 0.025 < P(B >= 3) = 0.079 (computed).
    CHECK(estimate_quantile(ranks(100), 0.01)->high == 4.0);
}

TEST_CASE("bins are taken to their outer edges by intervals and to their middle by quantiles") {
    exact_summary s({"weight", 1e-3, 100}); // grams in kilograms, bins of 100 g
    for (std::int64_t i = 0; i < 1000; ++i) s.add(5000 + i);
    const auto e = estimate_quantile(s, 0.5);
    CHECK(e->value == Approx(5.4495)); // rank 500 is 5499 g, in the bin of 5400 to 5499
    CHECK(*e->low == Approx(5.4));     // rank 469: 5468 g
    CHECK(*e->high == Approx(5.599));  // rank 532: 5531 g
    CHECK(estimate_quantile(s, 0.0001)->value == Approx(5.0495));
}

TEST_CASE("the interval of a mean is Student's") {
    const exact_summary s = ranks(10);
    const auto e = estimate_mean(s);
    CHECK(e->mean == 5.5);
    CHECK(e->standard_error == Approx(std::sqrt(55.0 / 6.0 / 10.0)));
    // t of 9 degrees of freedom, 97.5 %: 2.262 (NIST/SEMATECH e-Handbook, section 1.3.6.7.2).
    CHECK(e->half_width() == Approx(2.262 * e->standard_error).epsilon(2e-4));
    CHECK_FALSE(estimate_mean(ranks(1)));
}

// How often the intervals of 1,000 samples hold what they claim to. With a chance of 0.95 the count has a standard deviation of 6.9.
struct coverage {
    int mean = 0;
    std::array<int, 3> quantile{};
};
coverage covered_by(const distribution& d, int size) {
    constexpr std::array<double, 3> shares{0.1, 0.5, 0.9};
    constexpr double unit = 1e-6;
    coverage held;
    for (std::uint64_t repetition = 0; repetition < 1000; ++repetition) {
        exact_summary sample({"x", unit, 1});
        random_stream stream(2026, repetition);
        for (int i = 0; i < size; ++i) sample.add(std::llround(d.quantile(stream.next_uniform()) / unit));
        const auto m = *estimate_mean(sample);
        held.mean += m.interval.low <= d.mean() && d.mean() <= m.interval.high;
        const auto q = estimate_quantiles(sample, {shares.begin(), shares.end()});
        for (std::size_t i = 0; i < 3; ++i)
            held.quantile[i] += *q[i].low <= d.quantile(shares[i]) && d.quantile(shares[i]) <= *q[i].high;
    }
    return held;
}

TEST_CASE("95 % intervals hold the mean and the quantiles in 93 to 97 % and more of 1,000 repetitions") {
    for (const auto& d : {distribution::normal(5.0, 0.4), distribution::uniform(0.0, 1.0),
                          distribution::triangular(4.0, 4.5, 7.0), distribution::lognormal(6.0, 2.0)}) {
        const coverage held = covered_by(d, 200);
        CHECK(held.mean >= 930);
        CHECK(held.mean <= 970);
        // Distribution-free ones hold at least 95 %, in the long run: three standard deviations of the count less.
        for (const int count : held.quantile) CHECK(count >= 930);
    }
}

TEST_CASE("shares and confidences that are none are refused") {
    CHECK_THROWS_WITH(estimate_quantile(ranks(3), 1.0), "share: got 1, expected more than 0 and less than 1");
    CHECK_THROWS_WITH(estimate_quantile(ranks(3), std::nan("")),
                      "share: got nan, expected more than 0 and less than 1");
    CHECK_THROWS_WITH(estimate_quantile(ranks(3), 0.5, 1.0), "confidence: got 1, expected more than 0 and less than 1");
    CHECK_THROWS_WITH(estimate_mean(ranks(3), 0.0), "confidence: got 0, expected more than 0 and less than 1");
}

} // namespace estimates_test
